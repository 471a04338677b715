package consequence

import "plinth/hazard"

// Level is the demand on a building at one level of shaking, reduced to the numbers that
// determine its loss.
type Level struct {
	DriftRatio   float64 // largest storey drift over storey height: limit states
	Drift        Groups  // drift ratio of the storeys: drift-sensitive fit-out
	Accel        Groups  // g, first floor to roof, where ceilings and services hang: other fit-out
	Contents     Groups  // g, ground floor to the floor below the roof, where contents stand
	Displacement float64 // m, across isolators; 0 without
	Collapsed    bool    // the demand found no balance: weight on the leaning frame brings it down
}

// Groups are the demands over the height of a building in two groups, those above their mean
// and the others, each represented by its mean. Fit-out and contents are assumed to be spread
// evenly over the height, so a group loses by its share. Two groups distinguish one storey that
// fails from all that sway.
type Groups struct {
	High, Low float64 // mean demand of each group
	HighShare float64 // share of storeys or floors in the high group, 0 to 1
}

// Even returns the groups of a uniform demand.
func Even(x float64) Groups { return Groups{x, x, 1} }

// Read sets l from storey drifts and storey heights in m (lowest first), the accelerations of
// the ground floor and of the floors above in m/s2, and the displacement across isolators in m.
// drift and height have equal length.
func (l *Level) Read(drift, height []float64, ground float64, accel []float64, displacement float64) {
	*l = Level{Displacement: displacement}
	ratio := func(i int) float64 { return drift[i] / height[i] }
	for i := range drift {
		l.DriftRatio = max(l.DriftRatio, ratio(i))
	}
	l.Drift = group(len(drift), ratio)
	l.Accel = group(len(accel), func(i int) float64 { return accel[i] / hazard.Gravity })
	l.Contents = group(len(accel), func(i int) float64 {
		if i == 0 {
			return ground / hazard.Gravity
		}
		return accel[i-1] / hazard.Gravity
	})
}

// group returns the groups of n demands x(i).
func group(n int, x func(int) float64) Groups {
	if n == 0 {
		return Groups{}
	}
	var sum, high float64
	for i := range n {
		sum += x(i)
	}
	mean, above := sum/float64(n), 0
	for i := range n {
		if x(i) > mean {
			high += x(i)
			above++
		}
	}
	if above == 0 || above == n { // all equal, but for rounding
		return Even(mean)
	}
	return Groups{high / float64(above), max(0, sum-high) / float64(n-above), float64(above) / float64(n)}
}
