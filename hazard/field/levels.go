package field

import (
	"math"
	"sort"

	"plinth/hazard"
)

// A levels maps values at a source's return periods to those of a run:
//
//	ln a(T) = ln a_lo + w (ln a_hi - ln a_lo) + shift
//	w       = (ln T - ln T_lo)/(ln T_hi - ln T_lo)
//
// which is linear in the logarithm of the annual frequency 1/T. Outside the source's range w is
// 0. The end value is held or, for k > 0, extrapolated by
//
//	H(a) = k0 a^-k, so shift = ln(T/T_end)/k
//
// (EN 1998-1 2.1(4), note). The status tells which.
type levels struct {
	run    []float64 // yr
	lo, hi []int     // of the source's levels
	w      []float64
	shift  []float64
	status hazard.Status
}

// newLevels returns the map from source to run, both ascending and not empty.
func newLevels(source, run []float64, k float64) levels {
	n, last := len(run), len(source)-1
	l := levels{
		run: append([]float64(nil), run...),
		lo:  make([]int, n), hi: make([]int, n),
		w: make([]float64, n), shift: make([]float64, n),
	}
	for i, t := range run {
		j := sort.SearchFloat64s(source, t) // source[j-1] < t <= source[j]
		switch {
		case j <= last && source[j] == t:
			l.lo[i], l.hi[i] = j, j
		case j == 0:
			l.end(i, 0, t/source[0], k, hazard.BelowRange)
		case j > last:
			l.end(i, last, t/source[last], k, hazard.AboveRange)
		default:
			l.lo[i], l.hi[i] = j-1, j
			l.w[i] = math.Log(t/source[j-1]) / math.Log(source[j]/source[j-1])
		}
	}
	return l
}

// end maps level i to the source's level j at one end of its range.
func (l *levels) end(i, j int, ratio, k float64, held hazard.Status) {
	l.lo[i], l.hi[i] = j, j
	if k > 0 {
		l.shift[i] = math.Log(ratio) / k
		l.status |= hazard.PowerLaw
	} else {
		l.status |= held
	}
}

// fit interpolates the values of one node: src at the source's levels, dst at the run's, width
// values for each level.
func (l *levels) fit(dst, src []float64, width int) {
	for i := range l.run {
		lo, hi := src[l.lo[i]*width:], src[l.hi[i]*width:]
		for c := range width {
			dst[i*width+c] = lo[c] + l.w[i]*(hi[c]-lo[c]) + l.shift[i]
		}
	}
}
