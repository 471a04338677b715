package sheet

import (
	"fmt"
	"math"

	"plinth/hazard"
)

func (m *maker) site() Section {
	s := Section{Title: "Hazard at the site"}
	site := &m.a.Site
	m.classOfSite(&s)
	if site.Distance > 0 {
		s.line("Distance to the nearest node", site.Distance/1000, "km", "", "", "")
	}
	t1 := m.a.Archetype.Period
	t := s.table("return period yr", "frequency 1/yr", "PGA g", "Sa(T1) g", "Sa(1 s) g")
	for _, i := range m.study.Asked() {
		p, tr := &site.Spectra[i], site.ReturnPeriod[i]
		t.row(cell(tr), cell(1/tr), cell(p.PGA), cell(p.Sa(t1)), cell(p.Sa(1)))
	}
	s.note("Spectra are interpolated in ln(Sa) over ln(T), over ln(annual frequency) and over place " +
		"(docs/methods/hazard-by-location.md).")
	for _, w := range site.Status.Words() {
		s.note(w)
	}
	m.sitePeriod(&s)
	m.vertical(&s)
	return s
}

// spectrum returns the nodes of the spectrum that demand is read from.
func (m *maker) spectrum() Section {
	sp := &m.a.Site.Spectra[m.design]
	s := Section{Title: fmt.Sprintf("Spectrum, return period %s yr", figure(m.study.Plan().Hazard.Design))}
	s.line("Peak ground acceleration PGA", sp.PGA, "g", "", "docs/methods/hazard-by-location.md", "")
	s.line("Corner period TC", sp.TC, "s", "TC = max(T Sa)/max(Sa), or the corner of the code form",
		"ASCE 7-22 11.4.6, ASCE 7-16 11.4.6", "")
	s.line("Corner period TB", sp.TB, "s", "TB = 0.2 TC, or the corner of the code form",
		"ASCE 7-22 11.4.6, ASCE 7-16 11.4.6", "")
	t := s.table("T s", "Sa g")
	periods, sa := sp.Nodes()
	for i := range periods {
		t.row(cell(periods[i]), cell(sa[i]))
	}
	s.note("Damping 5 %. From PGA at T = 0 a straight line in T to the first node, straight lines in ln Sa " +
		"over ln T between nodes, constant displacement (Sa ~ 1/T2) beyond the last.")
	m.shaking(&s, &sp.Shaking)
	return s
}

// shaking says how long the ground shakes and whether in a pulse.
func (m *maker) shaking(s *Section, k *hazard.Shaking) {
	const page = "docs/methods/hazard.md#duration-and-pulses"
	if !k.Known() {
		s.note(fmt.Sprintf("Nothing is known of the duration of shaking: damping is worth what the "+
			"coefficients of codes say, as in shaking of %.0f s.", hazard.CodeDuration))
		return
	}
	from := ""
	if k.Magnitude > 0 {
		from = fmt.Sprintf("magnitude %s at %s km", figure(k.Magnitude), figure(k.Distance))
	}
	if k.Duration > 0 {
		s.line("Significant duration D5-95", k.Duration, "s", "as stated, or by magnitude, distance and ground",
			"Bommer et al. 2009; "+page, from)
	}
	if k.PulseChance > 0 {
		s.line("Probability of a pulse", k.PulseChance, "", "", "Hayden et al. 2014, from memory; "+page,
			fmt.Sprintf("period %s s", figure(k.PulsePeriod)))
	}
}

// worth says what a damping is worth at a period in s in the shaking of the design level; nothing
// where that is the damping itself.
func (m *maker) worth(damping, period float64) string {
	if w := m.a.Site.Spectra[m.design].Worth(damping, period); w != damping {
		return fmt.Sprintf(" (worth %s in this shaking)", figure(w))
	}
	return ""
}

// classOfSite adds the site class of the building and its origin.
func (m *maker) classOfSite(s *Section) {
	g, standard := &m.a.Ground, m.study.SoilStandard()
	class := m.a.Site.Class.String()
	if class == "" {
		class = "in the hazard file"
	}
	s.Lines = append(s.Lines, Line{Name: "Site class", Value: math.NaN(), Text: class, Origin: g.Origin,
		Source: standard.String()})
	if g.Spread > 0 {
		firmer, softer := standard.Beside(m.a.Site.Class)
		s.line("Spread of ln Sa(T1) for the assumed class", g.Spread, "",
			"beta2 = sum(w ln2 Sa) - sum(w ln Sa)2 over the class and those beside it, w = 1/4, 1/2, 1/4",
			"weights are judgement",
			fmt.Sprintf("classes %s %s %s", firmer, m.a.Site.Class, softer))
	}
}

// sitePeriod compares the period of the ground with those of the building.
func (m *maker) sitePeriod(s *Section) {
	g := &m.a.Ground
	if m.a.NearFault() {
		s.note(fmt.Sprintf("The site is near a fault: %s km for magnitude %s (ASCE 7-16 11.4.1). Pulses raise "+
			"long-period demand beyond what is computed here, unless the spectra hold the fault.",
			figure(m.a.Building.FaultDistance/1000), figure(m.study.Plan().Hazard.FaultSize)))
	}
	if !(g.Period > 0) {
		return
	}
	origin, source := "given", "register"
	if !g.Known {
		origin, source = "assumed", "4 H/Vs, 30 m of soil of the velocity or class, judgement (docs/methods/hazard.md)"
	}
	s.Lines = append(s.Lines, Line{Name: "Site period Ts", Value: g.Period, Unit: "s", Source: source,
		Origin: origin})
	resonant := func(t float64, what string) {
		if m.a.Resonant(t) {
			s.note(fmt.Sprintf("%s of %s s is 0.7 to 1.3 times the site period of %s s: it may resonate (band: "+
				"judgement).", what, figure(t), figure(g.Period)))
		}
	}
	resonant(m.a.Archetype.Period, "The first period")
	for i := range m.a.Options {
		if o := &m.a.Options[i]; o.Feasible() {
			resonant(o.Levels[m.design].Period, "The period with "+o.Measure.Slug())
		}
	}
}

// vertical adds the vertical shaking of contents and floors.
func (m *maker) vertical(s *Section) {
	g, sp := &m.a.Ground, &m.a.Site.Spectra[m.design]
	s.line("Vertical Sa at 0.1 s and the design return period", g.Vertical, "g",
		"0.8 Cv Sa(0.2), at least Sa(0.1)/2", "ASCE 7-16 11.9.2, Table 11.9-1",
		fmt.Sprintf("Cv %s at SS %s g, Sa(0.2) %s g, Sa(0.1) %s g; Sa(0.2) on rock at 2475 yr stands in for SS",
			figure(g.Cv), figure(g.SS), figure(sp.Sa(0.2)), figure(sp.Sa(0.1))))
	s.note("Isolators and dampers leave vertical shaking as it is.")
}
