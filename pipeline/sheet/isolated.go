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
	if t.Equilibrium.Status&demand.Stuck != 0 {
		s.note("The sliders do not move at this level: every demand is that of the building as it stands.")
		m.status(&s, out)
		return s
	}
	s.line("Shear through the isolators Vb", t.Shear/1e3, "kN", "Vb = Ke D", "ASCE 7-16 17.5.4.1", "")
	above := 0.0
	for _, mass := range whole.Mass {
		above += mass
	}
	s.line("Shear above the base slab, lowest mode Vst", t.FrameShear/1e3, "kN",
		"sum m a_1, a_1i = Vb F_i/sum m F, F_0 = 1 - eps, F_i = 1 - eps + eps G1 phi_i1", method("isolation"),
		fmt.Sprintf("slab mass %s t, eps = (Tf/Te)2 %s, Tf %s s, G1 %s", figure((t.Mass-above)/1e3),
			figure(t.Equilibrium.Separation), figure(whole.Modes[0].Period), figure(whole.Modes[0].Gamma)))
	s.line("Stiffness Kc that holds the free modes", t.Stiff/1e3, "kN/m",
		"Kc = K2 + (K1 - K2) acos(1 - 2 Dy/D)/pi", method("isolation"), "Dy "+figure(t.Play)+" m")
	free := s.table("free mode", "T s", "mass t", "damping", "shaking m/s2", "reversals m/s2", "together m/s2")
	for j := range whole.Count {
		f := &t.Free[j]
		free.row(fmt.Sprint(j+1), cell(f.Period), cell(f.Mass/1e3), cell(f.Damping), cell(f.Elastic), cell(f.Kick),
			cell(f.Accel))
	}
	s.line("Demand over strength of the frame", t.DCR, "", "largest storey shear over storey strength V",
		method("isolation"), fmt.Sprintf("storey %d", t.Worst+1))
	tb := s.table("storey", "k kN/m", "V kN", "shear kN", "drift mm", "drift %", "floor g")
	for i := range out.Drift {
		tb.row(fmt.Sprint(i+1), cell(whole.Stiffness[i]/1e3), cell(whole.Strength[i]/1e3),
			cell(t.StoreyShear[i]/1e3), cell(1000*out.Drift[i]),
			cell(100*out.Drift[i]/m.a.Stick.Height[i]), cell(out.Accel[i]/hazard.Gravity))
	}
	s.note("Drift is shear over k, but where a storey yields (" + method("isolation") + "), and a storey that " +
		"yields passes on 1.25 times its strength.")
	s.line("Largest floor acceleration", out.PeakAccel/hazard.Gravity, "g",
		"a_i2 = a_1i2 + sum over free modes (A_j psi_ij)2", method("isolation"),
		fmt.Sprintf("base slab %s g", figure(out.BaseAccel/hazard.Gravity)))
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
		"yield strength over weight x weight", method("isolation"), fmt.Sprintf("Dy %s m", figure(t.Play)))
	s.line("Stiffness past yield K2, "+bounds[0].name, sys.Kd/1e3, "kN/m", "T2 = 2 pi sqrt(M/K2)",
		"Naeim and Kelly 1999, from memory",
		fmt.Sprintf("M %s t, T2 %s s", figure(t.Mass/1e3), figure(sys.SlidingPeriod())))
	if sys.C > 0 {
		s.line("Constant C of the dampers beside the isolators", sys.C/1e3, "kN s/m", "C = 2 b sqrt(M K2)",
			method("isolation"), "")
	}
	for _, b := range bounds {
		s.line("Displacement D, "+b.name, b.e.Displacement, "m",
			"D = s Sd(Te)/B(b), Ke = K2 + Qd/D, b = s 4 Qd (D - Dy)/(2 pi Ke D2) + 0.05 sqrt(eps) (1 - s)",
			"ASCE 7-16 17.5.3 and Table 17.5-1",
			fmt.Sprintf("Te %s s, Ke %s kN/m, b %s%s, B %s, s %s", figure(b.e.Period), figure(b.e.Stiffness/1e3),
				figure(b.e.Damping), m.worth(b.e.Damping, b.e.Period), figure(b.e.Reduction), figure(b.e.Share)))
	}
}
