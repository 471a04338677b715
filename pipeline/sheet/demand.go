package sheet

import (
	"fmt"

	"plinth/hazard"
	"plinth/pipeline"
	"plinth/retrofit"
	"plinth/retrofit/demand"
)

// method is where the formulas of demand stand with their sources.
const method = "docs/methods/demand.md"

// standing returns the calculation of the building as it stands at the design
// return period, and beside it the target displacement of ASCE 41-17.
func (m *maker) standing() []Section {
	var w demand.Work
	var out demand.Response
	w.AsIs(&m.a.Stick, &m.a.Site.Spectra[m.design], &out)
	title := fmt.Sprintf("As it stands, return period %s yr", figure(m.run.Plan().Hazard.Design))
	sections := m.spectral(title, &w.Trace, &out)
	sections[0].Lines = append(sections[0].Lines, m.codeTarget())
	return sections
}

// codeTarget is the roof displacement of the standard's coefficient method.
func (m *maker) codeTarget() Line {
	a := &m.a.Archetype
	t := demand.Target{
		Sa: m.a.Site.Spectra[m.design].Sa(a.Period), Period: a.Period, Strength: a.StrengthRatio,
		C0: demand.RoofFactor(a.Storeys, true), Cm: 1, A: demand.SiteFactor(m.a.Case.Facts.SiteClass),
	}
	r := t.Displacement(hazard.Gravity)
	return Line{
		Name: "For comparison, target displacement of the roof by the standard", Value: r.Displacement, Unit: "m",
		Formula: "dt = C0 C1 C2 Sa g Te2/(4 pi2)", Source: "ASCE 41-17 7.4.3.3, equation 7-28", Origin: "computed",
		Inputs: fmt.Sprintf("C0 %s, C1 %s, C2 %s, Sa %s g, Te %s s, strength ratio %s, Cm 1", figure(t.C0), figure(r.C1), figure(r.C2), figure(t.Sa), figure(t.Period), figure(r.Ratio)),
	}
}

// spectral returns the steps of the spectral method from its trace.
func (m *maker) spectral(title string, t *demand.Trace, out *demand.Response) []Section {
	s := Section{Title: title}
	for j := range t.Count {
		md := &t.Modes[j]
		s.line(fmt.Sprintf("Mode %d: spectral acceleration Sa(T, b)", j+1), md.Sa, "m/s2", "Sa/B for T >= TB, PGA + (Sa - PGA)/B below; B = 4/(5.6 - ln 100 b)", "ASCE 41-17 2.4.1.7",
			fmt.Sprintf("T %s s, G %s, damping b %s; Sd %s m", figure(md.Period), figure(md.Gamma), figure(md.Damping), figure(md.Sd)))
	}
	s.line("Yield fraction s", t.YieldFraction, "", "s = min(1, min(V/(k d))), d = |G1 dphi1| Sd1", method+" 3.2", "")
	s.line("Strength ratio mu", t.StrengthRatio, "", "mu = 1/s", method+" 3.2", "")
	s.line("Displacement ratio C", t.C, "", "C = C1 C2 CL, 1 for mu <= 1", method+" 3.3, after ASCE 41-17 7.4.3.3; constants fitted to time histories",
		fmt.Sprintf("C1 %s, C2 %s, CL %s", figure(t.C1), figure(t.C2), figure(t.CL)))
	s.line("Roof displacement u", t.Roof, "m", "u = C G1 Sd1", method+" 3.3", "")
	for i := range t.PassCount {
		p := &t.Passes[i]
		s.line(fmt.Sprintf("Pass %d of the iteration: damping added", i+1), p.Added, "", "", method+" 3.7, 3.8",
			fmt.Sprintf("amplitude in %s m, C %s, roof out %s m", figure(p.Amplitude), figure(p.C), figure(p.Roof)))
	}
	s.line("Reduction q of first-mode force", t.FirstFactor, "", "q = min(1, s o (1 + r (C mu - 1))), 1 for mu <= 1", method+" 3.5, after Rodriguez, Restrepo and Carr 2002",
		fmt.Sprintf("o %s, h %s, missing-mass ordinate %s m/s2", figure(t.Overshoot), figure(t.HigherFactor), figure(t.MissingMass)))
	s.line("Base shear V", out.BaseShear/1e3, "kN", "V = sqrt(Vf2 + Vd2 + 2 rv Vf Vd)", method+" 3.5", fmt.Sprintf("frame Vf %s kN, dampers Vd %s kN", figure(t.FrameShear/1e3), figure(t.DamperShear/1e3)))
	m.status(&s, out)
	return []Section{s, m.storeys(title, t, out)}
}

// storeys is the table of drifts and floors.
func (m *maker) storeys(title string, t *demand.Trace, out *demand.Response) Section {
	s := Section{Title: title + ": storeys and floors"}
	s.Table = &Table{Columns: []string{"storey", "d mm", "dh mm", "A mm", "B mm", "drift mm", "drift %", "floor g"}}
	mm := func(v []float64, i int) string {
		if i >= len(v) {
			return ""
		}
		return cell(1000 * v[i])
	}
	for i := range out.Drift {
		a, b := mm(t.ProfileA, i), mm(t.ProfileB, i)
		if t.StrengthRatio <= 1 {
			a, b = "", ""
		}
		s.Table.Rows = append(s.Table.Rows, []string{fmt.Sprint(i + 1), mm(t.First, i), mm(t.Higher, i), a, b, mm(out.Drift, i),
			cell(100 * out.Drift[i] / m.a.Stick.Height[i]), cell(out.Accel[i] / hazard.Gravity)})
	}
	s.note("d first-mode drift, dh higher modes, A and B the two profiles of plastic drift. Drift is sqrt((A/2 + B/2)2 + dh2), or sqrt(d2 + dh2) while the frame is elastic; drifts do not add up to the roof displacement, since they are medians of largest values (" + method + " 3.4).")
	s.line("Largest storey drift ratio", 100*out.DriftRatio, "%", "", "", "")
	s.line("Largest floor acceleration", out.PeakAccel/hazard.Gravity, "g", "a2 = A2 (q2 + f2 + 2 ra q f) + higher modes + missing mass", method+" 3.5", fmt.Sprintf("ground floor %s g", figure(out.BaseAccel/hazard.Gravity)))
	return s
}

func (m *maker) status(s *Section, out *demand.Response) {
	for _, w := range out.Status.Words() {
		s.note(w)
	}
}

// with returns the demand with a measure at the design return period. The
// measure is evaluated on a case of that one level, so that the trace is its own.
func (m *maker) with(o *pipeline.Option) Section {
	var w retrofit.Work
	var again retrofit.Outcome
	site := hazard.Site{Class: m.a.Site.Class, Status: m.a.Site.Status, ReturnPeriod: m.a.Site.ReturnPeriod[m.design : m.design+1], Spectra: m.a.Site.Spectra[m.design : m.design+1]}
	c := m.a.Case
	c.Site, c.Design, c.AsIs = &site, 0, m.a.AsIs[m.design:m.design+1]
	o.Measure.Evaluate(&w, &c, &again)
	out, t := &o.Levels[m.design], &w.Demand.Trace
	title := fmt.Sprintf("Demand with %s, return period %s yr", o.Measure.Slug(), figure(m.run.Plan().Hazard.Design))
	if out.Displacement > 0 {
		return m.isolated(title, &t.Isolated, out)
	}
	sections := m.spectral(title, t, out)
	steps, storeys := sections[0], sections[1]
	steps.Table, steps.Notes = storeys.Table, append(steps.Notes, storeys.Notes...)
	steps.Lines = append(steps.Lines, storeys.Lines...)
	return steps
}

// A bound is the equilibrium of the isolators at one bound of their properties.
type bound struct {
	name string
	e    *demand.Equilibrium
}

// isolated returns the steps of the isolation method.
func (m *maker) isolated(title string, t *demand.IsolatedTrace, out *demand.Response) Section {
	s := Section{Title: title}
	sys := &t.System
	bounds := []bound{{"upper bound", &t.Equilibrium}, {"lower bound", &t.Lower}}
	if t.Lower == t.Equilibrium {
		bounds = []bound{{"nominal properties", &t.Equilibrium}}
	} else {
		s.note("Forces, drifts and accelerations hold for the upper bound of the isolators' properties, the displacement for the lower (ASCE 7-16 17.2.8.4).")
	}
	s.line("Characteristic strength Qd, "+bounds[0].name, sys.Qd/1e3, "kN", "", "", "")
	s.line("Stiffness past yield K2, "+bounds[0].name, sys.Kd/1e3, "kN/m", "T2 = 2 pi sqrt(M/K2)", "Naeim and Kelly 1999, from memory", fmt.Sprintf("M %s t, T2 %s s", figure(t.Mass/1e3), figure(sys.SlidingPeriod())))
	for _, b := range bounds {
		s.line("Displacement D, "+b.name, b.e.Displacement, "m", "D = Sd(Te)/B(b), Te = 2 pi sqrt(M/Ke), Ke = K2 + Qd/D, b = 4 Qd (D - Dy)/(2 pi Ke D2)", "ASCE 7-16 17.5.3 and Table 17.5-1",
			fmt.Sprintf("Te %s s, b %s", figure(b.e.Period), figure(b.e.Damping)))
	}
	s.line("Shear through the isolators Vb", t.Shear/1e3, "kN", "Vb = Ke D", "ASCE 7-16 17.5.4.1", "")
	s.line("Shear above the base slab Vst", t.FrameShear/1e3, "kN", "Vst = Vb (Ws/W)^(1 - 2.5 b)", "ASCE 7-16 17.5-7", "")
	s.line("Exponent k of the distribution of force", t.Exponent, "", "F ~ w h^k, k = 14 b Tf", "ASCE 7-16 17.5.6", "")
	s.line("Demand over strength of the frame", t.DCR, "", "largest storey shear over storey strength", "", fmt.Sprintf("storey %d", t.Worst+1))
	s.Table = &Table{Columns: []string{"storey", "shear kN", "drift mm", "drift %", "floor g"}}
	for i := range out.Drift {
		s.Table.Rows = append(s.Table.Rows, []string{fmt.Sprint(i + 1), cell(t.StoreyShear[i] / 1e3), cell(1000 * out.Drift[i]),
			cell(100 * out.Drift[i] / m.a.Stick.Height[i]), cell(out.Accel[i] / hazard.Gravity)})
	}
	s.line("Largest floor acceleration", out.PeakAccel/hazard.Gravity, "g", "a_i = min(a_fixed, sqrt(a_1i2 + sum 2 (A_j cos(j pi i/N))2))", method+" 3.10; constants fitted to time histories",
		fmt.Sprintf("base slab %s g, (Tf/Te)2 %s, A_j %s m/s2, a_fixed %s m/s2", figure(out.BaseAccel/hazard.Gravity), figure(t.Separation), figures(t.Kick[:]), figure(t.Cap)))
	s.note("Isolators leave vertical shaking as it is. The rules above look at the bounds of isolator properties.")
	m.status(&s, out)
	return s
}
