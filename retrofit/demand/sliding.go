package demand

import (
	"math"

	"plinth/hazard"
)

// stuck returns the state of isolators that do not move: the frame on a fixed base.
func (s *System) stuck(b hazard.Reduction) Equilibrium {
	return Equilibrium{Stiffness: math.Inf(1), Period: s.Frame, Damping: s.Own,
		Reduction: b(s.Own), Separation: 1, Onset: 1, Status: Stuck}
}

// onset returns Qd over the spectral force at which friction slides below a frame, at most 1.
//
//	lam = Qd/(gam M Sa(Tf, 0.05))
func (q *balance) onset() float64 {
	return min(1, q.Qd/(q.Part*q.Mass*q.ordinate(q.Frame, q.Own)))
}

// excursion returns the most that friction slides below a frame in m, soon after it slides.
//
//	D <= Sd(Tf)/2 (1/lam - lam)/lam3,  Sd(Tf) = Qd/(lam gam M wf2)
//
// For one excursion, without the cube, it is the rule of equal energy of an elastic and an
// elastic-plastic oscillator (Newmark and Hall 1982, Earthquake Spectra and Design, from memory). The
// cube stands for more of them (judgement): it lets the bound go once the shaking is two to four
// times that of the onset. Without the bound D could jump: where Sa and B do not change with period
// and damping every D balances.
func (q *balance) excursion(lam float64) float64 {
	x := q.Frame / (2 * math.Pi)
	return q.Qd / (lam * q.Part * q.Mass) * x * x / 2 * (1/lam - lam) / (lam * lam * lam)
}
