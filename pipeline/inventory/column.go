package inventory

import (
	"fmt"
	"maps"
	"slices"
	"strings"

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
	mapped bool                    // the plan has a table of values for the field
}

// more finds the columns that group and explode name. They need not be mapped to a field.
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

// places returns the index of each mapped column in the header.
func (m *mapping) places() []int {
	at := make([]int, 0, m.width)
	for i := range m.columns {
		at = append(at, m.columns[i].at)
	}
	return append(at, m.extra...)
}

// column checks one entry of [inventory.columns], with its unit and its values.
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
	_, c.mapped = inv.Values[f.String()]
	return c, m.values(&c, inv.Values[f.String()])
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

// values enters the value map of a column. For a field of words it also enters our own words.
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
