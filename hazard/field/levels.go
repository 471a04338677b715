package field

import (
	"math"
	"slices"
	"sort"

	"plinth/hazard"
)

// A levels maps values at a source's return periods to those of a run:
//
//	ln a(T) = ln a_1 + w (ln a_2 - ln a_1) + shift
//	w       = (ln T - ln T_1)/(ln T_2 - ln T_1)
//
// which is linear in the logarithm of the annual frequency 1/T. Outside the source's range, at its
// end T_1, one of three rules holds, and the status tells which:
//
//	a declared k > 0   H(a) = k0 a^-k, so shift = ln(T/T_1)/k and w = 0 (EN 1998-1 2.1(4), note)
//	two levels         w = (R(T) - R(T_1))/(R(T_2) - R(T_1)), R hazard.ReturnShape: the slope is the
//	                   source's own between its end and the level beside it, of each ordinate, and
//	                   bends as hazard curves do
//	one level          the first rule with DefaultK
//
// Values never fall towards rarer shaking there. Two levels nearer than leastApart give no slope.
type levels struct {
	run    []float64 // yr
	lo, hi []int     // of the source's levels
	w      []float64 // below 0 outside the source's range, by the slope at its end
	shift  []float64
	asked  []bool        // a level of the run, not one between
	status hazard.Status // of every place
}

// DefaultK is the exponent of H ~ a^-k where a source has one return period and none is declared:
// EN 1998-1 2.1(4), note, gives about 3 (from memory). It decides nothing: the status says that the
// slope is not known.
const DefaultK = 3

// leastApart is the least ratio of two return periods whose values give a slope, and farAway the
// ratio beyond which a value by the slope of the end is flagged (both judgement).
const leastApart, farAway = 1.5, 10

// newLevels returns the map from source, ascending and not empty, to the levels of o.
func newLevels(source []float64, o *Options) levels {
	l := o.levels()
	last := len(source) - 1
	for i, t := range l.run {
		j := sort.SearchFloat64s(source, t) // source[j-1] < t <= source[j]
		switch {
		case j <= last && source[j] == t:
			l.lo[i], l.hi[i] = j, j
		case j == 0:
			l.outside(i, 0, source, o.K)
		case j > last:
			l.outside(i, last, source, o.K)
		default:
			l.lo[i], l.hi[i] = j-1, j
			l.w[i] = math.Log(t/source[j-1]) / math.Log(source[j]/source[j-1])
		}
	}
	return l
}

// levels returns the levels of the options, mapped to nothing yet.
func (o *Options) levels() levels {
	run := slices.Concat(o.ReturnPeriods, o.Between)
	slices.Sort(run)
	run = slices.Compact(run)
	n := len(run)
	l := levels{run: run, lo: make([]int, n), hi: make([]int, n), w: make([]float64, n),
		shift: make([]float64, n), asked: make([]bool, n)}
	for i, t := range run {
		l.asked[i] = slices.Contains(o.ReturnPeriods, t)
	}
	return l
}

// outside maps level i beyond the end of the source, which is its level j.
func (l *levels) outside(i, j int, source []float64, k float64) {
	ratio := l.run[i] / source[j]
	beside := neighbour(source, j)
	l.lo[i], l.hi[i] = j, beside
	switch {
	case k > 0:
		l.hi[i] = j
		l.shift[i] = math.Log(ratio) / k
		l.flag(i, hazard.PowerLaw)
	case beside == j:
		l.shift[i] = math.Log(ratio) / DefaultK
		l.status |= hazard.SlopeUnknown
		l.beyond(i, ratio)
	default:
		from := hazard.ReturnShape(source[j])
		l.w[i] = (hazard.ReturnShape(l.run[i]) - from) / (hazard.ReturnShape(source[beside]) - from)
		l.beyond(i, ratio)
	}
}

// neighbour returns the level of the source that gives the slope at its end j; j if there is none.
func neighbour(source []float64, j int) int {
	step := 1
	if j > 0 {
		step = -1
	}
	for i := j + step; i >= 0 && i < len(source); i += step {
		if max(source[i]/source[j], source[j]/source[i]) >= leastApart {
			return i
		}
	}
	return j
}

// beyond flags level i, whose return period is ratio times that of the source's end.
func (l *levels) beyond(i int, ratio float64) {
	if ratio < 1 {
		l.flag(i, hazard.BelowRange)
	} else {
		l.flag(i, hazard.AboveRange)
	}
	if max(ratio, 1/ratio) > farAway {
		l.status |= hazard.FarBeyond
	}
}

// flag adds a status that only the levels asked for have.
func (l *levels) flag(i int, s hazard.Status) {
	if l.asked[i] {
		l.status |= s
	}
}

// fit interpolates the values of one node: src at the source's levels, dst at the run's, width
// values for each level.
func (l *levels) fit(dst, src []float64, width int) {
	for i := range l.run {
		lo, hi := src[l.lo[i]*width:], src[l.hi[i]*width:]
		for c := range width {
			rise := hi[c] - lo[c]
			if l.w[i] < 0 && (rise < 0) != (l.hi[i] < l.lo[i]) {
				rise = 0
			}
			dst[i*width+c] = lo[c] + l.w[i]*rise + l.shift[i]
		}
	}
}

// held reports whether level i lies outside the source's range.
func (l *levels) held(i int) bool { return l.w[i] < 0 || l.shift[i] != 0 }
