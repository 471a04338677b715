package field

import (
	"cmp"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"plinth/hazard"
)

// ReadCurves reads hazard curves by location from r: a CSV file with a row for
// each point of a curve and the columns
//
//	lon, lat          degrees
//	period_s          period in s; 0 or pga for the peak ground acceleration
//	sa                acceleration
//	annual_frequency  annual frequency of exceeding it, 1/yr
//
// in any order of columns and rows. Every node needs a curve for the peak and for each period,
// of at least two points, with frequencies that fall as accelerations grow. Points of frequency
// 0 lie beyond a curve's end and are skipped.
//
// Each curve is read at the return periods of the run, T = 1/frequency, by straight lines in
// ln(Sa) - ln(frequency), which gives uniform-hazard spectra. Outside a curve's ends Options.K
// applies, or the slope of its end; the status of each place tells which.
func ReadCurves(r io.Reader, file string, layout Layout, o Options) (*Nodes, error) {
	var ps Problems
	o.check(file, &ps)
	if err := ps.err(); err != nil {
		return nil, err
	}
	got := readCurves(r, file, o, &ps)
	if err := ps.err(); err != nil {
		return nil, err
	}
	t, each := got.table(o, &ps)
	if err := ps.err(); err != nil {
		return nil, err
	}
	n, err := newNodes(t, layout, o)
	if err != nil {
		return nil, err
	}
	n.each = each
	n.coverage.only(o.ReturnPeriods)
	return n, nil
}

// leastFrequency in 1/yr is the frequency below which a point counts as 0: the rounding of a
// computed curve.
const leastFrequency = 1e-20

// A curvePoint is a point of a hazard curve.
type curvePoint struct {
	returnPeriod float64 // yr, 1/frequency
	lnSa         float64
	line         int
}

// curves gathers hazard curves by node and period.
type curves struct {
	file   string
	node   map[orb.Point]map[float64][]curvePoint
	line   map[orb.Point]int // where a node first occurs
	period []float64         // s, 0 for PGA, in order of appearance
	zeros  int               // points of frequency 0
	notes  notes
}

func readCurves(r io.Reader, file string, o Options, ps *Problems) *curves {
	c := newCells(r, file, o, ps)
	if c == nil {
		return nil
	}
	lon, lat := c.node()
	period, sa := c.find(true, "period_s", "period"), c.find(true, "sa", "sa_g")
	frequency := c.find(true, "annual_frequency")
	if ps.err() != nil {
		return nil
	}
	if strings.EqualFold(c.header[sa], "sa_g") && o.Unit != "" && o.Unit != "g" {
		c.problem(c.header[sa], "the name says g and the option Unit says "+o.Unit, "correct one of the two")
	}
	got := &curves{file: file, node: map[orb.Point]map[float64][]curvePoint{}, line: map[orb.Point]int{}}
	got.notes.unread(c.header, lon, lat, period, sa, frequency)
	for c.next() {
		p, okP := c.place(lon, lat)
		t, okT := 0.0, true
		if !strings.EqualFold(c.text(period), "pga") {
			if t, okT = c.float(period); okT && t != 0 && !isPeriod(t) {
				c.bad(period, "no period from 0.001 to 100 s",
					"write seconds, 0 for the peak ground acceleration")
				okT = false
			}
		}
		var ln float64
		okA := c.acceleration(sa, units[o.Unit], &ln)
		f, okF := c.float(frequency)
		switch {
		case okF && !(f >= 0 && f <= 1e6):
			c.bad(frequency, "no annual frequency", "give exceedances a year")
		case okF && f < leastFrequency && okP && okT && okA:
			got.zeros++
		case okF && okP && okT && okA:
			got.add(p, t, curvePoint{1 / f, ln, c.line})
		}
	}
	ps.needNodes(file, len(got.node))
	return got
}

func (c *curves) add(p orb.Point, period float64, q curvePoint) {
	if c.node[p] == nil {
		c.node[p], c.line[p] = map[float64][]curvePoint{}, q.line
	}
	if len(c.period) <= 1+maxPeriods && !slices.Contains(c.period, period) {
		c.period = append(c.period, period)
	}
	c.node[p][period] = append(c.node[p][period], q)
}

// table reads the curves at the run's return periods; each is the status of each
// node of the table.
func (c *curves) table(o Options, ps *Problems) (t *table, each []hazard.Status) {
	slices.Sort(c.period)
	if len(c.period) < 2 || c.period[0] != 0 || len(c.period) > 1+maxPeriods {
		ps.add(Problem{File: c.file, Column: "period_s",
			Rule:   fmt.Sprintf("the peak (period 0) and 1 to %d periods are needed", maxPeriods),
			Remedy: "give curves for them"})
		return nil, nil
	}
	got := rows{file: c.file}
	run := o.levels().run
	status := map[orb.Point]hazard.Status{}
	repeats := 0
	for _, p := range slices.SortedFunc(maps.Keys(c.node), south) {
		ln := make([][]float64, len(run)) // by level, then ordinate
		for i := range ln {
			ln[i] = make([]float64, len(c.period))
		}
		for k, period := range c.period {
			repeats += c.read(p, period, o, ps, func(s hazard.Status, level int, v float64) {
				status[p] |= s
				ln[level][k] = v
			})
		}
		for i, tr := range run {
			got.add(p, tr, c.line[p], ln[i], hazard.Shaking{})
		}
	}
	t = got.table(c.period[1:], ps)
	t.repeats, t.notes = repeats, c.notes
	if c.zeros > 0 {
		t.notes.add("%d points have frequency 0 and are not read", c.zeros)
	}
	for _, p := range t.node {
		each = append(each, status[p])
	}
	return t, each
}

// read yields ln(Sa) of one curve at each level of the run and returns how many
// of its points repeat another.
func (c *curves) read(p orb.Point, period float64, o Options, ps *Problems,
	yield func(hazard.Status, int, float64)) int {
	q := c.node[p][period]
	slices.SortFunc(q, func(a, b curvePoint) int {
		return cmp.Or(cmp.Compare(a.lnSa, b.lnSa), cmp.Compare(a.returnPeriod, b.returnPeriod),
			cmp.Compare(a.line, b.line))
	})
	all := len(q)
	q = slices.CompactFunc(q, func(a, b curvePoint) bool {
		return a.lnSa == b.lnSa &&
			a.returnPeriod == b.returnPeriod
	})
	bad := func(line int, rule, remedy string) {
		ps.add(Problem{File: c.file, Line: line, Column: "annual_frequency",
			Value: fmt.Sprintf("%s, period %s s", where(p), number(period)), Rule: rule, Remedy: remedy})
	}
	if len(q) < 2 {
		bad(c.line[p], fmt.Sprintf("the curve has %d points", len(q)),
			"give at least two of different frequency")
		return 0
	}
	var returnPeriods, ln []float64
	for i, v := range q {
		if i > 0 && v.lnSa == q[i-1].lnSa {
			bad(v.line, fmt.Sprintf("line %d gives the same acceleration another frequency", q[i-1].line),
				"keep one of the two")
			return 0
		}
		if i > 0 && v.returnPeriod <= q[i-1].returnPeriod {
			bad(v.line, fmt.Sprintf("the frequency does not fall from line %d, whose acceleration is lower",
				q[i-1].line), "a hazard curve falls")
			return 0
		}
		returnPeriods, ln = append(returnPeriods, v.returnPeriod), append(ln, v.lnSa)
	}
	l := newLevels(returnPeriods, &o)
	at := make([]float64, len(l.run))
	l.fit(at, ln, 1)
	for i, v := range at {
		yield(l.status, i, v)
	}
	return all - len(q)
}
