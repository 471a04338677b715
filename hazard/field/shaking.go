package field

import (
	"math"

	"plinth/hazard"
)

// shakingColumns are the columns of a file that say how the ground shakes at a node and return
// period: the magnitude and the distance in km that govern it (the means of a disaggregation), its
// significant duration D5-95 in s, the period of a pulse in s, 0 for none. -1 for one that the file
// does not have.
type shakingColumns [4]int

// shakingNames names them, with the least and most of each and what to do about a number outside.
var shakingNames = [len(shakingColumns{})]struct {
	name        string
	least, most float64
	remedy      string
}{
	{"magnitude", 3, 10, "give the moment magnitude that governs"},
	{"distance_km", 0, 1000, "give the distance to the rupture in km"},
	{"duration_s", 0.1, 600, "give D5-95 in s"},
	{"pulse_period_s", 0, 30, "give the period of the pulse in s, 0 for none"},
}

// findShaking returns the columns, by find, which returns -1 for a name that is not there.
func findShaking(find func(name string) int) (c shakingColumns) {
	for i := range c {
		c[i] = find(shakingNames[i].name)
	}
	return c
}

// known returns the columns that are there.
func (c shakingColumns) known() []int {
	var out []int
	for _, at := range c {
		if at >= 0 {
			out = append(out, at)
		}
	}
	return out
}

// read returns the shaking of a row. value returns the number of a column and whether there is one;
// bad records a value that cannot be.
func (c shakingColumns) read(value func(at int) (float64, bool), bad func(at int, rule, remedy string)) (
	s hazard.Shaking, ok bool) {
	var v [len(c)]float64
	ok = true
	for i, at := range c {
		if at < 0 {
			continue
		}
		is := shakingNames[i]
		x, good := value(at)
		if good && !(x >= is.least && x <= is.most) {
			bad(at, "not from "+number(is.least)+" to "+number(is.most), is.remedy)
			good = false
		}
		v[i], ok = x, ok && good
	}
	if c[0] >= 0 && c[1] >= 0 { // one without the other says nothing
		s.Magnitude, s.Distance = v[0], v[1]
	}
	s.Duration, s.PulsePeriod = v[2], v[3]
	return s, ok
}

// look notes a magnitude without a distance or the other way round.
func (c shakingColumns) look(n *notes) {
	if (c[0] >= 0) != (c[1] >= 0) {
		n.add("magnitude and distance_km say something together only: the one is not read")
	}
}

// shaking interpolates the shaking of one node: src at the source's levels, dst at the run's. The
// magnitude and the logarithms of distance and duration are linear in the logarithm of the return
// period, and held outside those of the source; a pulse is that of the nearer level.
func (l *levels) shaking(dst, src []hazard.Shaking) {
	for i := range l.run {
		a, b, w := &src[l.lo[i]], &src[l.hi[i]], min(max(l.w[i], 0), 1)
		dst[i] = *a
		if w > 0.5 {
			dst[i].PulsePeriod = b.PulsePeriod
		}
		dst[i].Magnitude += w * (b.Magnitude - a.Magnitude)
		dst[i].Distance = along(a.Distance, b.Distance, w)
		dst[i].Duration = along(a.Duration, b.Duration, w)
	}
}

// along returns the value at w between a and b, linear in its logarithm where both are above 0.
func along(a, b, w float64) float64 {
	if a > 0 && b > 0 {
		return a * math.Pow(b/a, w)
	}
	return a + w*(b-a)
}
