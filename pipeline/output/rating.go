package output

import "plinth/retrofit/rating"

// ratingColumns returns four columns for each published scale. The columns of a scale that the plan
// does not ask for have no values.
func ratingColumns() []Column[Building] {
	numbers := [rating.NumScales]string{
		rating.ASCE41:     "drift over its limit for life safety at the design return period (ASCE 41)",
		rating.NZSPercent: "capacity over the demand of a new building at 500 years, % (form of NZS 1170.5)",
		rating.DM58:       "number of the class, 1 for A+ to 8 for G (DM 58/2017)",
		rating.JapanIndex: "seismic index Is over the index demanded Is0, first level (Japan)",
	}
	names := [rating.NumScales]string{"asce41", "nzs_percent", "dm58", "japan_index"}
	var out []Column[Building]
	for s := range rating.NumScales {
		for _, state := range []struct {
			suffix, words string
			of            func(*Building) *rating.Rating
		}{
			{"", "as it stands", func(r *Building) *rating.Rating { return &r.Ratings[s].Before }},
			{"_after", "with the best measure", func(r *Building) *rating.Rating { return &r.Ratings[s].After }},
		} {
			out = append(out,
				Column[Building]{Name: "rating_" + names[s] + state.suffix,
					Text: func(r *Building) *string { return &state.of(r).Band },
					Doc: "band on the scale " + s.String() + " " + state.words + ", where the plan asks for it: " +
						rating.Caution},
				Column[Building]{Name: "rating_" + names[s] + state.suffix + "_value", Digits: 2,
					Float: func(r *Building) *float64 { return &state.of(r).Value },
					Doc:   numbers[s] + ", " + state.words + "; to sort by: " + rating.Caution})
		}
	}
	return out
}
