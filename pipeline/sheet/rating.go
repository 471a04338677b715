package sheet

import (
	"fmt"
	"slices"

	"plinth/retrofit/rating"
)

// ratings returns the building on the published scales the plan asks for.
func (m *maker) ratings() []Section {
	scales := m.study.Scales()
	if len(scales) == 0 {
		return nil
	}
	s := Section{Title: "Ratings on published scales"}
	text := func(r rating.Rating) string {
		if r.Band == "" {
			return "none"
		}
		words := r.Band + " (" + figure(r.Value) + ")"
		if x := r.Risk; x.PAMClass != "" {
			words += fmt.Sprintf(", PAM %s %% is %s, IS-V %s %% is %s", figure(x.PAM), x.PAMClass, figure(x.ISV),
				x.ISVClass)
		}
		return words
	}
	for _, scale := range scales {
		p := m.a.Rate(scale)
		s.fact(scale.String()+", as it stands and with the best measure", text(p.Before)+"; "+text(p.After),
			"docs/methods/rating.md", scale.Version(), "")
	}
	if slices.Contains(scales, rating.ASCE41) {
		m.asce41(&s)
	}
	s.note("Each is a " + rating.Caution + ".")
	return []Section{s}
}

// asce41 adds the rating at each seismic hazard level of ASCE 41 (levels).
func (m *maker) asce41(s *Section) {
	levels, err := m.a.ASCE41Levels()
	if err != nil {
		return // which the section of the levels says
	}
	best := m.a.Best()
	t := s.table("ASCE 41 level", "Sa(T1) g", "as it stands", "with the best measure")
	for _, l := range levels {
		before := m.a.AtSa(l.Sa, m.a.AsIs, &m.a.Exposure).Band
		after := before
		if best != nil {
			after = m.a.AtSa(l.Sa, best.Levels, &best.Exposure).Band
		}
		t.row(l.Name, cell(l.Sa), before, after)
	}
}
