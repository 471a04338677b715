package inventory

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"plinth/hazard/field"
	"plinth/pipeline/inventory/cell"
	"plinth/pipeline/inventory/fault"
	"plinth/pipeline/inventory/source"
	"plinth/pipeline/plan"
)

// A column is one mapped column of the register.
type column struct {
	field  Field
	header string // the register's name of it
	at     int    // its place in a row of the register
	size   float64
	values cell.Dictionary[string] // their word -> our text, for numbers and dates
	codes  cell.Dictionary[uint8]  // a word -> its code, for words
}

// A mapping is the plan's [inventory] section checked against a header.
type mapping struct {
	file    string
	columns []column // in the order of the fields
	decimal byte
	null    cell.Dictionary[struct{}]
	numbers bool // null holds some that begin as numbers do which hardly ever stand for none
	swap    bool
	degrees field.Projection // from the map grid of the columns; nil where they are degrees
	drawn   bool             // rows have a geometry, which gives the place
	of      [NumFields]int   // index of the field's column, -1 if it has none
	assume  assumptions

	width      int // cells of a row: of the columns, then of group and exploded
	group      int // cell that names the row's group, -1 for none
	exploded   int // cell that lists parts, -1 for none
	explodedAt int // its place in a row of the register
	separator  string
	effective  bool  // years are effective years
	extra      []int // places of the cells behind the columns
	listed     bool  // the header stands in an error already
}

// newMapping checks inv against the columns of the register. The error joins
// FileErrors.
func newMapping(inv *plan.Inventory, src source.Source) (*mapping, error) {
	fr := src.About()
	header := fr.Header
	m := &mapping{file: fr.File, swap: inv.Swap, drawn: fr.Drawn, decimal: '.',
		null: cell.NewDictionary[struct{}](32), effective: inv.Effective}
	m.degrees, _ = field.ProjectionOf(inv.CRS) // the plan was checked
	var errs []error
	if inv.Decimal == "," && !fr.Typed {
		m.decimal = ','
	}
	for _, w := range slices.Concat(cell.NullWords, inv.Null) {
		m.null.Add(strings.TrimSpace(w), struct{}{})
	}
	m.nullNumbers(inv.Null, fr)
	for f := range m.of {
		m.of[f] = -1
	}
	errs = append(errs, m.checkKeys(inv)...)
	for f := range Field(NumFields) {
		name, mapped := inv.Columns[f.String()]
		if !mapped {
			if f.Spec().Required && !(m.drawn && (f == Lon || f == Lat)) {
				errs = append(errs, m.unmapped(f, header))
			}
			continue
		}
		c, err := m.column(f, name, inv, src)
		if err != nil {
			errs = append(errs, err)
			continue
		}
		m.of[f] = len(m.columns)
		m.columns = append(m.columns, c)
	}
	errs = append(errs, m.assumptions(inv.Assume)...)
	errs = append(errs, m.more(inv, src)...)
	return m, errors.Join(errs...)
}

// nullNumbers says of each number that the plan takes for no value that it does: a year or
// an area of that number is gone too.
func (m *mapping) nullNumbers(words []string, fr *source.Frame) {
	for _, w := range words {
		w = strings.TrimSpace(w)
		if _, err := strconv.ParseFloat(strings.Replace(w, ",", ".", 1), 64); err != nil ||
			strings.EqualFold(w, "nan") {
			continue
		}
		fr.Note("null holds the number %s: wherever a cell of any field but the id says so it is taken as "+
			"missing, as the plan asks", w)
		m.numbers = m.numbers || cell.StartsCount(w)
	}
}

// more finds the columns of group and explode, which need not be mapped.
func (m *mapping) more(inv *plan.Inventory, src source.Source) []error {
	var errs []error
	m.width, m.group, m.exploded, m.explodedAt = len(m.columns), -1, -1, -1
	find := func(key, name string, cell, at *int) {
		header := src.About().Header
		i := slices.Index(header, strings.TrimSpace(name))
		if i < 0 {
			errs = append(errs, m.atHeader(src, "inventory."+key, name, "the %s has no such column",
				m.columnsOf(name, header)))
			return
		}
		*cell, *at = m.width, i
		m.width++
		m.extra = append(m.extra, i)
	}
	if inv.Group != "" {
		find("group", inv.Group, &m.group, new(int))
	}
	if inv.Explode != "" {
		if m.separator = inv.Separator; m.separator == "" {
			m.separator = ";"
		}
		find("explode", inv.Explode, &m.exploded, &m.explodedAt)
	}
	return errs
}

// places returns where the cells of a row stand in the header.
func (m *mapping) places() []int {
	at := make([]int, 0, m.width)
	for i := range m.columns {
		at = append(at, m.columns[i].at)
	}
	return append(at, m.extra...)
}

// column checks one entry of [inventory.columns] with its unit and values.
func (m *mapping) column(f Field, name string, inv *plan.Inventory, src source.Source) (column, error) {
	header := src.About().Header
	c := column{field: f, header: name, at: slices.Index(header, strings.TrimSpace(name)), size: 1}
	key := "inventory.columns." + f.String()
	if c.at < 0 {
		return c, m.atHeader(src, key, name, "the %s has no such column", m.columnsOf(name, header))
	}
	if n := count(header, header[c.at]); n > 1 {
		return c, m.atHeader(src, key, name, fmt.Sprintf("the %%s has %d columns of this name", n),
			"rename all but one, so that it is clear which is meant")
	}
	if f == ID && slices.Contains(src.About().Bytes, c.at) {
		return c, m.atHeader(src, key, name, "the %s has bytes there that are not said to be text",
			"write the column as text (in SQL: cast to varchar), or as a UUID")
	}
	if err := m.unit(&c, inv.Units, src.Samples); err != nil {
		return c, err
	}
	return c, m.values(&c, inv.Values[f.String()])
}

// atHeader is an error about the names of columns: those of a text file stand on
// its first line.
func (m *mapping) atHeader(src source.Source, key, column, rule, remedy string) error {
	e := &fault.FileError{File: m.file, Key: key, Column: column, Remedy: remedy}
	if src.About().Typed {
		e.Rule = fmt.Sprintf(rule, "register")
		return e
	}
	e.Line, e.Rule = 1, fmt.Sprintf(rule, "header")
	return e
}

// unit reads the declared unit of a column. A column of lengths, areas, times or
// ratios without one is refused.
func (m *mapping) unit(c *column, units map[string]string, samples func(int) []string) error {
	f := c.field
	d := f.Spec().Dimension
	word, declared := units[f.String()]
	e := &fault.FileError{File: m.file, Key: "inventory.units." + f.String(), Column: c.header,
		Remedy: fmt.Sprintf("write %s = %q under [inventory.units], or one of %s", f, first(d.Units()),
			strings.Join(d.Units(), ", "))}
	switch {
	case !declared && d.Declared():
		e.Rule = "no unit declared"
		if s := samples(c.at); len(s) > 0 {
			e.Value = "its cells are such as " + strings.Join(s, ", ")
		}
		return e
	case !declared:
		return nil
	case len(d.Units()) == 0:
		e.Rule, e.Remedy = fmt.Sprintf("%s has no unit", f), "remove the key"
		return e
	}
	size, ok := d.Size(word)
	if !ok {
		e.Value, e.Rule = word, "not a unit this column can have"
		return e
	}
	c.size = size
	return nil
}

// values enters the value map of a column and, for a field of words, our words.
func (m *mapping) values(c *column, values map[string]string) error {
	f := c.field
	codes := map[string]uint8(nil)
	if f.Spec().Kind == Word {
		codes = codesOf(f)
		c.codes = cell.NewDictionary[uint8](len(values) + len(codes))
	}
	c.values = cell.NewDictionary[string](len(values))
	for _, theirs := range slices.Sorted(maps.Keys(values)) {
		ours := strings.TrimSpace(values[theirs])
		theirs = strings.TrimSpace(theirs)
		if f.Spec().Kind != Word || ours == "" {
			c.values.Add(theirs, ours)
			continue
		}
		code, ok := findCode(f, codes, ours)
		if !ok {
			words, _ := wordsOf(f)
			return &fault.FileError{File: m.file, Key: "inventory.values." + f.String() + "." + theirs,
				Column: c.header, Value: ours,
				Rule: fmt.Sprintf("not one of our words for %s", f), Remedy: fault.DidYouMean(ours, words)}
		}
		c.codes.Add(theirs, code)
	}
	for _, w := range slices.Sorted(maps.Keys(codes)) {
		if _, taken := c.codes.Find(w); !taken {
			c.codes.Add(w, codes[w])
		}
	}
	return nil
}

// checkKeys finds entries of the plan that name no field of ours, or give a unit
// or values to a field without a column.
func (m *mapping) checkKeys(inv *plan.Inventory) []error {
	var errs []error
	check := func(table string, keys []string, needsColumn bool) {
		for _, k := range keys {
			e := &fault.FileError{File: m.file, Key: "inventory." + table + "." + k}
			if _, ok := FieldBySlug(k); !ok {
				e.Rule, e.Remedy = "not a field of a building", fault.DidYouMean(k, fieldSlugs())
			} else if _, mapped := inv.Columns[k]; needsColumn && !mapped {
				e.Rule, e.Remedy = "the field has no column",
					"name its column under [inventory.columns], or remove the key"
			} else {
				continue
			}
			errs = append(errs, e)
		}
	}
	check("columns", slices.Sorted(maps.Keys(inv.Columns)), false)
	check("units", slices.Sorted(maps.Keys(inv.Units)), true)
	check("values", slices.Sorted(maps.Keys(inv.Values)), true)
	return errs
}

func (m *mapping) unmapped(f Field, header []string) error {
	return &fault.FileError{File: m.file, Key: "inventory.columns." + f.String(),
		Rule:   "no column given for it, and a building cannot be used without",
		Remedy: "name the column under [inventory.columns]; " + m.columnsOf("", header)}
}

// columnsOf is didYouMean for a column, which lists those of the header in the first error
// of a register only.
func (m *mapping) columnsOf(name string, header []string) string {
	if !m.listed {
		m.listed = true
		return fault.DidYouMean(name, header)
	}
	if near := fault.Nearest(name, header); len(near) > 0 {
		return "did you mean " + fault.Listed(near, " or ") + "?"
	}
	return "the columns there are stand above"
}

// findCode returns the code of one of our words in any case, or of a building
// type of ASCE 41-17 Table 3-1.
func findCode(f Field, codes map[string]uint8, word string) (uint8, bool) {
	if code, ok := codes[strings.ToLower(word)]; ok {
		return code, true
	}
	return buildingType(f, word)
}

func count(words []string, w string) int {
	n := 0
	for _, v := range words {
		if v == w {
			n++
		}
	}
	return n
}

func first(words []string) string {
	if len(words) == 0 {
		return ""
	}
	return words[0]
}
