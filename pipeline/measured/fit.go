package measured

import (
	"math"

	"gonum.org/v1/gonum/optimize"
	"gonum.org/v1/gonum/stat/distuv"
)

// A fragility is a lognormal curve: the median of an intensity at which half of a stock
// reaches a state, and the standard deviation of the logarithm.
type fragility struct{ median, beta float64 }

// at returns the share that reaches the state at an intensity.
func (f fragility) at(x float64) float64 {
	return distuv.UnitNormal.CDF(math.Log(x/f.median) / f.beta)
}

// A band is a number of buildings at one intensity and how many of them reached a state.
// Both may be shares.
type band struct{ intensity, n, reached float64 }

// fit returns the lognormal curve of greatest likelihood:
//
//	max over median, beta of  sum k ln p + (n - k) ln(1 - p),  p = Phi(ln(x/median)/beta)
//
// n buildings at intensity x, k of them in the state or beyond. Probabilities are kept
// 1e-12 away from 0 and 1, so that a single building where the curve has none does not
// decide. Baker 2015, Earthquake Spectra 31(1):579-599, equation 11. It returns NaN where
// no band has anything between none and all.
func fit(bands []band) fragility {
	if !between(bands) {
		return fragility{math.NaN(), math.NaN()}
	}
	problem := optimize.Problem{Func: func(x []float64) float64 {
		f := fragility{math.Exp(x[0]), math.Exp(x[1])}
		sum := 0.0
		for _, b := range bands {
			p := min(max(f.at(b.intensity), 1e-12), 1-1e-12)
			sum -= b.reached*math.Log(p) + (b.n-b.reached)*math.Log(1-p)
		}
		return sum
	}}
	start := []float64{math.Log(0.5), math.Log(0.6)} // g: in the middle of what is surveyed
	settings := &optimize.Settings{Converger: &optimize.FunctionConverge{Relative: 1e-14, Iterations: 60}}
	r, err := optimize.Minimize(problem, start, settings, &optimize.NelderMead{SimplexSize: 0.3})
	if err != nil {
		return fragility{math.NaN(), math.NaN()}
	}
	return fragility{math.Exp(r.X[0]), math.Exp(r.X[1])}
}

// between reports whether two bands have other shares than none or all.
func between(bands []band) bool {
	n := 0
	for _, b := range bands {
		if share := b.reached / b.n; share > 1e-9 && share < 1-1e-9 {
			n++
		}
	}
	return n >= 2
}
