package sheet

import (
	"math"

	"plinth/retrofit/rating"
)

// ratings returns the building on the published scales the plan asks for.
func (m *maker) ratings() []Section {
	scales := m.run.Scales()
	if len(scales) == 0 {
		return nil
	}
	s := Section{Title: "Ratings on published scales"}
	text := func(r rating.Rating) string {
		if r.Band == "" {
			return "none"
		}
		return r.Band + " (" + figure(r.Value) + ")"
	}
	for _, scale := range scales {
		p := m.a.Rate(scale)
		s.line(scale.String()+", as it stands and with the best measure", math.NaN(), "", "docs/methods/rating.md", scale.Version(), "")
		s.Lines[len(s.Lines)-1].Text = text(p.Before) + "; " + text(p.After)
	}
	s.note("Each is a " + rating.Caution + ".")
	return []Section{s}
}
