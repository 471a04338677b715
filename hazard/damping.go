package hazard

import (
	"fmt"
	"math"
	"strings"
)

// A Reduction gives the coefficient B by which damping other than 5 % of
// critical divides a spectral acceleration, Sa(T, b) = Sa(T)/B, for a damping
// as a fraction of critical. B is 1 at 5 %, less below and more above.
//
// Every family is held constant beyond its range, so that B is positive and finite for any
// damping: tables beyond their first and last row, formulas beyond dampings of 0.5 % and 100 %.
// The reductions were fitted to elastic response under ordinary records; long records and
// near-fault pulses gain less from damping.
type Reduction func(damping float64) float64

// The range to which formulas are limited: the least damping of Newmark and Hall (1982), Table
// 1, and critical damping.
const (
	leastDamping = 0.005
	mostDamping  = 1.0
)

func heldDamping(damping float64) float64 {
	return min(max(damping, leastDamping), mostDamping)
}

var (
	isolationDamping = []float64{0.02, 0.05, 0.10, 0.20, 0.30, 0.40, 0.50}
	isolationB       = []float64{0.8, 1.0, 1.2, 1.5, 1.7, 1.9, 2.0}

	damperDamping = []float64{0.02, 0.05, 0.10, 0.20, 0.30, 0.40, 0.50, 0.60, 0.70, 0.80, 0.90, 1.00}
	damperB       = []float64{0.8, 1.0, 1.2, 1.5, 1.8, 2.1, 2.4, 2.7, 3.0, 3.3, 3.6, 4.0}

	fema356Damping = []float64{0.02, 0.05, 0.10, 0.20, 0.30, 0.40, 0.50}
	fema356BS      = []float64{0.8, 1.0, 1.3, 1.8, 2.3, 2.7, 3.0}
	fema356B1      = []float64{0.8, 1.0, 1.2, 1.5, 1.7, 1.9, 2.0}
)

// ReductionASCE41 is B1 of ASCE 41-17 2.4.1.7.1 (from memory),
//
//	B = 4/(5.6 - ln(100 b))
//
// which is 1.0024 at 5 %.
func ReductionASCE41(damping float64) float64 {
	return 4 / (5.6 - math.Log(100*heldDamping(damping)))
}

// ReductionIsolation is BM of ASCE 7-16 Table 17.5-1, by straight lines, held at
// 2.0 from 50 %.
func ReductionIsolation(damping float64) float64 {
	return interpolate(isolationDamping, isolationB, damping)
}

// ReductionDampers is BV+I of ASCE 7-16 Table 18.7-1 (after Ramirez et al. 2000),
// by straight lines.
func ReductionDampers(damping float64) float64 {
	return interpolate(damperDamping, damperB, damping)
}

// ReductionEN1998 is 1/eta of EN 1998-1 3.2.2.2(3),
//
//	eta = sqrt(10/(5 + 100 b)) >= 0.55
//
// so that damping above about 28 % brings no further reduction.
func ReductionEN1998(damping float64) float64 {
	return 1 / max(0.55, math.Sqrt(0.10/(0.05+max(damping, 0))))
}

// ReductionNZ is the inverse of the damping factor of New Zealand practice and of
// direct displacement-based design (Priestley, Calvi and Kowalsky 2007; EN
// 1998-1:1994),
//
//	1/B = (0.07/(0.02 + b))^0.5
func ReductionNZ(damping float64) float64 {
	return math.Sqrt((0.02 + heldDamping(damping)) / 0.07)
}

// ReductionNZNearFault is ReductionNZ with the power 0.25, for sites where
// forward directivity pulses are expected (Priestley, Calvi and Kowalsky 2007).
func ReductionNZNearFault(damping float64) float64 {
	return math.Sqrt(ReductionNZ(damping))
}

// ReductionAASHTO is BL of the AASHTO Guide Specifications for Seismic Isolation
// Design (2010) 7.1 (from memory),
//
//	B = (b/0.05)^0.3 <= 1.7
func ReductionAASHTO(damping float64) float64 {
	return min(1.7, math.Pow(heldDamping(damping)/0.05, 0.3))
}

// ReductionJapan is 1/Fh of Notification 1457 (2000), from memory,
//
//	Fh = 1.5/(1 + 10 b)
func ReductionJapan(damping float64) float64 {
	return (1 + 10*min(max(damping, 0), mostDamping)) / 1.5
}

// ReductionFEMA356Short is BS of FEMA 273 and FEMA 356 Table 1-6, which divides
// the constant-acceleration branch (from memory).
func ReductionFEMA356Short(damping float64) float64 {
	return interpolate(fema356Damping, fema356BS, damping)
}

// ReductionFEMA356Long is B1 of FEMA 273 and FEMA 356 Table 1-6, which divides
// the 1/T branch (from memory).
func ReductionFEMA356Long(damping float64) float64 {
	return interpolate(fema356Damping, fema356B1, damping)
}

// ReductionGB50011 is 1/eta2 of GB 50011 5.1.5,
//
//	eta2 = 1 + (0.05 - b)/(0.08 + 1.6 b) >= 0.55
//
// The code also changes the exponent of the falling branch; that is left out.
func ReductionGB50011(damping float64) float64 {
	b := max(damping, 0)
	return 1 / max(0.55, 1+(0.05-b)/(0.08+1.6*b))
}

// reductions lists every family by its slug.
var reductions = []struct {
	slug string
	b    Reduction
}{
	{"asce-41", ReductionASCE41},
	{"asce-7-isolation", ReductionIsolation},
	{"asce-7-dampers", ReductionDampers},
	{"en-1998-1", ReductionEN1998},
	{"nz", ReductionNZ},
	{"nz-near-fault", ReductionNZNearFault},
	{"aashto", ReductionAASHTO},
	{"japan-1457", ReductionJapan},
	{"fema-356-short", ReductionFEMA356Short},
	{"fema-356-long", ReductionFEMA356Long},
	{"gb-50011", ReductionGB50011},
}

// ReductionNames returns the slugs of the reductions, in the order of the table.
func ReductionNames() []string {
	names := make([]string, len(reductions))
	for i, r := range reductions {
		names[i] = r.slug
	}
	return names
}

// ReductionNamed returns the reduction with a slug.
func ReductionNamed(slug string) (Reduction, error) {
	for _, r := range reductions {
		if r.slug == slug {
			return r.b, nil
		}
	}
	return nil, fmt.Errorf("damping reduction %q is not known; write one of %s", slug,
		strings.Join(ReductionNames(), ", "))
}
