package output

// A Rule is the row of one feasibility rule of a run, whatever the rule found.
type Rule struct {
	Rule, Measures, Criterion, Unit string
	Comparison, Against             string
	Note, Doubt, Bar                float64
	Source                          string
}

// Rules is the table of Rule.
var Rules = Table[Rule]{
	Name:  "rules",
	Title: "Feasibility rules and where their limits come from",
	Doc:   "One row for each rule that a measure of the run was held against; verdicts joins to it on rule.",
	Key:   []string{"rule"},
	Columns: []Column[Rule]{
		{Name: "rule", Required: true, Text: func(r *Rule) *string { return &r.Rule },
			Doc: "slug of the rule"},
		{Name: "measures", Required: true, Text: func(r *Rule) *string { return &r.Measures },
			Doc: "slugs of the measures it is for, with a space between"},
		{Name: "criterion", Required: true, Text: func(r *Rule) *string { return &r.Criterion },
			Doc: "slug of what is compared"},
		{Name: "unit", Text: func(r *Rule) *string { return &r.Unit },
			Doc: "unit of the limits; missing for a ratio"},
		{Name: "comparison", Required: true, Text: func(r *Rule) *string { return &r.Comparison },
			Doc: "side of the limit that sets the rule off: below, above, is"},
		{Name: "against", Text: func(r *Rule) *string { return &r.Against },
			Doc: "slug of what the limits multiply; missing where they stand alone"},
		{Name: "note", Float: func(r *Rule) *float64 { return &r.Note },
			Doc: "limit from which the design has to settle it as a matter of course; missing where the rule has none"},
		{Name: "doubt", Float: func(r *Rule) *float64 { return &r.Doubt },
			Doc: "limit that asks for a study first; missing where the rule never does"},
		{Name: "bar", Float: func(r *Rule) *float64 { return &r.Bar },
			Doc: "limit that bars the measure; missing where the rule never does"},
		{Name: "source", Required: true, Text: func(r *Rule) *string { return &r.Source },
			Doc: "document, edition and clause of the limits, or judgement"},
	},
}
