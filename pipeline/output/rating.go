package output

import "plinth/retrofit/rating"

// ratingColumns returns four columns for each published scale, and what the Italian class is made of.
// The columns of a scale that the plan does not ask for have no values.
func ratingColumns() []Column[Building] {
	numbers := [rating.NumScales]string{
		rating.ASCE41:     "drift over its limit for life safety at the design return period (ASCE 41)",
		rating.NZSPercent: "shaking of capacity over that of a new building at 500 years, % (form of NZS 1170.5)",
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
			if s == rating.DM58 {
				out = append(out, riskColumns("rating_dm58"+state.suffix, state.words, state.of)...)
			}
		}
	}
	return out
}

// riskColumns returns the columns of what the class of DM 58/2017 is made of.
func riskColumns(name, words string, of func(*Building) *rating.Rating) []Column[Building] {
	return []Column[Building]{
		{Name: name + "_pam_pct", Unit: "%", Digits: 3,
			Float: func(r *Building) *float64 { return &of(r).Risk.PAM },
			Doc: "mean annual loss PAM over the reconstruction cost by the loss curve of the decree, " + words + ": " +
				rating.Caution},
		{Name: name + "_pam_class", Text: func(r *Building) *string { return &of(r).Risk.PAMClass },
			Doc: "class of PAM alone, " + words + ": " + rating.Caution},
		{Name: name + "_isv_pct", Unit: "%", Digits: 3,
			Float: func(r *Building) *float64 { return &of(r).Risk.ISV },
			Doc: "safety index IS-V: peak ground acceleration of capacity over that of 475 years, " + words + ": " +
				rating.Caution},
		{Name: name + "_isv_class", Text: func(r *Building) *string { return &of(r).Risk.ISVClass },
			Doc: "class of IS-V alone, " + words + ": " + rating.Caution},
	}
}
