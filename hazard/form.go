package hazard

import (
	"fmt"
	"math"
)

// A Node is one point of a spectrum.
type Node struct {
	T  float64 // s
	Sa float64 // g
}

// SetNodes makes s the spectrum through its own nodes, for standards whose corner periods
// differ from site to site. Periods must be positive and ascending and ordinates positive; it
// panics otherwise, since every standard checks its parameters first. It allocates nothing once
// s has held this many nodes.
func (s *Spectrum) SetNodes(pga, tb, tc float64, nodes ...Node) {
	if len(nodes) == 0 {
		panic("hazard: a spectrum needs a node")
	}
	s.PGA, s.TB, s.TC, s.Shaking = pga, tb, tc, Shaking{}
	s.ownT, s.ownLnT, s.lnSa = s.ownT[:0], s.ownLnT[:0], s.lnSa[:0]
	last := 0.0
	for _, n := range nodes {
		if !(n.T > last) || !(n.Sa > 0) {
			panic("hazard: nodes must have ascending periods and positive ordinates")
		}
		last = n.T
		s.ownT = append(s.ownT, n.T)
		s.ownLnT = append(s.ownLnT, math.Log(n.T))
		s.lnSa = append(s.lnSa, math.Log(n.Sa))
	}
	s.t, s.lnT = s.ownT, s.ownLnT
	end := nodes[len(nodes)-1]
	s.firstSa, s.lastT, s.lastSaT2, s.end = nodes[0].Sa, end.T, end.Sa*end.T*end.T, end.T
}

// SetFourBranch makes s the form most standards share:
//
//	Sa = pga + (plateau - pga) T/tb    0  <= T <= tb
//	Sa = plateau                       tb <= T <= tc
//	Sa = plateau tc/T                  tc <= T <= td
//	Sa = plateau tc td/T2              td <= T <= end
//
// with accelerations in g and periods in s. end is the longest period for which the standard
// defines the form, +Inf if it names none; beyond it the last branch continues and Covers is
// false. The form is exact, and allocates nothing once s has been used. It is an error if an
// ordinate is not positive and finite or the corners do not ascend from above zero; s is then
// unchanged.
func (s *Spectrum) SetFourBranch(pga, plateau, tb, tc, td, end float64) error {
	if !(pga > 0 && plateau > 0) || math.IsInf(pga+plateau, 0) {
		return fmt.Errorf("spectrum with a peak ground acceleration of %g g and a plateau of %g g: both "+
			"must be positive", pga, plateau)
	}
	if !(0 < tb && tb < tc && tc < td && tc < end) || math.IsInf(td, 0) {
		return fmt.Errorf("spectrum with corner periods %g, %g and %g s, given up to %g s: they must be "+
			"positive and ascend", tb, tc, td, end)
	}
	s.SetNodes(pga, tb, tc, Node{tb, plateau}, Node{tc, plateau}, Node{td, plateau * tc / td})
	s.end = end
	return nil
}

// fourBranch returns the ordinate at period t of the form of SetFourBranch.
func fourBranch(t, pga, plateau, tb, tc, td float64) float64 {
	switch {
	case t < tb:
		return pga + (plateau-pga)*t/tb
	case t <= tc:
		return plateau
	case t <= td:
		return plateau * tc / t
	}
	return plateau * tc * td / (t * t)
}

// CopyFrom makes s equal to o. The two share no storage that o may overwrite; s reuses its own.
func (s *Spectrum) CopyFrom(o *Spectrum) {
	if s == o {
		return
	}
	lnSa, ownT, ownLnT := s.lnSa, s.ownT, s.ownLnT
	*s = *o
	s.lnSa = append(lnSa[:0], o.lnSa...)
	s.ownT, s.ownLnT = append(ownT[:0], o.ownT...), append(ownLnT[:0], o.ownLnT...)
	if len(o.t) > 0 && len(o.ownT) > 0 && &o.t[0] == &o.ownT[0] {
		s.t, s.lnT = s.ownT, s.ownLnT
	}
}
