package sheet

import (
	"fmt"

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
	s.note("Each is a " + rating.Caution + ".")
	return []Section{s}
}
