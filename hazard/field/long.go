package field

import (
	"cmp"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
)

// ordinates maps columns of a file to ordinates of the spectrum.
type ordinates struct {
	pga     int       // column
	sa      []int     // columns, in the order of periods
	periods []float64 // s, ascending
}

// readLong reads the long form that ReadGrid describes.
func readLong(r io.Reader, file string, o Options, ps *Problems) *table {
	c := newCells(r, file, o, ps)
	if c == nil {
		return nil
	}
	var n notes
	lon, lat := c.node()
	level := c.find(true, "return_period_yr", "return_period")
	kind := c.find(false, "kind")
	shakes := findShaking(func(name string) int { return c.find(false, name) })
	ord := findOrdinates(c.header, o.Unit, &n, c.problem, append(shakes.known(), lon, lat, level, kind)...)
	shakes.look(&n)
	if ps.err() != nil {
		return nil
	}

	got := rows{file: file}
	said, empty := "", 0
	ln := make([]float64, 1+len(ord.periods))
	for first := true; c.next(); first = false {
		p, okP := c.place(lon, lat)
		period, okT := c.returnPeriod(level)
		if kind >= 0 {
			if k := c.text(kind); first {
				said = k
			} else if k != said {
				c.bad(kind, "rows above are of kind "+strconv.Quote(said),
					"put each kind in a file of its own")
			}
		}
		if c.blank(ord) {
			empty++
			continue
		}
		shaking, okS := shakes.read(c.float, c.bad)
		if c.values(ord, ln, units[o.Unit]) && okP && okT && okS {
			got.add(p, period, c.line, ln, shaking)
		}
	}
	ps.needNodes(file, len(got.node))
	t := got.table(ord.periods, ps)
	t.kind, t.empty, t.notes = said, empty, n
	return t
}

// findOrdinates finds the columns of the spectrum in a header and notes the columns that are
// neither ordinates nor among known. Problems go to bad.
func findOrdinates(header []string, unit string, n *notes, bad func(column, rule, remedy string),
	known ...int) ordinates {
	o := ordinates{pga: -1}
	type column struct {
		at     int
		period float64
	}
	var sa []column
	for i, h := range header {
		if slices.Contains(known, i) {
			continue
		}
		name, saysG := strings.CutSuffix(strings.ToLower(h), "_g")
		text, isSa := strings.CutPrefix(name, "sa_")
		t, err := strconv.ParseFloat(text, 64)
		isPGA := name == "pga" || isSa && err == nil && t == 0
		if saysG && (isSa || isPGA) && unit != "" && unit != "g" {
			bad(h, "the name says g and the option Unit says "+unit, "correct one of the two")
		}
		switch {
		case isPGA && o.pga >= 0:
			bad(h, "the peak stands twice", "keep one")
		case isPGA:
			o.pga = i
		case isSa && (err != nil || !isPeriod(t)):
			bad(h, "no period from 0.001 to 100 s after sa_", "write it as in sa_0.2")
		case isSa:
			sa = append(sa, column{i, t})
		default:
			n.add("column %q is not read", h)
		}
	}
	slices.SortFunc(sa, func(a, b column) int { return cmp.Compare(a.period, b.period) })
	for i, s := range sa {
		if i > 0 && s.period == sa[i-1].period {
			bad(header[s.at], "the period stands twice", "keep one")
		}
		o.sa, o.periods = append(o.sa, s.at), append(o.periods, s.period)
	}
	switch {
	case o.pga < 0:
		bad("pga", "the peak ground acceleration is missing",
			"give it (0.4 of the plateau in ASCE 7-16 11.4.6)")
	case len(sa) == 0:
		bad("sa_...", "no spectral acceleration", "name them by the period in s, such as sa_0.2")
	case len(sa) > maxPeriods:
		bad("sa_...", "more than "+strconv.Itoa(maxPeriods)+" periods", "keep those the buildings need")
	}
	return o
}

// problem records a problem of the header.
func (c *cells) problem(column, rule, remedy string) {
	c.ps.add(Problem{File: c.file, Line: 1, Column: column, Rule: rule, Remedy: remedy})
}

// blank reports whether the row has no ordinates at all.
func (c *cells) blank(o ordinates) bool {
	for _, i := range o.sa {
		if c.text(i) != "" {
			return false
		}
	}
	return c.text(o.pga) == ""
}

// The accelerations in g that a row may hold. A number beyond them is a mistake that would only
// propagate infinities.
const (
	leastSa = 1e-12
	mostSa  = 1e6
)

func isAcceleration(g float64) bool { return g >= leastSa && g <= mostSa }

// values reads the logarithms of the row's ordinates in g into ln.
func (c *cells) values(o ordinates, ln []float64, unit float64) bool {
	good := c.acceleration(o.pga, unit, &ln[0])
	for k, i := range o.sa {
		good = c.acceleration(i, unit, &ln[1+k]) && good
	}
	return good
}

// acceleration reads the logarithm of the acceleration in column i in g.
func (c *cells) acceleration(i int, unit float64, ln *float64) bool {
	v, ok := c.above0(i)
	if !ok {
		return false
	}
	v *= unit
	if !isAcceleration(v) {
		c.bad(i, "no acceleration of the ground", "check the number and its unit")
		return false
	}
	*ln = math.Log(v)
	return true
}
