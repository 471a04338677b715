package sheet

import (
	"plinth/hazard"
	"plinth/retrofit"
)

// levels returns the hazard levels of ASCE 41 at the site. An engineer's own evaluation of the
// building would start from them.
func (m *maker) levels() Section {
	s := Section{Title: "Hazard levels of ASCE 41-17 at the site"}
	l, status, err := m.a.Site.ASCE41(m.a.Building.Vs30)
	if err != nil {
		s.note("The return periods of this run do not give them: " + err.Error() + ".")
		return s
	}
	t := s.table("level", "SXS g", "SX1 g")
	for _, r := range []struct {
		name string
		at   hazard.SpectralPair
	}{
		{"BSE-2N, risk-targeted", l.BSE2N}, {"BSE-1N, 2/3 of it", l.BSE1N},
		{"BSE-2E, 5 % in 50 years", l.BSE2E}, {"BSE-1E, 20 % in 50 years", l.BSE1E},
	} {
		t.row(r.name, cell(r.at.SXS), cell(r.at.SX1))
	}
	s.note("From the spectra of this run: risk-targeted by ASCE 7-16 21.2.1.2, in the direction of the " +
		"largest " +
		"response (21.2), " +
		"read by ASCE 7-22 21.4; E levels are capped by N levels (ASCE 41-17 2.4.1). The deterministic limit and " +
		"the mapped values of a code may govern: take those of the code in force.")
	anchorage(&s, l.BSE1N.SXS)
	if status != 0 {
		s.note("The return periods of this run end within the range that decides the risk-targeted motion or a " +
			"level: rarer or more frequent ones would make it surer.")
	}
	if s1 := m.a.Ground.S1; hazard.IsolationStudyNeeded(s1) {
		s.note("S1 is " + figure(s1) +
			" g on rock: ASCE 7-16 11.4.8 asks for a ground motion hazard analysis before a building here is " +
			"isolated or given a damping system.")
	}
	return s
}

// anchorage adds the forces that hold items to floors, by their height in the building, for SDS in
// g.
func anchorage(s *Section, sds float64) {
	t := s.table("anchored item, Fp/Wp", "ground", "mid-height", "roof")
	for _, item := range []struct {
		name   string
		ap, rp float64 // amplification and reduction: ASCE 7-16 Tables 13.5-1 and 13.6-1, from memory
	}{
		{"rigid: bolted equipment, tanks (ap 1, Rp 2.5)", 1, 2.5},
		{"flexible: shelving, tall cabinets (ap 2.5, Rp 2.5)", 2.5, 2.5},
	} {
		row := []string{item.name}
		for _, z := range [...]float64{0, 0.5, 1} {
			row = append(row, cell(retrofit.AnchorageForce(sds, item.ap, item.rp, 1, z)))
		}
		t.row(row...)
	}
	s.note("Anchorage by ASCE 7-16 13.3.1 with Ip 1, SDS that of BSE-1N; 1.5 for what must work after an " +
		"earthquake.")
}
