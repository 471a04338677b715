package field

import (
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"plinth/hazard"
)

// table holds a source's values before they are interpolated at the run's levels.
type table struct {
	file    string
	node    []orb.Point      // each once, south to north and west to east
	line    []int            // where each node first occurs
	levels  []float64        // return periods, yr, ascending
	periods []float64        // s, ascending
	ln      []float64        // for each node, each level: ln(PGA in g), then ln(Sa in g)
	shaking []hazard.Shaking // for each node, each level
	kind    string           // what the file says its values are, "" if it does not
	repeats int              // rows that repeat another
	empty   int              // rows without any value
	notes   notes
}

// slab interpolates the table at the run's levels.
func (t *table) slab(o Options) slab {
	if o.LargestDirection {
		t.mean()
	}
	return newSlab(t, o)
}

// mean converts the values from the direction of the largest response to the geometric mean.
func (t *table) mean() {
	t.notes.add("values of the largest direction are divided by the factor to the geometric mean, %g at "+
		"the peak and %g at %g s",
		hazard.MaximumDirection(0), hazard.MaximumDirection(t.periods[len(t.periods)-1]),
		t.periods[len(t.periods)-1])
	width := 1 + len(t.periods)
	ln := make([]float64, width)
	for i := range ln {
		p := 0.0
		if i > 0 {
			p = t.periods[i-1]
		}
		ln[i] = math.Log(hazard.MaximumDirection(p))
	}
	for i := range t.ln {
		t.ln[i] -= ln[i%width]
	}
}

// look adds the notes that a user of the table should see.
func (t *table) look() {
	if t.repeats > 0 {
		t.notes.add("%d rows repeat another and are read once", t.repeats)
	}
	if t.empty > 0 {
		t.notes.add("%d rows hold no value and are no nodes", t.empty)
	}
	width := 1 + len(t.periods)
	high, top, falls := 0, math.Inf(-1), 0
	for i, v := range t.ln {
		if v > math.Log(highSa) {
			high++
			top = max(top, v)
		}
		l := i / width % len(t.levels)
		if l > 0 && v < t.ln[i-width] {
			falls++
		}
	}
	if high > 0 {
		t.notes.add("%d of %d values are above %g g (up to %.3g g): is the unit right?", high, len(t.ln),
			highSa, math.Exp(top))
	}
	if falls > 0 {
		t.notes.add("%d values are lower than at the next shorter return period", falls)
	}
	t.unit()
}

// unit adds a note if peak accelerations look like those of another unit: by the median of the
// nodes at the return period whose ratio to 475 yr is nearest to 1.
func (t *table) unit() {
	l := 0
	for i, tr := range t.levels {
		if math.Abs(math.Log(tr/475)) < math.Abs(math.Log(t.levels[l]/475)) {
			l = i
		}
	}
	width := 1 + len(t.periods)
	var pga []float64
	for at := l * width; at < len(t.ln); at += len(t.levels) * width {
		pga = append(pga, t.ln[at])
	}
	slices.Sort(pga)
	median, years := math.Exp(pga[len(pga)/2]), t.levels[l]
	switch {
	case median > usualPGA[1] && years <= 1000:
		t.notes.add("half of the nodes have a peak of %.3g g or more at %g yr: is the unit right? Values "+
			"in m/s2 read as g are ten times too high", median, years)
	case median < usualPGA[0] && years >= 100:
		t.notes.add("half of the nodes have a peak of %.3g g or less at %g yr: is the unit right? Values "+
			"in g read as %%g are a hundred times too low", median, years)
	}
}

// usualPGA in g bounds the peak accelerations of a region at some hundred years (judgement:
// national maps at 475 yr have medians from 0.02 to 0.6 g).
var usualPGA = [2]float64{0.003, 1.0}

// highSa in g is above nearly every mapped value; larger numbers are more likely in another
// unit (judgement: m/s2 read as g is ten times too high).
const highSa = 5.0

// notes are the warnings of a source, in the order found.
type notes []string

func (n *notes) add(format string, args ...any) { *n = append(*n, fmt.Sprintf(format, args...)) }

// unread notes the columns of the header that are not among those known.
func (n *notes) unread(header []string, known ...int) {
	for i, h := range header {
		if !slices.Contains(known, i) {
			n.add("column %q is not read", h)
		}
	}
}
