package demand

import "math"

// The benefit of a tuned mass on a frame whose period differs from the estimate.

// Mistuning is the relative error of a building's period that a tuned mass should tolerate
// (judgement; periods of archetypes are less certain than that).
const Mistuning = 0.15

// A TunedFrame is the first mode of a frame with a tuned mass on its roof, both
// linear.
type TunedFrame struct {
	Ratio         float64 // tuned mass over modal mass, shape 1 at the roof [mm]
	Participation float64 // of the mode, for a roof ordinate of 1 [G]
	Damping       float64 // of the frame [b]
}

// EquivalentDamping returns the damping of the frame alone for which its roof displacement
// variance equals that with the tuned mass, under white-noise base acceleration.
// acceleration.
//
//	b_eq = pi G2/(2 I),  I = integral of |x/a|2 dw over all w, for a frame of w = 1
//	x/a  = -(G s2 + (G + mm) q)/((s2 + 2 b s + 1)(s2 + q) + mm q s2),  q = 2 zd f s + f2
//
// from the equations of motion of the two masses; the integral of a quotient of polynomials has
// a closed form (Newland 1993, Random Vibrations, Spectral and Wavelet Analysis, appendix 1,
// from memory). White noise penalises mistuning more than a single earthquake.
func (m TunedFrame) EquivalentDamping(t Tuning) float64 {
	g, mm, b := m.Participation, m.Ratio, m.Damping
	q1, q0 := 2*t.Damping*t.Frequency, t.Frequency*t.Frequency
	// numerator b2 s2 + b1 s + b0
	b0, b1, b2 := (g+mm)*q0, (g+mm)*q1, g
	// denominator s4 + a3 s3 + a2 s2 + a1 s + a0
	a0, a1 := q0, q1+2*b*q0
	a2, a3 := 1+2*b*q1+q0*(1+mm), 2*b+q1*(1+mm)
	integral := math.Pi * (a0*a1*b2*b2 + a0*a3*(b1*b1-2*b0*b2) + b0*b0*(a2*a3-a1)) /
		(a0 * (a1*a2*a3 - a0*a3*a3 - a1*a1))
	return math.Pi * g * g / (2 * integral)
}

// LeftMistuned returns the remaining share of the damping added by a tuned mass if the frame's
// frequency is misjudged by the fraction error, to the worse side; at least 0.
//
//	left = min over f (1 -+ error) of (b_eq - b)/(b_eq as tuned - b)
func (m TunedFrame) LeftMistuned(t Tuning, error float64) float64 {
	worst := math.Inf(1)
	for _, factor := range [...]float64{1 - error, 1 + error} {
		worst = min(worst, m.EquivalentDamping(Tuning{t.Frequency * factor, t.Damping}))
	}
	gain := m.EquivalentDamping(t) - m.Damping
	return max(0, (worst-m.Damping)/gain)
}
