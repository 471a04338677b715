package hazard

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/integrate/quad"
)

// Fragility is a lognormal fragility curve: the probability that a building fails a limit state
// at spectral acceleration a,
//
//	P(a) = Phi(ln(a/Median)/Beta)
type Fragility struct {
	Median float64 // g
	Beta   float64 // standard deviation of ln(a)
}

// Probability returns the probability of failure at acceleration a in g.
func (f Fragility) Probability(a float64) float64 {
	return 0.5 * math.Erfc(-math.Log(a/f.Median)/(f.Beta*math.Sqrt2))
}

// Quantile returns the acceleration in g at which the probability of failure is
// p, 0 < p < 1.
func (f Fragility) Quantile(p float64) float64 {
	return f.Median * math.Exp(f.Beta*math.Sqrt2*math.Erfinv(2*p-1))
}

// gaussX and gaussW are the five-point Gauss rule on [0, 1]: over steps of half a Beta it
// integrates a lognormal density to about twelve digits.
var gaussX, gaussW = func() (x, w [5]float64) {
	quad.Legendre{}.FixedLocations(x[:], w[:], 0, 1)
	return
}()

// tailShare is the share of a risk beyond the ends of its curve above which the status says so
// [judgement].
const tailShare = 0.01

// Risk returns the annual frequency of failure in 1/yr of a building of
// fragility f at the site of curve c, the risk integral (Cornell 1996)
//
//	lambda = integral of H(a) dP(a)
//
// ln(H) linear in ln(a) between the points of the curve. Beyond the last point the last slope s < 0
// goes on, from above, since curves steepen:
//
//	tail = H_n exp(s (m - u_n) + s2 Beta2/2) Phi(s Beta - (u_n - m)/Beta),  u = ln a, m = ln Median
//
// What lies below the first point is left out. The status is AboveRange if the tail is more than
// 1 %, BelowRange if the first ordinate, held constant, would add more than 1 %. A Beta of zero is
// a sharp threshold, exceeded with the frequency of its median.
func (c *Curve) Risk(f Fragility) (float64, Status) {
	if !(f.Beta > 0) {
		return c.Frequency(f.Median)
	}
	median := math.Log(f.Median)
	var sum float64
	for i := 1; i < len(c.lnSa); i++ {
		u0, u1 := c.lnSa[i-1], c.lnSa[i]
		slope := (c.lnFreq[i] - c.lnFreq[i-1]) / (u1 - u0)
		steps := math.Ceil((u1 - u0) / (f.Beta / 2))
		du := (u1 - u0) / steps
		for s := 0.0; s < steps; s++ {
			for j, g := range gaussX {
				d := (s + g) * du
				x := (u0 + d - median) / f.Beta
				sum += gaussW[j] * du * math.Exp(c.lnFreq[i-1]+slope*d-x*x/2)
			}
		}
	}
	sum /= f.Beta * math.Sqrt(2*math.Pi) // the factor of the normal density
	var status Status
	tail := c.tail(median, f.Beta)
	sum += tail
	if math.Exp(c.lnFreq[0])*f.Probability(math.Exp(c.lnSa[0])) > tailShare*sum {
		status |= BelowRange
	}
	if tail > tailShare*sum {
		status |= AboveRange
	}
	return sum, status
}

// tail returns the part of a risk beyond the last point of the curve, by its last slope.
func (c *Curve) tail(median, beta float64) float64 {
	n := len(c.lnSa) - 1
	u := c.lnSa[n]
	s := (c.lnFreq[n] - c.lnFreq[n-1]) / (u - c.lnSa[n-1])
	beyond := 0.5 * math.Erfc(((u-median)/beta-s*beta)/math.Sqrt2)
	if beyond == 0 {
		return 0
	}
	return math.Exp(c.lnFreq[n]+s*(median-u)+s*s*beta*beta/2) * beyond
}

// RiskTarget defines a risk-targeted ground motion.
type RiskTarget struct {
	Frequency float64 // 1/yr, of collapse
	AtMotion  float64 // probability of collapse at the ground motion sought
	Beta      float64 // of the collapse fragility
}

// ASCE7Risk is the target of ASCE 7-16 21.2.1.2: 1 % in 50 years with a 10 %
// probability of collapse at the MCER motion and Beta = 0.6.
var ASCE7Risk = RiskTarget{Frequency: AnnualFrequency(0.01, 50), AtMotion: 0.10, Beta: 0.6}

// fragility returns the fragility whose probability at motion a is AtMotion.
func (t RiskTarget) fragility(a float64) Fragility {
	one := Fragility{Median: 1, Beta: t.Beta}
	return Fragility{Median: a / one.Quantile(t.AtMotion), Beta: t.Beta}
}

// RiskTargeted returns the ground motion in g at which a building of the
// target's fragility has the target's risk at the site of curve c (ASCE 7-16
// 21.2.1.2, method 2; Luco et al. 2007), by bisection in ln(a) to a relative
// 1e-9. Its ratio to the 2 % in 50 years acceleration is the risk coefficient.
//
// It is an error if no acceleration of the curve has that risk. The status is that of the risk
// integral at the result.
func (c *Curve) RiskTargeted(t RiskTarget) (float64, Status, error) {
	if !(t.Frequency > 0 && t.Beta > 0 && t.AtMotion > 0 && t.AtMotion < 1) {
		return 0, 0, fmt.Errorf("risk target %+v: frequency and beta must be positive and the probability "+
			"between 0 and 1", t)
	}
	risk := func(u float64) float64 {
		r, _ := c.Risk(t.fragility(math.Exp(u)))
		return r
	}
	lo, hi := c.lnSa[0], c.lnSa[len(c.lnSa)-1]
	if !(risk(lo) >= t.Frequency && risk(hi) <= t.Frequency) {
		return 0, 0, fmt.Errorf("no acceleration from %.4g to %.4g g has the risk %.4g 1/yr on this curve: "+
			"it needs more points", math.Exp(lo), math.Exp(hi), t.Frequency)
	}
	for hi-lo > 1e-9 {
		if mid := (lo + hi) / 2; risk(mid) > t.Frequency {
			lo = mid
		} else {
			hi = mid
		}
	}
	a := math.Exp((lo + hi) / 2)
	_, status := c.Risk(t.fragility(a))
	return a, status, nil
}
