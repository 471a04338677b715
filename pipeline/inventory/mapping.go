package inventory

import (
	"cmp"
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

// nullNumbers notes each number that the plan takes for a missing value, since a real year or area of
// that number is lost with it.
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

// atHeader makes an error about the names of columns. In a text file they stand on the first line.
func (m *mapping) atHeader(src source.Source, key, column, rule, remedy string) error {
	e := &fault.FileError{File: m.file, Key: key, Column: column, Remedy: remedy}
	if src.About().Typed {
		e.Rule = fmt.Sprintf(rule, "register")
		return e
	}
	e.Line, e.Rule = 1, fmt.Sprintf(rule, "header")
	return e
}

// checkKeys finds entries of the plan that name an unknown field, and entries that give a unit or
// values to a field without a column.
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

// columnsOf says which column may have been meant. Only the first error of a register also lists all
// columns of the header.
func (m *mapping) columnsOf(name string, header []string) string {
	if !m.listed {
		m.listed = true
		return fault.DidYouMean(name, header)
	}
	return cmp.Or(fault.Meant(name, header), "the columns there are stand above")
}
