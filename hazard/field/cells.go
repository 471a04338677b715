package field

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/paulmach/orb"
)

// cells reads a CSV file row by row: a header, then data. Lines that begin with # are comments;
// a byte order mark is skipped.
type cells struct {
	file   string
	csv    *csv.Reader
	header []string // as written
	row    []string
	line   int
	to     Projection // of the coordinates, nil if they are degrees
	ps     *Problems
}

// newCells reads the header. It returns nil and records a problem if there is none.
func newCells(r io.Reader, file string, o Options, ps *Problems) *cells {
	b := bufio.NewReaderSize(r, 1<<16)
	if mark, _ := b.Peek(3); bytes.Equal(mark, []byte("\ufeff")) {
		_, _ = b.Discard(3)
	}
	c := &cells{file: file, csv: csv.NewReader(b), ps: ps}
	c.csv.ReuseRecord = true
	c.csv.Comment = '#'
	if o.Comma != 0 {
		c.csv.Comma = o.Comma
	}
	c.to, _ = ProjectionOf(o.CRS) // checked with the options
	head, err := c.csv.Read()
	if err != nil {
		c.broken(err)
		return nil
	}
	for _, h := range head {
		c.header = append(c.header, strings.TrimSpace(h))
	}
	if len(head) == 1 && strings.ContainsAny(head[0], ";\t") {
		ps.add(Problem{File: file, Line: 1, Value: head[0], Rule: "the header is one cell",
			Remedy: "name the separator in option Comma"})
		return nil
	}
	return c
}

// next reads a row; it is false at the end. A row that cannot be read is recorded as a problem
// and skipped.
func (c *cells) next() bool {
	for {
		row, err := c.csv.Read()
		if err == io.EOF {
			return false
		}
		if err == nil {
			c.row = row
			c.line, _ = c.csv.FieldPos(0)
			return true
		}
		if !c.broken(err) {
			return false
		}
	}
}

// broken records that a row cannot be read and reports whether more may follow.
func (c *cells) broken(err error) bool {
	p := Problem{File: c.file, Rule: err.Error(), Remedy: "mend the file"}
	var pe *csv.ParseError
	switch {
	case err == io.EOF:
		p.Rule, p.Remedy = "the file is empty", "give a header and rows"
	case errors.As(err, &pe):
		p.Line, p.Rule = pe.StartLine, pe.Err.Error()
		if errors.Is(err, csv.ErrFieldCount) {
			p.Remedy = "give every row as many cells as the header"
		}
	}
	c.ps.add(p)
	return pe != nil
}

// bad records a problem in column i of the row.
func (c *cells) bad(i int, rule, remedy string) {
	c.ps.add(Problem{File: c.file, Line: c.line, Column: c.header[i], Value: c.row[i], Rule: rule,
		Remedy: remedy})
}

// text returns the cell of column i without spaces around it.
func (c *cells) text(i int) string { return strings.TrimSpace(c.row[i]) }

// float returns the number in column i. If there is none, it returns false and records a
// problem.
func (c *cells) float(i int) (float64, bool) {
	s := c.text(i)
	v, err := strconv.ParseFloat(s, 64)
	switch {
	case s == "":
		c.bad(i, "the cell is empty", "give the number or leave the row out")
	case err != nil && strings.Contains(s, ","):
		c.bad(i, "not a number", "write a decimal point")
	case err != nil:
		c.bad(i, "not a number", "write digits with a decimal point")
	case math.IsNaN(v) || math.IsInf(v, 0):
		c.bad(i, "not a finite number", "leave out rows without values")
	default:
		return v, true
	}
	return 0, false
}

// above0 returns the number in column i, which must be above 0.
func (c *cells) above0(i int) (float64, bool) {
	v, ok := c.float(i)
	if ok && v <= 0 {
		c.bad(i, "must be above 0", "write small values with all their digits, or leave the row out")
		return 0, false
	}
	return v, ok
}

// returnPeriod returns the return period in yr in column i.
func (c *cells) returnPeriod(i int) (float64, bool) {
	v, ok := c.float(i)
	if ok && !isReturnPeriod(v) {
		c.bad(i, "no return period between 0.01 and 1e9 yr", "give years, not a frequency")
		return 0, false
	}
	return v, ok
}

// node finds the columns of the coordinates.
func (c *cells) node() (lon, lat int) {
	if c.to != nil {
		return c.find(true, "x", "easting", "lon", "longitude"),
			c.find(true, "y", "northing", "lat", "latitude")
	}
	return c.find(true, "lon", "longitude"), c.find(true, "lat", "latitude")
}

// place returns the node in columns east and north, longitude and latitude in
// degrees.
func (c *cells) place(east, north int) (orb.Point, bool) {
	x, okX := c.float(east)
	y, okY := c.float(north)
	if !okX || !okY {
		return orb.Point{}, false
	}
	if c.to != nil {
		lon, lat := c.to(x, y)
		if math.IsNaN(lon + lat) {
			c.bad(north, "no easting and northing in m within the zone of the CRS",
				"check the code of the zone, and whether the two are exchanged")
			return orb.Point{}, false
		}
		x, y = lon, lat
	}
	if math.Abs(y) > 90 {
		remedy := "latitudes lie between -90 and 90: are longitude and latitude exchanged?"
		if math.Abs(y) > 360 {
			remedy = "the coordinates look projected: declare the UTM zone as crs, or convert them to " +
				"degrees, EPSG:4326"
		}
		c.bad(north, "no latitude", remedy)
		return orb.Point{}, false
	}
	x, ok := place(x, y)
	if !ok {
		c.bad(east, "no longitude", "give degrees between -180 and 360 east")
	}
	return orb.Point{x, y}, ok
}

// find returns the column whose name, in lower case, is one of names, or -1. It records a
// problem if there are two, or none although one must be there.
func (c *cells) find(must bool, names ...string) int {
	at := -1
	for i, h := range c.header {
		for _, n := range names {
			if strings.EqualFold(h, n) {
				if at >= 0 {
					c.ps.add(Problem{File: c.file, Line: 1, Column: h, Rule: "the column stands twice",
						Remedy: "keep one"})
				}
				at = i
			}
		}
	}
	if at < 0 && must {
		c.ps.add(Problem{File: c.file, Line: 1, Column: names[0], Rule: "the column is missing",
			Remedy: "the header has " + strings.Join(c.header, ", ")})
	}
	return at
}
