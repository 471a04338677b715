package sample

import "math"

// A fault is a fictional straight fault of the demo: its trace, the largest magnitude it produces,
// and how often it produces a magnitude of 5.5 or more.
type fault struct {
	name                   string
	lon1, lat1, lon2, lat2 float64 // degrees, ends of the trace
	depth                  float64 // km, to the middle of the rupture
	maxMagnitude           float64
	rate                   float64 // 1/yr, of magnitude 5.5 and above
}

// faults of the demo. All invented.
var faults = []fault{
	{"Harbour", -141.44, 41.58, -141.02, 41.70, 8, 6.9, 0.012},
	{"Outer Bank", -141.95, 41.20, -140.90, 41.25, 15, 7.6, 0.030},
	{"Deep Slab", -142.60, 42.10, -140.60, 42.40, 45, 7.9, 0.060},
}

// demoPeriods are the periods of the demo's spectra in s.
var demoPeriods = []float64{0.05, 0.1, 0.2, 0.3, 0.5, 0.75, 1, 1.5, 2, 3, 4, 5}

// demoReturnPeriods are the return periods of the demo's hazard in yr.
var demoReturnPeriods = []float64{25, 50, 100, 225, 475, 975, 2475, 4975}

// The attenuation rule of the demo, invented for it and good for nothing else:
//
//	ln Sa(T) = s(T) + 0.9 (M - 6) - 1.25 ln(R + 12) - 0.006 R,  sigma 0.6
//
// R is the distance in km to the middle of the rupture, Sa is in g, and s(T) is a made-up spectral
// shape. s(0) gives the peak ground acceleration.
const (
	demoMagnitude  = 0.9
	demoSpreading  = 1.25
	demoNearTerm   = 12.0 // km
	demoAnelastic  = 0.006
	demoSigma      = 0.6
	demoGR         = 1.0 // b value of the magnitude distribution
	demoMinimum    = 5.5
	demoMagnitudes = 8 // steps of magnitude in the sum
	demoAlong      = 7 // positions of a rupture along a trace
)

// demoShape returns s(T). It rises to a plateau between 0.1 and 0.4 s at about the level 2.35,
// falls as 1/T, and beyond 3 s as 1/T2.
func demoShape(t float64) float64 {
	const ground = 2.35
	switch {
	case t <= 0:
		return ground
	case t < 0.1:
		return ground + math.Log(1+1.4*t/0.1)
	case t < 0.4:
		return ground + math.Log(2.4)
	case t < 3:
		return ground + math.Log(2.4*0.4/t)
	}
	return ground + math.Log(2.4*0.4*3/(t*t))
}

// A term is one magnitude at one place of one fault: the mean of ln Sa(T) - s(T) and
// half its annual frequency.
type term struct{ mean, half float64 }

// terms returns the contributions of the faults at (lon, lat).
func terms(lon, lat float64) []term {
	out := make([]term, 0, len(faults)*demoAlong*demoMagnitudes)
	for i := range faults {
		f := &faults[i]
		step := (f.maxMagnitude - demoMinimum) / demoMagnitudes
		beta := demoGR * math.Ln10
		norm := 1 - math.Exp(-beta*(f.maxMagnitude-demoMinimum))
		for k := range demoAlong {
			w := (float64(k) + 0.5) / demoAlong
			r := distance(lon, lat, f.lon1+w*(f.lon2-f.lon1), f.lat1+w*(f.lat2-f.lat1), f.depth)
			path := -demoSpreading*math.Log(r+demoNearTerm) - demoAnelastic*r
			for m := range demoMagnitudes {
				m0 := demoMinimum + float64(m)*step
				share := (math.Exp(-beta*(m0-demoMinimum)) - math.Exp(-beta*(m0+step-demoMinimum))) / norm
				mean := demoMagnitude*(m0+step/2-6) + path
				out = append(out, term{mean, f.rate * share / demoAlong * 0.5})
			}
		}
	}
	return out
}

// exceedance returns the annual frequency with which ln Sa(T) - s(T) exceeds x, summed over faults,
// magnitudes and rupture positions. The shape does not depend on magnitude, so one x serves all
// periods.
func exceedance(ts []term, x float64) float64 {
	var h float64
	for _, t := range ts {
		h += t.half * math.Erfc((x-t.mean)/(demoSigma*math.Sqrt2))
	}
	return h
}

// distance returns the slant distance in km over a flat Earth, which is enough
// for a town that does not exist.
func distance(lon1, lat1, lon2, lat2, depth float64) float64 {
	const kmPerDegree = 111.2
	x := (lon2 - lon1) * kmPerDegree * math.Cos(lat1*math.Pi/180)
	y := (lat2 - lat1) * kmPerDegree
	return math.Sqrt(x*x + y*y + depth*depth)
}

// level returns by bisection the x whose exceedance has the return period tr in yr.
func level(ts []term, tr float64) float64 {
	lo, hi := -12.0, 3.0
	for range 45 {
		mid := 0.5 * (lo + hi)
		if exceedance(ts, mid) > 1/tr {
			lo = mid
		} else {
			hi = mid
		}
	}
	return 0.5 * (lo + hi)
}
