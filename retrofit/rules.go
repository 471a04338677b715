package retrofit

import (
	_ "embed"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"
)

//go:embed rules.csv
var rulesCSV string

// DefaultRules returns the embedded table of feasibility rules, rules.csv. It is
// shared; do not change it.
var DefaultRules = sync.OnceValue(func() Rules {
	r, err := ReadRules(strings.NewReader(rulesCSV))
	if err != nil {
		panic("retrofit: embedded rules: " + err.Error())
	}
	return r
})

// Rules is a table of feasibility rules in the order they are reported.
type Rules []Rule

// Named returns the rules of these names in the order of the table, those that need no design
// first. It panics for an unknown name.
func (r Rules) Named(names []string) []*Rule {
	var facts, design []*Rule
	for i := range r {
		switch {
		case !slices.Contains(names, r[i].Name):
		case r[i].sized():
			design = append(design, &r[i])
		default:
			facts = append(facts, &r[i])
		}
	}
	if len(facts)+len(design) != len(names) {
		panic("retrofit: a measure names a rule twice or one that the table does not have")
	}
	return append(facts, design...)
}

// RuleError is a fault in a table of rules.
type RuleError struct {
	Line, Column int    // 1-based position of the cell in the file
	Name         string // of the column
	Value        string // as written
	Problem      string // what is wrong and what to write
}

func (e *RuleError) Error() string {
	return fmt.Sprintf("rules line %d column %d, %s %q: %s", e.Line, e.Column, e.Name, e.Value, e.Problem)
}

// ruleColumns are the columns of the table, all required, in this order.
var ruleColumns = []string{"name", "when", "criterion", "unit", "comparison", "against", "note", "doubt",
	"bar", "source", "sentence"}

// ReadRules reads a table of rules from CSV with the header
//
//	name,when,criterion,unit,comparison,against,note,doubt,bar,source,sentence
//
// when and against are empty or a criterion; note, doubt and bar are numbers, of which two may be
// empty. A source and a sentence are required. All faults are returned together, joined, each a
// *RuleError; malformed CSV ends the reading with a *csv.ParseError.
func ReadRules(r io.Reader) (Rules, error) {
	in := csv.NewReader(r)
	in.FieldsPerRecord = -1
	head, err := in.Read()
	if err != nil {
		return nil, fmt.Errorf("rules: no header: %w", err)
	}
	if !slices.Equal(head, ruleColumns) {
		return nil, &RuleError{1, 1, "header", strings.Join(head, ","), "must be " +
			strings.Join(ruleColumns, ",")}
	}
	var rules Rules
	var faults []error
	seen := map[string]bool{}
	for {
		cells, err := in.Read()
		if err == io.EOF {
			return rules, errors.Join(faults...)
		}
		if err != nil {
			return nil, fmt.Errorf("rules: %w", err)
		}
		p := ruleParser{in: in, cells: cells}
		rule := p.rule()
		if len(p.faults) == 0 && seen[rule.Name] {
			p.fault(0, "occurs twice; rename one")
		}
		seen[rule.Name] = true
		faults = append(faults, p.faults...)
		rules = append(rules, rule)
	}
}

// ruleParser reads one line of the table and collects its faults.
type ruleParser struct {
	in     *csv.Reader
	cells  []string
	faults []error
}

func (p *ruleParser) fault(col int, problem string) {
	e := &RuleError{Name: ruleColumns[col], Problem: problem}
	at := min(col, len(p.cells)-1)
	e.Line, e.Column = p.in.FieldPos(at)
	if col < len(p.cells) {
		e.Value = p.cells[col]
	}
	p.faults = append(p.faults, e)
}

func (p *ruleParser) rule() (r Rule) {
	if len(p.cells) != len(ruleColumns) {
		p.fault(0, fmt.Sprintf("line has %d cells, not %d", len(p.cells), len(ruleColumns)))
		return r
	}
	r = Rule{
		Name:      p.word(0),
		When:      p.criterion(1, true),
		Criterion: p.criterion(2, false),
		Compare:   p.comparison(4),
		Against:   p.criterion(5, true),
		Note:      p.limit(6),
		Doubt:     p.limit(7),
		Bar:       p.limit(8),
		Source:    p.word(9),
		Sentence:  p.sentence(10),
	}
	answers := r.Criterion.Unit() == "answer"
	switch {
	case len(p.faults) > 0:
	case p.cells[3] != r.Criterion.Unit():
		p.fault(3, fmt.Sprintf("%v is given in %q", r.Criterion, r.Criterion.Unit()))
	case answers != (r.Compare == Is):
		p.fault(4, "use is for a yes or no and below or above for a number")
	case r.When != 0 && r.When.Unit() != "answer":
		p.fault(1, "must be a yes-or-no criterion")
	case r.Against != 0 && r.Against.Unit() != p.cells[3]:
		p.fault(5, "must have the unit of the criterion")
	case math.IsNaN(r.Note) && math.IsNaN(r.Doubt) && math.IsNaN(r.Bar):
		p.fault(7, "give a limit for note, doubt or bar")
	case r.Compare.after(r.Doubt, r.Bar):
		p.fault(7, "a doubt must come before the bar")
	case r.Compare.after(r.Note, r.Doubt), r.Compare.after(r.Note, r.Bar):
		p.fault(6, "a note must come before the doubt and the bar")
	}
	return r
}

func (p *ruleParser) word(col int) string {
	if strings.TrimSpace(p.cells[col]) == "" {
		p.fault(col, "must not be empty")
	}
	return p.cells[col]
}

func (p *ruleParser) criterion(col int, optional bool) Criterion {
	if p.cells[col] == "" && optional {
		return 0
	}
	c, ok := ParseCriterion(p.cells[col])
	if !ok {
		p.fault(col, "is no criterion")
	}
	return c
}

func (p *ruleParser) comparison(col int) Comparison {
	i := slices.Index(comparisonWords[:], p.cells[col])
	if i < 0 {
		p.fault(col, "write below, above or is")
		return 0
	}
	return Comparison(i)
}

func (p *ruleParser) limit(col int) float64 {
	if p.cells[col] == "" {
		return math.NaN()
	}
	v, err := strconv.ParseFloat(p.cells[col], 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		p.fault(col, "write a number, or nothing for no limit")
		return math.NaN()
	}
	return v
}

// sentence checks that a sentence has at most two slots.
func (p *ruleParser) sentence(col int) string {
	s := p.word(col)
	if n := strings.Count(s, "%v"); n > 2 || n != strings.Count(s, "%") {
		p.fault(col, "may hold at most two slots, %v for the value and %v for the limit")
	}
	return s
}
