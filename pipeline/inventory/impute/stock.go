package impute

import "slices"

// leastAlike is the number of given values that a circle needs to fill a gap (judgement).
const leastAlike = 5

// A Stock has for every circle of enough buildings the median, or the most frequent
// system. It is read only.
type Stock struct {
	groups map[string]int
	values map[circle]float64
}

// Find returns the value of the narrowest circle of like buildings that is large enough;
// ok is false if there is none. A nil Stock has no circles.
func (s *Stock) Find(q Quantity, like Likeness) (v float64, l Level, ok bool) {
	if s == nil {
		return 0, 0, false
	}
	for l := range numLevels {
		c, ok := circleOf(l, q, like, s.groups)
		if !ok {
			continue
		}
		if v, ok := s.values[c]; ok {
			return v, l, true
		}
	}
	return 0, 0, false
}

// middle returns the lower median of counted values, or the most frequent of
// words, the lowest of those that are equally frequent.
func middle(counts map[int]int, word bool) (v int, ok bool) {
	total := 0
	var values []int
	for v, n := range counts {
		total += n
		values = append(values, v)
	}
	if total < leastAlike {
		return 0, false
	}
	slices.Sort(values)
	most, run := 0, 0
	for _, x := range values {
		if n := counts[x]; word && n > most {
			v, most = x, n
		}
		if run += counts[x]; !word && 2*run >= total {
			return x, true
		}
	}
	return v, true
}
