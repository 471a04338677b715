package output

// A Reject is one row of the register that could not be used, with the first reason that was found.
type Reject struct {
	File             string
	Line             int64
	BuildingID       string
	Column, RawValue string
	Rule, Remedy     string
}

// Rejects is the table of Reject.
var Rejects = Table[Reject]{
	Name:  "rejects",
	Title: "Rows of the register that could not be used",
	Doc:   "One row for each row of the register that is not among the buildings.",
	ID:    "building_id",
	Columns: []Column[Reject]{
		{Name: "file", Text: func(r *Reject) *string { return &r.File },
			Doc: "file of the register"},
		{Name: "line", Int: func(r *Reject) *int64 { return &r.Line },
			Doc: "line in the file, first line 1"},
		{Name: "building_id", Text: func(r *Reject) *string { return &r.BuildingID },
			Doc: "the owner's id, as text, where the row has one"},
		{Name: "column", Text: func(r *Reject) *string { return &r.Column },
			Doc: "column of the register at fault; missing where it is the whole row"},
		{Name: "raw_value", Text: func(r *Reject) *string { return &r.RawValue },
			Doc: "the value as it stands in the register"},
		{Name: "rule", Required: true, Text: func(r *Reject) *string { return &r.Rule },
			Doc: "what is wrong"},
		{Name: "remedy", Text: func(r *Reject) *string { return &r.Remedy },
			Doc: "what to do about it"},
	},
}
