package output

// A Verdict is the row of one feasibility rule that is not clear for one building and measure.
type Verdict struct {
	BuildingID, Measure, Rule, Verdict string
	Value, Limit                       float64
	Unit, Sentence                     string
}

// Verdicts is the table of Verdict.
var Verdicts = Table[Verdict]{
	Name:  "verdicts",
	Title: "Feasibility rules that are not clear",
	Doc:   "One row for each building, measure and rule whose verdict is bar, doubt or missing.",
	ID:    "building_id",
	Key:   []string{"building_id", "measure", "rule"},
	Columns: []Column[Verdict]{
		{Name: "building_id", Required: true, Text: func(r *Verdict) *string { return &r.BuildingID },
			Doc: "the owner's id, as text"},
		{Name: "measure", Required: true, Text: func(r *Verdict) *string { return &r.Measure },
			Doc: "slug of the measure"},
		{Name: "rule", Required: true, Text: func(r *Verdict) *string { return &r.Rule },
			Doc: "slug of the rule; its limits and their source stand in rules"},
		{Name: "verdict", Required: true, Text: func(r *Verdict) *string { return &r.Verdict },
			Doc: "bar: does not fit; doubt: needs study first; missing: a fact is not known"},
		{Name: "value", Float: func(r *Verdict) *float64 { return &r.Value },
			Doc: "what was compared, in the unit of the row"},
		{Name: "limit", Float: func(r *Verdict) *float64 { return &r.Limit },
			Doc: "what it was compared with, in the unit of the row"},
		{Name: "unit", Text: func(r *Verdict) *string { return &r.Unit },
			Doc: "unit of value and limit; missing for a ratio"},
		{Name: "sentence", Text: func(r *Verdict) *string { return &r.Sentence },
			Doc: "the finding in one sentence"},
	},
}
