package sheet

import (
	"fmt"

	"plinth/hazard"
	"plinth/pipeline/assess"
	"plinth/retrofit"
	"plinth/retrofit/demand"
)

// method returns the place in the manual where a formula of demand stands with its sources.
func method(section string) string { return "docs/methods/demand.md#" + section }

// standing returns the calculation of the building as it stands at the design return period, with
// the target displacement of ASCE 41-17 for comparison.
func (m *maker) standing() []Section {
	var w demand.Work
	var out demand.Response
	w.AsIs(&m.a.Stick, &m.a.Site.Spectra[m.design], &out)
	title := fmt.Sprintf("As it stands, return period %s yr", figure(m.study.Plan().Hazard.Design))
	sections := m.spectral(title, &w.Trace, &out)
	sections[0].Lines = append(sections[0].Lines, m.codeTarget())
	return sections
}

// codeTarget returns the roof displacement of the standard's coefficient method.
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
		Inputs: fmt.Sprintf("C0 %s, C1 %s, C2 %s, Sa %s g, Te %s s, strength ratio %s, Cm 1", figure(t.C0),
			figure(r.C1), figure(r.C2), figure(t.Sa), figure(t.Period), figure(r.Ratio)),
	}
}

// spectral returns the steps of the spectral method from its trace: modes and roof, then storeys
// and floors.
func (m *maker) spectral(title string, t *demand.Trace, out *demand.Response) []Section {
	s := Section{Title: title}
	m.frame(&s, t)
	for j := range t.Count {
		md := &t.Modes[j]
		s.line(fmt.Sprintf("Mode %d: spectral acceleration Sa(T, b)", j+1), md.Sa, "m/s2",
			"Sa/B for T >= TB, PGA + (Sa - PGA)/B - PGA (1 - 1/B) T/TB below; B = 4/(5.6 - ln 100 b)",
			"ASCE 41-17 2.4.1.7, EN 1998-1 3.2.2.2; "+method("reading-the-spectrum"),
			fmt.Sprintf("T %s s, G %s, damping b %s%s, of it from viscous dampers %s; Sd %s m", figure(md.Period),
				figure(md.Gamma), figure(md.Damping), m.worth(md.Damping, md.Period), figure(md.Viscous),
				figure(md.Sd)))
	}
	roof := method("strength-ratio-and-roof-displacement")
	s.line("Yield fraction s", t.YieldFraction, "", "s = min(1, min(V/(k d))), d = |G1 dphi1| Sd1", roof, "")
	s.line("Strength ratio mu", t.StrengthRatio, "", "mu = 1/s", roof, "")
	s.line("Displacement ratio C", t.C, "", "C = C1 C2 CL, 1 for mu <= 1",
		roof+", after ASCE 41-17 7.4.3.3; constants fitted to time histories",
		fmt.Sprintf("C1 %s, C2 %s, CL %s", figure(t.C1), figure(t.C2), figure(t.CL)))
	s.line("Roof displacement u", t.Roof, "m", "u = C G1 Sd1", roof, "")
	m.passes(&s, t)
	m.status(&s, out)
	return []Section{s, m.storeys(title, t, out)}
}

// frame adds the storeys that demand is computed on, if a measure has changed those of the stick.
func (m *maker) frame(s *Section, t *demand.Trace) {
	if t.Stiffness[0] == m.a.Stick.Stiffness[0] && t.Strength[0] == m.a.Stick.Strength[0] {
		return
	}
	tb := s.table("storey", "k kN/m", "V kN", "kr kN/m", "mode 1")
	for i := range t.Stiffness {
		tb.row(fmt.Sprint(i+1), cell(t.Stiffness[i]/1e3), cell(t.Strength[i]/1e3), cell(t.PostYield[i]/1e3),
			cell(t.Modes[0].Shape[i]))
	}
}

// passes adds the steps of the iteration on the amplitude, if there was one.
func (m *maker) passes(s *Section, t *demand.Trace) {
	for i := range t.PassCount {
		p := &t.Passes[i]
		section, formula := "viscous-dampers", "bV = min(4, 1.11 bV0 (u/u0)^(alpha - 1))"
		inputs := fmt.Sprintf("amplitude in %s m, C %s, roof out %s m", figure(p.Amplitude), figure(p.C),
			figure(p.Roof))
		if p.Stored > 0 { // devices that yield
			section, formula = "yielding-devices", "b_h = 0.9 ED/(4 pi ES) x s of the pass before"
			inputs = fmt.Sprintf("ED %s kJ, ES %s kJ, s out %s, C %s, roof out %s m", figure(p.Dissipated/1e3),
				figure(p.Stored/1e3), figure(p.YieldFraction), figure(p.C), figure(p.Roof))
		}
		s.line(fmt.Sprintf("Pass %d of the iteration: damping added", i+1), p.Added, "", formula, method(section),
			inputs)
	}
}

// storeys returns the drifts, the floor accelerations and the shear at the foot.
func (m *maker) storeys(title string, t *demand.Trace, out *demand.Response) Section {
	s := Section{Title: title + ": storeys and floors"}
	tb := s.table("storey", "d mm", "e mm", "a mm", "drift mm", "drift %", "floor g", "R")
	mm := func(v []float64, i int) string {
		if i >= len(v) {
			return ""
		}
		return cell(1000 * v[i])
	}
	for i := range out.Drift {
		tb.row(fmt.Sprint(i+1), mm(t.First, i), mm(t.Higher, i), mm(t.Yielded, i), mm(out.Drift, i),
			cell(100*out.Drift[i]/m.a.Stick.Height[i]), cell(out.Accel[i]/hazard.Gravity), cell(t.Rest[i]))
	}
	s.note("d first-mode drift, e higher modes, a the first mode with its plastic drift, R the modes beyond " +
		"the third together. Drift is sqrt(a2 + e2); drifts do not add up to the roof displacement, since they " +
		"are medians of largest values (" + method("storey-drift") + ").")
	s.line("Largest storey drift ratio", 100*out.DriftRatio, "%", "largest of drift over storey height",
		method("storey-drift"),
		fmt.Sprintf("b_r %s, gg %s, fall with height %s", figure(t.DriftDamping), figure(t.Evenness),
			figure(t.Fall)))
	floors := method("floor-acceleration-and-base-shear")
	s.line("Reduction q of first-mode force", t.FirstFactor, "",
		"q = min(1, s (1 + r (C mu - 1)) + 0.27 (1 - s)), 1 for mu <= 1",
		floors+", after Rodriguez, Restrepo and Carr 2002",
		fmt.Sprintf("h %s, modes left out: rigid ordinate Sm %s m/s2, above it Sr %s m/s2", figure(t.HigherFactor),
			figure(t.MissingMass), figure(t.RestSa)))
	s.line("Largest floor acceleration", out.PeakAccel/hazard.Gravity, "g",
		"a2 = A2 (q2 + 2 ra q f) + sum (G phi Sa h)2 (1 + 2.3 bD2) + ((1 - sum G phi) Sm)2 + (R Sr)2, A = G1 phi1 "+
			"Sa1; the roof no more than its storey can push", floors,
		fmt.Sprintf("ground floor %s g, f %s, ra %s", figure(out.BaseAccel/hazard.Gravity), figure(t.DamperForce),
			figure(t.PhaseAccel)))
	s.line("Base shear V", out.BaseShear/1e3, "kN",
		"V = sqrt(Vf2 + Vd2 + 2 rv Vf Vd), Vf = min(sqrt((k1 d1 q)2 + (k1 e1)2), V1 (1 + (kr1/k1) max(0, k1 "+
			"drift1/V1 - 1)))", floors,
		fmt.Sprintf("frame Vf %s kN, dampers Vd %s kN, rv %s", figure(t.FrameShear/1e3), figure(t.DamperShear/1e3),
			figure(t.PhaseShear)))
	return s
}

func (m *maker) status(s *Section, out *demand.Response) {
	for _, w := range out.Status.Words() {
		s.note(w)
	}
}

// with returns the demand with a measure at the design return period. The measure is evaluated for
// that level alone, so that the trace is that of the level.
func (m *maker) with(o *assess.Option) []Section {
	var w retrofit.Work
	var again retrofit.Outcome
	site := hazard.Site{Class: m.a.Site.Class, Status: m.a.Site.Status,
		ReturnPeriod: m.a.Site.ReturnPeriod[m.design : m.design+1],
		Spectra:      m.a.Site.Spectra[m.design : m.design+1]}
	c := m.a.Case
	c.Site, c.Design, c.AsIs = &site, 0, m.a.AsIs[m.design:m.design+1]
	o.Measure.Evaluate(&w, &c, &again)
	out, t := &o.Levels[m.design], &w.Demand.Trace
	title := fmt.Sprintf("Demand with %s, return period %s yr", o.Measure.Slug(),
		figure(m.study.Plan().Hazard.Design))
	if out.Displacement > 0 {
		return []Section{m.isolated(title, t, out)}
	}
	return m.spectral(title, t, out)
}
