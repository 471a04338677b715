package areas

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"plinth/pipeline/output"
)

// A sum adds up the buildings of one area.
type sum struct {
	row      output.Area
	grades   [4]int64
	drifts   map[float64]int64 // buildings by drift to three digits
	measures map[string]int64
	hull     hull
}

// driftDigits are the digits of a drift in the median. There are 900 such numbers from one power of ten
// to the next, so that memory is bounded whatever the number of buildings.
const driftDigits = 3

func newSum(name, kind string) *sum {
	s := &sum{drifts: map[float64]int64{}, measures: map[string]int64{}}
	output.Areas.Blank(&s.row)
	s.row.Name, s.row.Kind = name, kind
	s.row.Buildings, s.row.LookNow, s.row.Paying, s.row.Joined = 0, 0, 0, 0
	return s
}

// add adds a building.
func (s *sum) add(b *output.Building) {
	r := &s.row
	r.Buildings++
	r.Currency = cmp.Or(r.Currency, b.Currency)
	if b.LookNow != "" {
		r.LookNow++
	}
	plus(&r.ReplacementValue, b.ReplacementValue)
	plus(&r.AnnualLoss, b.AnnualLoss)
	plus(&r.Fatalities, b.AnnualFatalities)
	if b.BestNetBenefit > 0 {
		r.Paying++
		plus(&r.Cost, b.BestCostLikely)
		plus(&r.NetBenefit, b.BestNetBenefit)
	}
	if !math.IsNaN(b.Drift) {
		s.drifts[output.Round(b.Drift, driftDigits)]++
	}
	if len(b.DataGrade) == 1 && b.DataGrade[0] >= 'A' && b.DataGrade[0] <= 'D' {
		s.grades[b.DataGrade[0]-'A']++
	}
	if b.Best != "" {
		s.measures[b.Best]++
	}
	if !math.IsNaN(b.Lon) && !math.IsNaN(b.Lat) {
		s.hull.add(orb.Point{b.Lon, b.Lat})
	}
}

// join adds the buildings of another area.
func (s *sum) join(o *sum) {
	r, t := &s.row, &o.row
	r.Joined++
	r.Buildings, r.LookNow, r.Paying = r.Buildings+t.Buildings, r.LookNow+t.LookNow, r.Paying+t.Paying
	r.Currency = cmp.Or(r.Currency, t.Currency)
	plus(&r.ReplacementValue, t.ReplacementValue)
	plus(&r.AnnualLoss, t.AnnualLoss)
	plus(&r.Fatalities, t.Fatalities)
	plus(&r.Cost, t.Cost)
	plus(&r.NetBenefit, t.NetBenefit)
	for i, n := range o.grades {
		s.grades[i] += n
	}
	for v, n := range o.drifts {
		s.drifts[v] += n
	}
	for m, n := range o.measures {
		s.measures[m] += n
	}
}

// plus adds v to a sum that is NaN until it has a number. A missing v adds nothing.
func plus(to *float64, v float64) {
	switch {
	case math.IsNaN(v):
	case math.IsNaN(*to):
		*to = v
	default:
		*to += v
	}
}

// finish returns the row.
func (s *sum) finish(outline orb.Polygon) *output.Area {
	r := &s.row
	if r.Paying == 0 { // nothing pays: that costs and gains nothing
		r.Cost, r.NetBenefit = 0, 0
	}
	r.MedianDrift = median(s.drifts)
	for i, n := range s.grades {
		r.Grades[i] = float64(n) / float64(r.Buildings)
	}
	var most int64
	for _, m := range slices.Sorted(maps.Keys(s.measures)) {
		if n := s.measures[m]; n > most {
			most, r.FirstMeasure, r.FirstMeasureShare = n, m, float64(n)/float64(r.Buildings)
		}
	}
	if len(outline) > 0 {
		middle := outline.Bound().Center()
		r.Outline, r.Lon, r.Lat = outline, middle.Lon(), middle.Lat()
	}
	return r
}

// median returns the median of values by how often each occurs, NaN of none.
func median(counts map[float64]int64) float64 {
	var n int64
	for _, k := range counts {
		n += k
	}
	low, high, passed := math.NaN(), math.NaN(), int64(0)
	for _, v := range slices.Sorted(maps.Keys(counts)) {
		next := passed + counts[v]
		if passed < (n+1)/2 && (n+1)/2 <= next {
			low = v
		}
		if passed < n/2+1 && n/2+1 <= next {
			high = v
		}
		passed = next
	}
	return (low + high) / 2
}
