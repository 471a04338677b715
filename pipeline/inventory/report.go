package inventory

import (
	"fmt"
	"sort"

	"plinth/pipeline/inventory/cell"
)

// maxExamples is the number of examples a report keeps of each rule.
const maxExamples = 5

// A Report says what was found while a register was read. Reports on parts of one register can be merged
// in any order, and the result is the same.
type Report struct {
	Tally    Tally
	Given    [NumFields]int             // rows, rejected ones too, in which the register gives the field
	Origins  [NumFields][numOrigins]int // of the buildings' fields
	Inexact  [NumFields]int             // of the assumed, those the register gives as approximate
	Grades   [4]int                     // buildings of grade A to D
	Examples [numRules][]Example        // of what each rule met, lowest lines first
	Idle     [NumFields]bool            // fields that change nothing under the plan

	file    string
	headers [NumFields]string      // the register's columns, "" where a field has none
	mapped  [NumFields]bool        // fields for which the plan has a table of values
	heights histogram              // of height over storeys
	areas   histogram              // of floor area over footprint times storeys
	values  histogram              // of the cube root of value over floor area
	notes   []string               // how the file was understood
	words   map[string]*vocabulary // by column, of the register's words that are not mapped
}

// A Tally counts rows. Every row read is a building or a reject.
type Tally struct {
	In, Buildings, Rejects int
	Rules                  [numRules]int // rows rejected or findings, by rule
}

// An Example is one case of a rule, for people to look at.
type Example struct {
	Line        int
	ID          string
	Column, Raw string
	Note        string // what was used instead, or the detail of the reject
}

// Check returns an error if rows were lost or counted twice.
func (t *Tally) Check() error {
	byRule := 0
	for r := range numRules {
		if r.Spec().Rejects {
			byRule += t.Rules[r]
		}
	}
	if t.In != t.Buildings+t.Rejects || t.Rejects != byRule {
		return fmt.Errorf("inventory: %d rows in, but %d buildings and %d rejects (%d by rule) out", t.In,
			t.Buildings, t.Rejects, byRule)
	}
	return nil
}

// Count returns how often a rule fired.
func (r *Report) Count(rule Rule) int {
	switch rule {
	case MixedUnits:
		return r.heights.mixed(1 / cell.Foot)
	case MixedAreas:
		return r.areas.mixed(1 / (cell.Foot * cell.Foot))
	case MixedValues:
		return r.values.mixed(valueStep)
	}
	return r.Tally.Rules[rule]
}

// Missing returns the number of rows, rejected ones too, that have no usable value of the field.
func (r *Report) Missing(f Field) int { return r.Tally.In - r.Given[f] }

// mapping notes which columns the register has.
func (r *Report) mapping(m *mapping, notes []string) {
	r.file, r.notes = m.file, notes
	for _, c := range m.columns {
		r.headers[c.field], r.mapped[c.field] = c.header, c.mapped
	}
}

// add counts a batch.
func (r *Report) add(b *Batch) {
	r.Tally.In += b.Rows
	r.Tally.Buildings += len(b.Buildings)
	r.Tally.Rejects += len(b.Rejects)
	for f := range b.given {
		r.Given[f] += b.given[f]
	}
	r.heights.merge(&b.heights)
	r.areas.merge(&b.areas)
	r.values.merge(&b.values)
	for i := range b.Buildings {
		bl := &b.Buildings[i]
		for f, o := range bl.Origin {
			r.Origins[f][o]++
			if w := bl.way[f]; w == byDoubtful || w == byEffective {
				r.Inexact[f]++
			}
		}
		r.Grades[bl.Grade-'A']++
	}
	for i := range b.Rejects {
		rj := &b.Rejects[i]
		r.example(rj.Rule, Example{rj.Line, rj.ID, rj.Column, rj.Raw, rj.Detail})
	}
	for i := range b.Findings {
		f := &b.Findings[i]
		r.example(f.Rule, Example{f.Line, f.ID, f.Column, f.Raw, f.Used})
		if f.Rule == UnknownWord {
			r.vocabulary(f.Column).count(f.Raw, 1)
		}
	}
}

// vocabulary returns the words of a column.
func (r *Report) vocabulary(column string) *vocabulary {
	v := r.words[column]
	if v == nil {
		if r.words == nil {
			r.words = make(map[string]*vocabulary)
		}
		v = &vocabulary{}
		r.words[column] = v
	}
	return v
}

// example counts one case of a rule and keeps it if its line is among the lowest.
func (r *Report) example(rule Rule, e Example) {
	r.Tally.Rules[rule]++
	es := r.Examples[rule]
	if len(es) == maxExamples && !e.before(&es[maxExamples-1]) {
		return
	}
	i := sort.Search(len(es), func(i int) bool { return e.before(&es[i]) })
	es = append(es, Example{})
	copy(es[i+1:], es[i:])
	es[i] = e
	r.Examples[rule] = es[:min(len(es), maxExamples)]
}

func (e *Example) before(o *Example) bool {
	if e.Line != o.Line {
		return e.Line < o.Line
	}
	return e.Column < o.Column
}

// Merge adds the report on another part of the same register.
func (r *Report) Merge(o *Report) {
	r.Tally.In += o.Tally.In
	r.Tally.Buildings += o.Tally.Buildings
	r.Tally.Rejects += o.Tally.Rejects
	for column, v := range o.words {
		r.vocabulary(column).merge(v)
	}
	for f := range r.Given {
		r.Given[f] += o.Given[f]
		r.Inexact[f] += o.Inexact[f]
		r.Idle[f] = r.Idle[f] || o.Idle[f]
		for k := range r.Origins[f] {
			r.Origins[f][k] += o.Origins[f][k]
		}
	}
	for i := range r.Grades {
		r.Grades[i] += o.Grades[i]
	}
	r.heights.merge(&o.heights)
	r.areas.merge(&o.areas)
	r.values.merge(&o.values)
	for rule := range numRules {
		n := r.Tally.Rules[rule] + o.Tally.Rules[rule]
		for _, e := range o.Examples[rule] {
			r.example(rule, e)
		}
		r.Tally.Rules[rule] = n
	}
}
