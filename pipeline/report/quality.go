package report

import (
	"fmt"
	"strings"

	"plinth/hazard/field"
	"plinth/pipeline/inventory"
)

// A Quality describes how good the register is.
type Quality struct {
	Fields []Field
	Rules  []Rule
}

// A Field counts the buildings by the origin of one value.
type Field struct {
	Name, Doc                       string
	Given, Derived, Assumed, Absent int
}

// Total returns the number of buildings.
func (f Field) Total() int { return f.Given + f.Derived + f.Assumed + f.Absent }

// A Rule is one fault that the reader of the register looked for and found.
type Rule struct {
	Finding, Remedy string
	Owner           string // the remedy without a word of the plan
	Rows            int
	Counts          string // what Rows counts: rows or cells
	Rejects         bool   // the rows are not among the buildings
	Example         string
}

// Register returns the quality of the register that r reports on. It leaves out fields that no
// building has.
func Register(r *inventory.Report) Quality {
	var q Quality
	for f := range inventory.Field(inventory.NumFields) {
		o := &r.Origins[f]
		q.add(f, o[inventory.Given], o[inventory.Derived], o[inventory.Assumed], o[inventory.Absent])
	}
	for i := range r.Examples {
		rule := inventory.Rule(i)
		n, s := r.Count(rule), rule.Spec()
		if n == 0 {
			continue
		}
		example := ""
		if len(r.Examples[i]) > 0 {
			example = r.Examples[i][0].String()
		}
		q.Rules = append(q.Rules, Rule{s.Finding, s.Remedy, rule.OwnerRemedy(), n, rule.Counts(), s.Rejects,
			example})
	}
	return q
}

func (q *Quality) add(f inventory.Field, given, derived, assumed, absent int) {
	if given+derived+assumed > 0 {
		q.Fields = append(q.Fields, Field{strings.ReplaceAll(f.String(), "_", " "), f.Spec().Doc, given, derived,
			assumed, absent})
	}
}

// Coverage returns the sentences of the page about the hazard.
func Coverage(c field.Coverage) []string {
	var out []string
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	if c.File != "" {
		say("File: %s.", c.File)
	}
	if c.Nodes > 0 {
		say("%d places with values, between longitude %.6g and %.6g, latitude %.6g and %.6g.",
			c.Nodes, c.Bound.Min[0], c.Bound.Max[0], c.Bound.Min[1], c.Bound.Max[1])
	}
	if n := len(c.ReturnPeriods); n > 0 {
		say("Return periods from %g to %g years.", c.ReturnPeriods[0], c.ReturnPeriods[n-1])
	}
	if n := len(c.Periods); n > 0 {
		say("Periods of vibration from %g to %g s.", c.Periods[0], c.Periods[n-1])
	}
	for _, r := range c.Range {
		say("At %g years: peak ground acceleration from %.2g to %.2g g.", r.ReturnPeriod, r.PGALow, r.PGATop)
	}
	for _, w := range c.Warnings {
		say("Look at this: %s.", w)
	}
	return out
}
