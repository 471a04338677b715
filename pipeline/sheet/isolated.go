package sheet

import (
	"fmt"

	"plinth/hazard"
	"plinth/retrofit/demand"
)

// A bound is the equilibrium of the isolators at one bound of their properties.
type bound struct {
	name string
	e    *demand.Equilibrium
}

// isolated returns the steps of the isolation method.
func (m *maker) isolated(title string, whole *demand.Trace, out *demand.Response) Section {
	s := Section{Title: title}
	t := &whole.Isolated
	m.balance(&s, t)
	s.line("Shear through the isolators Vb", t.Shear/1e3, "kN", "Vb = Ke D", "ASCE 7-16 17.5.4.1", "")
	above := 0.0
	for _, mass := range whole.Mass {
		above += mass
	}
	s.line("Shear above the base slab Vst", t.FrameShear/1e3, "kN",
		"Vst = Vb (Ws/W)^(1 - 2.5 b); lead-rubber 0.97 for 2.5",
		"ASCE 7-16 17.5-7; lead-rubber fitted to time histories", "Ws/W "+figure(above/t.Mass))
	s.line("Exponent k of the distribution of force", t.Exponent, "", "F ~ w h^k, k = 14 b Tf",
		"ASCE 7-16 17.5.6", fmt.Sprintf("Tf %s s", figure(whole.Modes[0].Period)))
	s.line("Demand over strength of the frame", t.DCR, "", "largest storey shear over storey strength V",
		method("isolation"), fmt.Sprintf("storey %d", t.Worst+1))
	tb := s.table("storey", "k kN/m", "V kN", "shear kN", "drift mm", "drift %", "floor g")
	for i := range out.Drift {
		tb.row(fmt.Sprint(i+1), cell(whole.Stiffness[i]/1e3), cell(whole.Strength[i]/1e3),
			cell(t.StoreyShear[i]/1e3), cell(1000*out.Drift[i]),
			cell(100*out.Drift[i]/m.a.Stick.Height[i]), cell(out.Accel[i]/hazard.Gravity))
	}
	s.note("Drift is shear over k, but of the worst storey where it yields (" + method("isolation") + ").")
	s.line("Acceleration A_1 of the first free-free mode", t.Kick[0], "m/s2",
		"A_j2 = (c (2 Qd/M)(1 - Dy/D)(Vb/2Qd)^p)2/(1 + (0.5 pi tr/Tj)2) + 0.5 (cE eps/(2 j2) Sa(Tj)/0.8)2, Tj = "+
			"Tf/(2 j), tr = 2 sqrt(Dy M/Vb)", method("isolation")+"; constants fitted to time histories",
		"A_j "+figures(t.Kick[:])+" m/s2")
	s.line("Largest floor acceleration", out.PeakAccel/hazard.Gravity, "g",
		"a_i = min(a_fixed, sqrt(a_1i2 + sum 2 (A_j cos(j pi i/N))2)), a_1i = Vb F_i/sum m F, F_0 = 1, F_i = 1 + "+
			"eps G1 phi_i1", method("isolation"),
		fmt.Sprintf("base slab %s g, slab mass %s t, eps = (Tf/Te)2 %s, G1 %s, a_fixed %s m/s2",
			figure(out.BaseAccel/hazard.Gravity), figure((t.Mass-above)/1e3), figure(t.Separation),
			figure(whole.Modes[0].Gamma), figure(t.Cap)))
	s.note("Isolators leave vertical shaking as it is. The rules above look at the bounds of isolator " +
		"properties.")
	m.status(&s, out)
	return s
}

// balance adds the properties of the isolators and their equilibrium.
func (m *maker) balance(s *Section, t *demand.IsolatedTrace) {
	sys := &t.System
	bounds := []bound{{"upper bound", &t.Equilibrium}, {"lower bound", &t.Lower}}
	if t.Lower == t.Equilibrium {
		bounds = []bound{{"nominal properties", &t.Equilibrium}}
	} else {
		s.note("Forces, drifts and accelerations hold for the upper bound of the isolators' properties, the " +
			"displacement for the lower (ASCE 7-16 17.2.8.4).")
	}
	s.line("Characteristic strength Qd, "+bounds[0].name, sys.Qd/1e3, "kN",
		"yield strength over weight x weight", method("isolation"), fmt.Sprintf("Dy %s m", figure(sys.Dy)))
	s.line("Stiffness past yield K2, "+bounds[0].name, sys.Kd/1e3, "kN/m", "T2 = 2 pi sqrt(M/K2)",
		"Naeim and Kelly 1999, from memory",
		fmt.Sprintf("M %s t, T2 %s s", figure(t.Mass/1e3), figure(sys.SlidingPeriod())))
	if sys.C > 0 {
		s.line("Constant C of the dampers beside the isolators", sys.C/1e3, "kN s/m", "C = 2 b sqrt(M K2)",
			method("isolation"), "")
	}
	for _, b := range bounds {
		s.line("Displacement D, "+b.name, b.e.Displacement, "m",
			"D = Sd(Te)/B(b), Te = 2 pi sqrt(M/Ke), Ke = K2 + Qd/D, b = 4 Qd (D - Dy)/(2 pi Ke D2)",
			"ASCE 7-16 17.5.3 and Table 17.5-1",
			fmt.Sprintf("Te %s s, Ke %s kN/m, b %s%s, B %s", figure(b.e.Period), figure(b.e.Stiffness/1e3),
				figure(b.e.Damping), m.worth(b.e.Damping, b.e.Period), figure(b.e.Reduction)))
	}
}
