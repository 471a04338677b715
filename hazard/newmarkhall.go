package hazard

import (
	"fmt"
	"math"
)

// A Percentile says how many of the records behind a statistical design spectrum
// it covers.
type Percentile uint8

// The percentiles of Newmark and Hall (1982).
const (
	Median           Percentile = iota // 50 %
	MedianPlusOneDev                   // 84.1 %
)

// newmarkHall holds the coefficients a and b of alpha = a - b ln(100 damping) for
// the acceleration, velocity and displacement branches (Newmark and Hall 1982;
// Chopra, Table 6.9.2).
var newmarkHall = [2][3][2]float64{
	Median:           {{3.21, 0.68}, {2.31, 0.41}, {1.82, 0.27}},
	MedianPlusOneDev: {{4.38, 1.04}, {3.38, 0.67}, {2.73, 0.45}},
}

// The outer corner periods of Newmark and Hall (1982), s.
const (
	newmarkHallTa = 1.0 / 33 // from here on up the spectrum leaves the ground acceleration
	newmarkHallTb = 1.0 / 8  // start of the plateau
	newmarkHallTe = 10.0     // end of the amplified displacement
	newmarkHallTf = 33.0     // from here on displacement is the ground's
)

// NewmarkHallFactors returns the amplifications of peak ground acceleration,
// velocity and displacement of Newmark and Hall (1982) for a damping of 0.005 to
// 0.20, to which other values are held.
func NewmarkHallFactors(p Percentile, damping float64) (a, v, d float64) {
	z := math.Log(100 * min(max(damping, 0.005), 0.20))
	c := newmarkHall[p]
	return c[0][0] - c[0][1]*z, c[1][0] - c[1][1]*z, c[2][0] - c[2][1]*z
}

// NewmarkHall makes s the elastic design spectrum of Newmark and Hall (1982)
// (Chopra, Figure 6.9.3) from the peak ground acceleration in g, velocity in m/s
// and displacement in m, at 5 % damping. Its branches are straight in ln(Sa) -
// ln(T), so it is exact up to 33 s. It is an error if the corners do not ascend,
// which happens with motions unlike those it was made from.
func NewmarkHall(s *Spectrum, p Percentile, pga, pgv, pgd float64) error {
	fa, fv, fd := NewmarkHallFactors(p, 0.05)
	plateau, v, d := fa*pga, fv*pgv, fd*pgd
	tc := 2 * math.Pi * v / (plateau * Gravity)
	td := 2 * math.Pi * d / v
	if !(pga > 0 && tc > newmarkHallTb && td > tc && td < newmarkHallTe) {
		return fmt.Errorf("design spectrum from %g g, %g m/s and %g m: corner periods %.3g and %.3g s are not between 1/8 and 10 s", pga, pgv, pgd, tc, td)
	}
	sa := func(d, t float64) float64 { w := 2 * math.Pi / t; return d * w * w / Gravity }
	s.SetNodes(pga, newmarkHallTb, tc,
		Node{newmarkHallTa, pga}, Node{newmarkHallTb, plateau}, Node{tc, plateau},
		Node{td, sa(d, td)}, Node{newmarkHallTe, sa(d, newmarkHallTe)}, Node{newmarkHallTf, sa(pgd, newmarkHallTf)})
	return nil
}
