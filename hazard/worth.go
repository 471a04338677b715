package hazard

import (
	"math"

	"plinth/hazard/elementary"
)

// steadyInCode is how long in s steady shaking lasts in which damping is worth what codes say: B of
// white noise is then the 1.5 of ASCE 7-16 Table 17.5-1 at 20 % and a period of 1 s. A test holds it.
// It is a sixth of CodeDuration: the ground shakes an oscillator of one period hard for a part of the
// time only, and that part is taken as the same in every earthquake.
const steadyInCode = 2.55

// DurationWorth returns D5-95 in s of recorded shaking in which damping is worth as much as in
// steady noise whose own D5-95 is noise, in s: 90 % of its length lie between 5 and 95 %.
func DurationWorth(noise float64) float64 { return noise / (0.9 * steadyInCode) * CodeDuration }

// Worth returns the damping that in the shaking of codes would be worth as much as damping is in
// this shaking, at a period in s: the argument for a Reduction. Dampings are fractions of critical.
//
//	Bn(w, 2.55/T) = Bn(damping, 2.55 D/(Dc T))                           for w, of the duration
//	Bn(Worth, 2.55) = B0 ((1 - q) + q (B0/Bp)2)^(-p/2),  B0 = Bn(w, 2.55)  of duration and pulse
//
//	Bn(b, n)  of steady noise of n periods (steadyPeak); n = 2.55 is that of codes, 1.5 at 20 %
//	D, Dc     significant duration and that of codes, s
//	T         period of the oscillator, s
//	p         probability of a pulse;  q  its part of the response (pulseShare)
//	Bp        of the pulse (pulsePeak); where its period is estimated, the mean over its scatter
//
// It is 5 % at 5 %, rises with damping and with duration, and is damping itself where nothing is
// known of the shaking. In shaking that is short against the period it falls to what an impulse
// leaves: damping acts for a quarter of a cycle. Codes' own values hold below 5 %. Viscous damping
// and the equivalent damping of loops are treated alike. It is held at 2000 %; a period that is not
// above 0 leaves the damping as it is.
func (s *Spectrum) Worth(damping, period float64) float64 {
	if !(damping > usualDamping && period > 0) || s.Duration == 0 && s.PulseChance == 0 {
		return damping
	}
	w, ln := damping, elementary.Log(period)
	at := placeOf(damping)
	if s.Duration > 0 {
		usual, here := steady().section(codeCycles-ln), steady().section(s.cycles(ln))
		w = usual.damping(here.at(at))
	}
	if s.PulseChance > 0 {
		code := steady().section(codeCycles)
		b := code.at(placeOf(w))
		w = code.damping(b + s.PulseChance*(s.withPulse(at, ln, b)-b))
	}
	return w
}

// codeCycles is ln of the number of cycles of 1 s in the steady shaking of codes.
var codeCycles = math.Log(steadyInCode)

// cycles returns ln of the number of cycles in this shaking of a period with logarithm ln.
func (s *Spectrum) cycles(ln float64) float64 {
	return codeCycles - ln + elementary.Log(s.Duration/CodeDuration)
}

// MostWorth returns a bound that Worth does not exceed between two periods in s, from the shorter:
// the worth in the most cycles of the one and the fewest of the other, or in a pulse of the period
// in which damping is worth most.
func (s *Spectrum) MostWorth(damping, from, to float64) float64 {
	if !(damping > usualDamping && from >= 0 && to >= from) {
		return damping
	}
	w, at := damping, placeOf(damping)
	if s.Duration > 0 {
		usual := steady().section(codeCycles - elementary.Log(to))
		here := steady().section(s.cycles(elementary.Log(from)))
		w = usual.damping(here.at(at))
	}
	if s.PulseChance > 0 {
		code := steady().section(codeCycles)
		top := section{&pulse().top, &pulse().top, 0}
		w = code.damping(max(code.at(placeOf(w)), top.at(at)))
	}
	return w
}

// Nodes and weights of the mean over a normal variable of standard deviation 1, by Gauss and Hermite.
var (
	normalNodes   = [...]float64{-1.7320508075688772, 0, 1.7320508075688772}
	normalWeights = [...]float64{1.0 / 6, 2.0 / 3, 1.0 / 6}
)

// withPulse returns ln B of shaking with its pulse, for ln B without it, by squares, at a damping and
// a period with its logarithm:
//
//	B^-2 = q/Bp2 + (1 - q)/B0^2
func (s *Spectrum) withPulse(at place, lnPeriod, ln float64) float64 {
	rest := elementary.Exp(-2 * ln)
	lnRatio := lnPeriod - elementary.Log(s.PulsePeriod)
	of := func(lnRatio float64) float64 {
		c, q := pulse().section(lnRatio), pulseShare(lnRatio)
		return -0.5 * elementary.Log(q*elementary.Exp(-2*c.at(at))+(1-q)*rest)
	}
	if s.PulseSpread == 0 {
		return of(lnRatio)
	}
	mean := 0.0
	for i, x := range normalNodes {
		mean += normalWeights[i] * of(lnRatio-x*s.PulseSpread)
	}
	return mean
}
