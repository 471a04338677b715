package measured

import (
	"fmt"
	"math"
)

// An aim is a band of a ratio.
type aim struct{ low, high float64 }

// Aims of the means, and the band outside which one value asks for a reason. They were
// set before the first page was made and are not moved to what comes out.
var (
	floorAim  = aim{0.8, 1.25}
	periodAim = aim{0.85, 1.2}
	oneAim    = aim{0.8, 1.25}
	timedAim  = aim{0.7, 1.3} // one building under its own record
	noAim     = aim{}
)

// has reports whether x lies in the band.
func (a aim) has(x float64) bool { return x >= a.low && x <= a.high }

// String returns the band in words.
func (a aim) String() string {
	if a == noAim {
		return "none set"
	}
	return fmt.Sprintf("%s to %s", figure(a.low), figure(a.high))
}

// verdict says in a word whether x meets the aim.
func (a aim) verdict(x float64) string {
	switch {
	case a == noAim || math.IsNaN(x):
		return "-"
	case a.has(x):
		return "met"
	}
	return "**missed**"
}

// A mean is the geometric mean of ratios and the standard deviation of their logarithms
// about it.
type mean struct {
	n        int
	mean, sd float64 // NaN for none; sd NaN for fewer than two
}

// meanOf returns the mean of ratios:
//
//	mean = exp(sum ln r / n),  sd = sqrt(sum (ln r - ln mean)2 / (n - 1))
func meanOf(ratios []float64) mean {
	out := mean{n: len(ratios), mean: math.NaN(), sd: math.NaN()}
	if out.n == 0 {
		return out
	}
	sum := 0.0
	for _, r := range ratios {
		sum += math.Log(r)
	}
	centre := sum / float64(out.n)
	out.mean = math.Exp(centre)
	if out.n > 1 {
		squares := 0.0
		for _, r := range ratios {
			squares += (math.Log(r) - centre) * (math.Log(r) - centre)
		}
		out.sd = math.Sqrt(squares / float64(out.n-1))
	}
	return out
}
