package hazard

import (
	"fmt"
	"math"
)

// A nzs1170Shape is one row of the formula behind NZS 1170.5 Table 3.1:
//
//	Ch = start + (plateau - start) T/0.1    0    <= T <= 0.1
//	Ch = plateau                            0.1  <= T <= T1
//	Ch = power/T^0.75                       T1   <= T <= T2
//	Ch = velocity/T                         T2   <= T <= 3
//	Ch = 3 velocity/T2                      3    <= T
//
// T1 is 0.3 s for classes A to C, 0.56 s for D and 1.0 s for E, and T2 is 1.5 s.
type nzs1170Shape struct{ start, plateau, t1, power, velocity float64 }

const (
	nzs1170Rise = 0.1 // s, end of the rise
	nzs1170T2   = 1.5 // s
	nzs1170T3   = 3.0 // s
	nzs1170End  = 4.5 // s, last row of Table 3.1
)

// nzs1170Shapes holds the coefficients in the commentary to NZS 1170.5 Table 3.1, classes A to
// E; A and B share a row. The power coefficients are 1.6 0.5^0.75, 2.0 0.5^0.75, 2.4 0.75^0.75
// and 3.0.
var nzs1170Shapes = [5]nzs1170Shape{
	{1.00, 2.35, 0.30, 1.6 * pow34(0.5), 1.05},
	{1.00, 2.35, 0.30, 1.6 * pow34(0.5), 1.05},
	{1.33, 2.93, 0.30, 2.0 * pow34(0.5), 1.32},
	{1.12, 3.00, 0.56, 2.4 * pow34(0.75), 2.14},
	{1.12, 3.00, 1.00, 3.0, 3.32},
}

func nzs1170Row(class SiteClass) (*nzs1170Shape, error) {
	if class < 'A' || class > 'E' {
		return nil, fmt.Errorf("site subsoil class %q has no spectral shape in NZS 1170.5 Table 3.1", class)
	}
	return &nzs1170Shapes[class-'A'], nil
}

// at returns the spectral shape factor Ch(T) of NZS 1170.5:2004 3.1.2, the column for
// modal and time history analysis, at period t in s. It is the formula behind Table
// 3.1, which agrees with the table to its 0.01. The column for the equivalent static
// method is this one at 0.4 s and more.
func (r *nzs1170Shape) at(t float64) float64 {
	switch {
	case t <= 0:
		return r.start
	case t < nzs1170Rise:
		return r.start + (r.plateau-r.start)*t/nzs1170Rise
	case t <= r.t1:
		return r.plateau
	case t <= nzs1170T2:
		return r.power / pow34(t)
	case t <= nzs1170T3:
		return r.velocity / t
	}
	return r.velocity * nzs1170T3 / (t * t)
}

// NZS1170Amplification returns the factor from a spectral acceleration on rock, class B, to
// that on a site subsoil class at period t in s: the ratio of the spectral shape factors. It
// converts a tabulated spectrum for rock to the ground; t = 0 is the peak ground acceleration.
func NZS1170Amplification(class SiteClass, t float64) (float64, error) {
	r, err := nzs1170Row(class)
	if err != nil {
		return 0, err
	}
	return r.at(t) / nzs1170Shapes['B'-'A'].at(t), nil
}

// NZS1170Site holds the inputs of the elastic site spectrum (NZS 1170.5 3.1.1).
type NZS1170Site struct {
	Z             float64   // hazard factor, Table 3.3
	R             float64   // return period factor, Table 3.5
	Class         SiteClass // site subsoil class, 3.1.3
	FaultDistance float64   // km to the nearest major fault of Table 3.6; +Inf if none
}

// Elastic returns the elastic site hazard spectrum in g at period t in s,
//
//	C(T) = Ch(T) Z R N(T, D)    (NZS 1170.5 3.1(1))
//
// The limit that Z R need not exceed 0.7 is not applied (from memory).
func (s NZS1170Site) Elastic(t float64) (float64, error) {
	r, err := nzs1170Row(s.Class)
	if err != nil {
		return 0, err
	}
	return r.at(t) * s.Z * s.R * NZS1170NearFault(t, s.FaultDistance, s.R), nil
}

// Fill makes at the elastic site hazard spectrum.
//
// The branches of the formula miss each other by up to 0.3 % at 0.3 and 1.5 s; here each is
// extended to its intersection with the next. A near-fault factor is linear in T; nodes then
// stand every quarter second from 1.5 to 5 s and the spectrum is within 0.5 % of C(T) up to 5
// s.
func (s NZS1170Site) Fill(at *Spectrum) error {
	r, err := nzs1170Row(s.Class)
	if err != nil {
		return err
	}
	zr := s.Z * s.R
	if !(zr > 0) || math.IsInf(zr, 0) || !(s.FaultDistance >= 0) {
		return fmt.Errorf("NZS 1170.5 site with Z %g, R %g, fault distance %g km: Z and R must be positive "+
			"and the distance not negative", s.Z, s.R, s.FaultDistance)
	}
	tc := math.Pow(r.power/r.plateau, 4.0/3)
	meet := math.Pow(r.velocity/r.power, 4)
	start, top, mid := r.start*zr, r.plateau*zr, r.velocity/meet*zr
	if NZS1170NearFault(5, s.FaultDistance, s.R) == 1 {
		at.SetNodes(start, nzs1170Rise, tc,
			Node{nzs1170Rise, top}, Node{tc, top}, Node{meet, mid},
			Node{nzs1170T3, r.velocity / nzs1170T3 * zr})
		at.end = nzs1170End
		return nil
	}
	var nodes [3 + 15]Node
	nodes[0], nodes[1], nodes[2] = Node{nzs1170Rise, top}, Node{tc, top}, Node{meet, mid}
	for i := range nodes[3:] {
		t := nzs1170T2 + 0.25*float64(i+1)
		nodes[3+i] = Node{t, r.at(t) * zr * NZS1170NearFault(t, s.FaultDistance, s.R)}
	}
	at.SetNodes(start, nzs1170Rise, tc, nodes[:]...)
	return nil
}

var (
	nearFaultT = []float64{1.5, 2, 3, 4, 5}
	nearFaultN = []float64{1.0, 1.12, 1.36, 1.60, 1.72}
)

// NZS1170NearFault returns N(T, D) of NZS 1170.5 3.1.6 at period t in s,
// distance d in km and return period factor r:
//
//	N = 1                                  R <= 0.75 or D >= 20 km
//	N = Nmax(T)                            D <= 2 km
//	N = 1 + (Nmax(T) - 1)(20 - D)/18       between
//
// with Nmax of Table 3.7: 1.0 up to 1.5 s, 1.12 at 2, 1.36 at 3, 1.60 at 4 and
// 1.72 from 5 s, by straight lines.
func NZS1170NearFault(t, d, r float64) float64 {
	if r <= 0.75 || d >= 20 {
		return 1
	}
	return 1 + (interpolate(nearFaultT, nearFaultN, t)-1)*(20-max(d, 2))/18
}

// NZS1170Inelastic returns kmu of NZS 1170.5 5.2.1.1 for ductility mu >= 1 at
// period t in s, taken not below 0.4 s:
//
//	kmu = mu                      T >= 0.7 s, classes A to D
//	kmu = (mu - 1) T/0.7 + 1      T <  0.7 s
//	kmu = mu                      T >= 1 s or mu < 1.5, class E
//	kmu = (mu - 1.5) T + 1.5      otherwise
func NZS1170Inelastic(class SiteClass, mu, t float64) float64 {
	t = max(t, 0.4)
	switch {
	case class == 'E' && (t >= 1 || mu < 1.5):
		return mu
	case class == 'E':
		return (mu-1.5)*t + 1.5
	case t >= 0.7:
		return mu
	}
	return (mu-1)*t/0.7 + 1
}

// NZS1170Performance returns the structural performance factor Sp of NZS 1170.5
// 4.4.2 for ductility mu (from memory):
//
//	Sp = 1.3 - 0.3 mu    1 < mu < 2
//	Sp = 0.7             mu >= 2
func NZS1170Performance(mu float64) float64 { return max(0.7, 1.3-0.3*max(mu, 1)) }

// DesignCoefficient returns the horizontal design action coefficient Cd(T) of the
// equivalent static method, NZS 1170.5 5.2.1.1, for ductility mu at period t in s:
//
//	Cd = C(T) Sp/kmu >= (Z/20 + 0.02) R and >= 0.03 R    (5.2(1), 5.2(2))
//
// with C(T) from the static column of Table 3.1 (floors from memory).
func (s NZS1170Site) DesignCoefficient(t, mu float64) (float64, error) {
	if !(mu >= 1) {
		return 0, fmt.Errorf("ductility %g: it must be at least 1", mu)
	}
	c, err := s.Elastic(max(t, 0.4))
	if err != nil {
		return 0, err
	}
	cd := c * NZS1170Performance(mu) / NZS1170Inelastic(s.Class, mu, t)
	return max(cd, (s.Z/20+0.02)*s.R, 0.03*s.R), nil
}
