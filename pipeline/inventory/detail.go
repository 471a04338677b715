package inventory

// A Detail is a report for programs. Its keys do not change from version to version.
type Detail struct {
	Fields   []FieldDetail `json:"fields"`
	Rejects  []RuleDetail  `json:"rejects"`
	Findings []RuleDetail  `json:"findings"`
	Words    []Unmapped    `json:"unmapped_words"`
}

// A FieldDetail counts the values of a field.
type FieldDetail struct {
	Field    string `json:"field"`
	Column   string `json:"column"`       // "" where the register has none
	Missing  *int   `json:"rows_missing"` // rows without a usable value; null without a column
	Given    int    `json:"given"`        // buildings, as are those that follow
	Derived  int    `json:"derived"`
	Assumed  int    `json:"assumed"`
	Absent   int    `json:"absent"`
	Doubtful int    `json:"approximate"` // among the assumed: read from the register, not exact there
}

// A RuleDetail counts how often a rule fired, with examples.
type RuleDetail struct {
	Rule     string          `json:"rule"`
	Count    int             `json:"count"`
	Counts   string          `json:"counts"` // rows or cells
	Finding  string          `json:"finding"`
	Remedy   string          `json:"remedy"`
	Examples []ExampleDetail `json:"examples"`
}

// An ExampleDetail is one case of a rule.
type ExampleDetail struct {
	Line   int    `json:"line"`
	ID     string `json:"id"`
	Column string `json:"column"`
	Raw    string `json:"raw"`
	Note   string `json:"note"`
}

// Detail returns the whole report. Fields stand in the order of the data dictionary, rules in the order
// of their table.
func (r *Report) Detail() Detail {
	d := Detail{Fields: []FieldDetail{}, Rejects: []RuleDetail{}, Findings: []RuleDetail{},
		Words: r.Unmapped()}
	for f := range Field(NumFields) {
		o := &r.Origins[f]
		fd := FieldDetail{
			Field: f.String(), Column: r.headers[f],
			Given: o[Given], Derived: o[Derived], Assumed: o[Assumed], Absent: o[Absent],
			Doubtful: r.Inexact[f],
		}
		if r.headers[f] != "" {
			missing := r.Missing(f)
			fd.Missing = &missing
		}
		d.Fields = append(d.Fields, fd)
	}
	for rule := range numRules {
		n, s := r.Count(rule), rule.Spec()
		if n == 0 {
			continue
		}
		rd := RuleDetail{rule.String(), n, rule.Counts(), s.Finding, s.Remedy, []ExampleDetail{}}
		for _, e := range r.Examples[rule] {
			rd.Examples = append(rd.Examples, ExampleDetail(e))
		}
		if s.Rejects {
			d.Rejects = append(d.Rejects, rd)
		} else {
			d.Findings = append(d.Findings, rd)
		}
	}
	return d
}
