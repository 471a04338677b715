package field

import (
	"math"
	"slices"

	"github.com/paulmach/orb"
)

// Coverage describes a source as it was read, at its own return periods, for the user to check
// before use.
type Coverage struct {
	File          string
	Kind          string // what the file says its values are, "" if it does not
	Bound         orb.Bound
	Nodes         int
	Missing       int        // places of a regular grid without a node
	Spacing       [2]float64 // degrees east and north of a regular grid; 0 otherwise
	SpacingM      float64    // m, of scattered nodes: the median to the nearest other
	ReturnPeriods []float64  // yr, of the source
	Periods       []float64  // s
	Range         []Range    // one for each return period
	Neighbours    Steepness
	Warnings      []string
}

// A Range is the least and the most of the nodes at one return period, in g.
type Range struct {
	ReturnPeriod   float64 // yr
	PGALow, PGATop float64
	SaLow, SaTop   float64 // over all periods
}

// A Steepness says how much neighbouring nodes differ: by the largest ratio of
// their PGA or Sa at any level.
type Steepness struct {
	Pairs    int
	Steep    int     // pairs with a ratio above 2
	Ratio    float64 // the largest; 0 without pairs
	From, To orb.Point
}

// steepRatio is the ratio between neighbours above which the user should check the source
// (judgement: mapped values rarely change faster between nodes ten kilometres apart, except at
// the edge of a block of wrong ones).
const steepRatio = 2

// newCoverage describes the table laid out as p, which is nil if it has no places.
func newCoverage(t *table, p places) Coverage {
	c := Coverage{
		File: t.file, Kind: t.kind, Bound: world, Nodes: len(t.node),
		ReturnPeriods: t.levels, Periods: t.periods, Range: t.ranges(),
	}
	t.look()
	if p != nil {
		c.Bound = p.bound()
		c.Neighbours = t.steepness(p)
		p.describe(&c)
		if n := c.Neighbours; n.Steep > 0 {
			t.notes.add("%d of %d pairs of neighbouring nodes differ by more than a factor %d, most by "+
				"%.2g between (%s) and (%s)",
				n.Steep, n.Pairs, steepRatio, n.Ratio, where(n.From), where(n.To))
		}
	}
	c.Warnings = t.notes
	return c
}

// only leaves out the return periods that are not listed.
func (c *Coverage) only(list []float64) {
	c.ReturnPeriods = list
	c.Range = slices.DeleteFunc(c.Range, func(r Range) bool { return !slices.Contains(list, r.ReturnPeriod) })
}

// ranges returns the range of each level.
func (t *table) ranges() []Range {
	all := make([]Range, len(t.levels))
	width := 1 + len(t.periods)
	for l, level := range t.levels {
		pgaLow, pgaTop, saLow, saTop := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
		for at := l * width; at < len(t.ln); at += len(t.levels) * width {
			pgaLow, pgaTop = min(pgaLow, t.ln[at]), max(pgaTop, t.ln[at])
			for _, v := range t.ln[at+1 : at+width] {
				saLow, saTop = min(saLow, v), max(saTop, v)
			}
		}
		all[l] = Range{level, math.Exp(pgaLow), math.Exp(pgaTop), math.Exp(saLow), math.Exp(saTop)}
	}
	return all
}

// steepness compares the neighbours of p.
func (t *table) steepness(p places) Steepness {
	var s Steepness
	stride := len(t.levels) * (1 + len(t.periods))
	top := math.Inf(-1)
	p.neighbours(func(a, b int) {
		far := 0.0
		other := t.ln[b*stride : (b+1)*stride]
		for i, v := range t.ln[a*stride : (a+1)*stride] {
			far = max(far, math.Abs(v-other[i]))
		}
		s.Pairs++
		if far > math.Log(steepRatio) {
			s.Steep++
		}
		if far > top {
			top, s.From, s.To = far, t.node[a], t.node[b]
		}
	})
	s.Ratio = math.Exp(top) // exp(-Inf) is 0
	return s
}
