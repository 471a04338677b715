package output

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// NoInt is the missing value of an Int column.
const NoInt = math.MinInt64

// DefaultDigits is the number of significant digits of a Float column that states none. Six digits
// keep a cost to one part in a million. They serve joining and checking and say nothing of
// accuracy.
const DefaultDigits = 6

// A Column describes one column of a table of rows R: its name, its unit, its meaning, and where
// the row holds its value. Exactly one of Float, Text, Int and Bool is set. It returns the address
// of the value.
//
// A number that is not finite, an empty text and NoInt are missing values. They become an empty
// cell in CSV and a null in Parquet. A Bool is never missing.
type Column[R any] struct {
	Name     string // lower case ASCII, ending in the unit: height_m
	Unit     string // as in a sentence: m, g, 1/yr; empty if it has none
	Doc      string // one line for the data dictionary
	Digits   int    // significant digits of a Float, 0 for DefaultDigits
	Required bool   // a row without a value is an error of the program

	Float func(*R) *float64
	Text  func(*R) *string
	Int   func(*R) *int64
	Bool  func(*R) *bool
}

// Type returns the type of the column in plain words.
func (c *Column[R]) Type() string {
	switch {
	case c.Float != nil:
		return "number"
	case c.Text != nil:
		return "text"
	case c.Int != nil:
		return "integer"
	default:
		return "true or false"
	}
}

// float returns the value of a Float column rounded as it is written, and NaN if it is missing.
func (c *Column[R]) float(row *R) float64 { return Round(*c.Float(row), c.digits()) }

// digits returns the significant digits of a Float column.
func (c *Column[R]) digits() int {
	if c.Digits == 0 {
		return DefaultDigits
	}
	return c.Digits
}

// missing reports whether row has no value in the column.
func (c *Column[R]) missing(row *R) bool {
	switch {
	case c.Float != nil:
		v := *c.Float(row)
		return math.IsNaN(v - v) // not finite
	case c.Text != nil:
		return *c.Text(row) == ""
	case c.Int != nil:
		return *c.Int(row) == NoInt
	default:
		return false
	}
}

// A Table describes all columns of one kind of row.
type Table[R any] struct {
	Name    string // stem of the file names
	Title   string // one line
	Doc     string // what one row is
	ID      string // name of the Text column that joins to the owner's register
	Key     []string
	Order   string // Int column by which the rows ascend, "" if there is none
	Point   bool   // has columns lon and lat, written as a geometry to Parquet
	Columns []Column[R]

	// Shape returns the outline of row in degrees, nil for none. A table with Shape has outlines as its
	// geometry, whatever its columns lon and lat hold. It is nil for tables of points and for plain ones.
	Shape func(row *R) orb.Polygon
}

// placed reports whether the rows have a geometry.
func (t *Table[R]) placed() bool { return t.Point || t.Shape != nil }

// Blank makes every value of row missing, and every Bool false. A value that is not filled
// afterwards is then written as missing and not as zero.
func (t *Table[R]) Blank(row *R) {
	for i := range t.Columns {
		switch c := &t.Columns[i]; {
		case c.Float != nil:
			*c.Float(row) = math.NaN()
		case c.Text != nil:
			*c.Text(row) = ""
		case c.Int != nil:
			*c.Int(row) = NoInt
		default:
			*c.Bool(row) = false
		}
	}
}

// check returns an error if a required value is missing.
func (t *Table[R]) check(row *R) error {
	for i := range t.Columns {
		if c := &t.Columns[i]; c.Required && c.missing(row) {
			return &CellError{Table: t.Name, Column: c.Name, ID: t.id(row)}
		}
	}
	return nil
}

// id returns the owner's id in row, or "" if the table has no ids.
func (t *Table[R]) id(row *R) string {
	if c := t.column(t.ID); c != nil {
		return *c.Text(row)
	}
	return ""
}

// column returns the column called name, or nil if there is none.
func (t *Table[R]) column(name string) *Column[R] {
	for i := range t.Columns {
		if t.Columns[i].Name == name {
			return &t.Columns[i]
		}
	}
	return nil
}

// A CellError says that a row lacks a value that it must have. It is a mistake of the program, not
// of the data.
type CellError struct{ Table, Column, ID string }

func (e *CellError) Error() string {
	return fmt.Sprintf("output %s, building %q: column %s must have a value and has none", e.Table, e.ID,
		e.Column)
}
