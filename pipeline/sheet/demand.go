package sheet

import (
	"fmt"
	"math"

	"plinth/hazard"
	"plinth/pipeline/assess"
	"plinth/pipeline/output"
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
	t := demand.TargetOf(a, m.a.Site.Spectra[m.design].Sa(a.Period), m.a.Case.Facts.SiteClass)
	r := t.Displacement(hazard.Gravity)
	return Line{
		Name: "For comparison, target displacement of the roof by the standard", Value: r.Displacement, Unit: "m",
		Formula: "dt = C0 C1 C2 Sa g Te2/(4 pi2)", Source: "ASCE 41-17 7.4.3.3, equation 7-28", Origin: "computed",
		Inputs: fmt.Sprintf("C0 %s, C1 %s, C2 %s, Sa %s g, Te %s s, strength ratio %s, Cm %s", figure(t.C0),
			figure(r.C1), figure(r.C2), figure(t.Sa), figure(t.Period), figure(r.Ratio), figure(t.Cm)),
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
	s.line("Displacement ratio C", t.C, "", "C = C1 C2, 1 for mu <= 1",
		roof+", after Chopra and Chintanapakdee 2004 and ASCE 41-17 7.4.3.3; constants fitted to time histories",
		fmt.Sprintf("C1 %s, C2 %s", figure(t.C1), figure(t.C2)))
	s.line("Stability coefficient th", t.Sway, "", "th = sum P/h d2/sum k d2", roof, "")
	m.stands(&s, t)
	s.line("Roof displacement u", t.Roof, "m", "u = C G1 Sd1", roof, "")
	m.passes(&s, t)
	m.status(&s, out)
	return []Section{s, m.storeys(title, t, out)}
}

// stands adds the strength ratio at which the weight brings the frame down.
func (m *maker) stands(s *Section, t *demand.Trace) {
	name, formula := "Largest strength ratio mu_max", "mu_max = D + th^-(1 + 0.15 ln T1)/4"
	source := "ASCE 41-17 7.4.3.3, equation 7-32"
	if math.IsInf(t.Most, 1) {
		s.fact(name, "no limit: the frame hardens by more than the weight takes away", formula, source, "")
		return
	}
	s.line(name, t.Most, "", formula, source, "")
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

// passes adds the steps of the search for the amplitude, if there was one.
func (m *maker) passes(s *Section, t *demand.Trace) {
	for i := range t.PassCount {
		p := &t.Passes[i]
		section := "viscous-dampers"
		formula := "bV = w sum c a2/(2 sum k a2), c = lambda/pi C (w a/sqrt(muD))^(alpha - 1)"
		inputs := fmt.Sprintf("T %s s, s %s, C %s, roof %s m", figure(p.Period), figure(p.YieldFraction),
			figure(p.C), figure(p.Roof))
		if p.FrameShare > 0 { // devices that yield
			section = "yielding-devices"
			formula = "b = 2/(pi a) ((1 + kappa) ln((a + kappa)/(1 + kappa)) - ln a), energy mean"
			inputs += fmt.Sprintf("; at amplitude %s m, share of the frame %s", figure(p.Amplitude),
				figure(p.FrameShare))
		}
		s.line(fmt.Sprintf("Step %d of the search: damping added", i+1), p.Added, "", formula, method(section),
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
		drift, ratio := mm(out.Drift, i), m.drift(out, i)
		if ratio == output.Collapsed {
			drift = output.Collapsed
		}
		tb.row(fmt.Sprint(i+1), mm(t.First, i), mm(t.Higher, i), mm(t.Yielded, i), drift, ratio,
			cell(out.Accel[i]/hazard.Gravity), cell(t.Rest[i]))
	}
	s.note("d first-mode drift, e higher modes, a the first mode with its plastic drift, R the modes beyond " +
		"the third together. Drift is sqrt(a2 + e2); drifts do not add up to the roof displacement, since they " +
		"are medians of largest values (" + method("storey-drift") + ").")
	inputs := fmt.Sprintf("alpha f %s, gg %s, fall with height %s, storey m %d", figure(t.DamperSlope),
		figure(t.Evenness), figure(t.Fall), t.Anchor+1)
	if name := "Largest storey drift ratio"; out.Status&demand.CollapseCounted != 0 {
		s.fact(name, output.Collapsed, "beyond "+figure(100*demand.CollapseRatio(&m.a.Stick))+" % or mu_max",
			method("storey-drift"), inputs)
	} else {
		s.line(name, 100*out.DriftRatio, "%", "largest of drift over storey height", method("storey-drift"), inputs)
	}
	floors := method("floor-acceleration-and-base-shear")
	s.line("Reduction q of first-mode force", t.FirstFactor, "",
		"q = min(1, s (1 + min(r (C mu - 1), h - 1)) + 0.27 (1 - s)), 1 for mu <= 1",
		floors+", after Rodriguez, Restrepo and Carr 2002",
		fmt.Sprintf("h %s, modes left out: rigid ordinate Sm %s m/s2, above it Sr %s m/s2", figure(t.HigherFactor),
			figure(t.MissingMass), figure(t.RestSa)))
	s.line("Largest floor acceleration", out.PeakAccel/hazard.Gravity, "g",
		"a2 = A2 (q2 + 2 ra q f) + sum (G phi Sa h)2 (1 + 1.9 bD2) + ((1 - sum G phi) Sm)2 + (R Sr)2, A = G1 phi1 "+
			"Sa1; the roof no more than its storey can push", floors,
		fmt.Sprintf("ground floor %s g, f %s, ra %s", figure(out.BaseAccel/hazard.Gravity), figure(t.DamperForce),
			figure(t.PhaseAccel)))
	s.line("Base shear V", out.BaseShear/1e3, "kN",
		"V = sqrt(Vf2 + Vd2 + 2 rv Vf Vd), Vf = min(sqrt((k1 d1 q)2 + (k1 e1)2), V1 (1 + min(f x, h - 1) "+
			"+ (kr1/k1 - f) x)), x = max(0, k1 drift1/V1 - 1), f = min(r, kr1/k1)", floors,
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
// that level alone, so that the trace is that of the level; isolators, which are sized at another
// level, for all, and the demand of that level once more.
func (m *maker) with(o *assess.Option) []Section {
	var w retrofit.Work
	var again retrofit.Outcome
	title := fmt.Sprintf("Demand with %s, return period %s yr", o.Measure.Slug(),
		figure(m.study.Plan().Hazard.Design))
	out, t := &o.Levels[m.design], &w.Demand.Trace
	if out.Displacement > 0 {
		o.Measure.Evaluate(&w, &m.a.Case, &again)
		var level demand.Response
		w.Demand.Isolated(w.Built.Stick, &m.a.Site.Spectra[m.design], *w.Built.Device.(*demand.Isolation),
			&m.a.AsIs[m.design], &level)
		return []Section{m.isolated(title, t, out)}
	}
	site := hazard.Site{Class: m.a.Site.Class, Status: m.a.Site.Status,
		ReturnPeriod: m.a.Site.ReturnPeriod[m.design : m.design+1],
		Spectra:      m.a.Site.Spectra[m.design : m.design+1]}
	c := m.a.Case
	c.Site, c.Design, c.Beyond, c.AsIs = &site, 0, 0, m.a.AsIs[m.design:m.design+1]
	o.Measure.Evaluate(&w, &c, &again)
	return m.spectral(title, t, out)
}

// drift returns the drift of storey i over its height in per cent.
func (m *maker) drift(out *demand.Response, i int) string {
	ratio := out.Drift[i] / m.a.Stick.Height[i]
	if out.Status&demand.CollapseCounted != 0 && ratio >= demand.CollapseRatio(&m.a.Stick)*(1-1e-9) {
		return output.Collapsed
	}
	return cell(100 * ratio)
}
