package hazard

import (
	"fmt"
	"math"
)

// A Eurocode8Ground is a row of EN 1998-1 Table 3.2 or 3.3: the soil factor and
// the corner periods of the horizontal elastic spectrum.
type Eurocode8Ground struct {
	S          float64
	TB, TC, TD float64 // s
}

// Eurocode8Parameters holds the horizontal spectrum's nationally determined parameters: a row
// for each ground type A to E (3.2.2.2(2)P), the vertical spectrum (3.2.2.3) and the lower
// bound of the design spectrum (3.2.2.5(4)P). Fill in another value where a National Annex
// departs from the recommended parameters.
type Eurocode8Parameters struct {
	Name     string
	Ground   [5]Eurocode8Ground
	Vertical Eurocode8Vertical
	Beta     float64 // lower bound of the design spectrum divided by ag
}

// A Eurocode8Vertical is a row of EN 1998-1 Table 3.4.
type Eurocode8Vertical struct {
	Ratio      float64 // avg/ag
	TB, TC, TD float64 // s
}

// The recommended parameters. Type 2 is for regions whose governing earthquakes
// have a surface-wave magnitude of at most 5.5 (3.2.2.2(2)P).
var (
	// Eurocode8Type1 is EN 1998-1 Tables 3.2 and 3.4.
	Eurocode8Type1 = Eurocode8Parameters{
		Name: "EN 1998-1 type 1",
		Ground: [5]Eurocode8Ground{
			{1.0, 0.15, 0.4, 2.0},
			{1.2, 0.15, 0.5, 2.0},
			{1.15, 0.20, 0.6, 2.0},
			{1.35, 0.20, 0.8, 2.0},
			{1.4, 0.15, 0.5, 2.0},
		},
		Vertical: Eurocode8Vertical{0.90, 0.05, 0.15, 1.0},
		Beta:     0.2,
	}
	// Eurocode8Type2 is EN 1998-1 Tables 3.3 and 3.4.
	Eurocode8Type2 = Eurocode8Parameters{
		Name: "EN 1998-1 type 2",
		Ground: [5]Eurocode8Ground{
			{1.0, 0.05, 0.25, 1.2},
			{1.35, 0.05, 0.25, 1.2},
			{1.5, 0.10, 0.25, 1.2},
			{1.8, 0.10, 0.30, 1.2},
			{1.6, 0.05, 0.25, 1.2},
		},
		Vertical: Eurocode8Vertical{0.45, 0.05, 0.15, 1.0},
		Beta:     0.2,
	}
)

// Return periods in yr of the limit states of EN 1998-3 2.1(3)P as recommended
// (from memory): 2 %, 10 % and 20 % in 50 years.
const (
	NearCollapseYears      = 2475.0
	SignificantDamageYears = 475.0
	DamageLimitationYears  = 225.0
)

// The plateau of the spectrum divided by ag S, horizontal (EN 1998-1 3.2.2.2), and by avg,
// vertical (3.2.2.3).
const (
	eurocode8Plateau         = 2.5
	eurocode8VerticalPlateau = 3.0
)

// ImportanceFactor returns gammaI of EN 1998-1 4.2.5(5) for an importance class
// I to IV given as 1 to 4: 0.8, 1.0, 1.2, 1.4 as recommended. ag is the reference
// value agR times gammaI (3.2.1(3)). Another class is an error.
func ImportanceFactor(class int) (float64, error) {
	factors := [...]float64{0.8, 1.0, 1.2, 1.4}
	if class < 1 || class > len(factors) {
		return 0, fmt.Errorf("importance class %d is not one of 1 to 4", class)
	}
	return factors[class-1], nil
}

func (p *Eurocode8Parameters) row(ground SiteClass) (Eurocode8Ground, error) {
	if ground < 'A' || ground > 'E' {
		return Eurocode8Ground{},
			fmt.Errorf("ground type %q has no spectrum in %s; types S1 and S2 need a special study "+
				"(3.1.2(4)P)", ground, p.Name)
	}
	return p.Ground[ground-'A'], nil
}

// eurocode8End in s is the longest period for which EN 1998-1 3.2.2.2 and 3.2.2.3 define their
// spectra.
const eurocode8End = 4

// Elastic makes s the horizontal elastic spectrum of EN 1998-1 3.2.2.2 at 5 %
// damping (eta = 1) for ag in g on ground type A:
//
//	Se = ag S (1 + (T/TB)(2.5 eta - 1))    T <= TB     (3.2)
//	Se = 2.5 eta ag S                      T <= TC     (3.3)
//	Se = 2.5 eta ag S TC/T                 T <= TD     (3.4)
//	Se = 2.5 eta ag S TC TD/T2             T <= 4 s    (3.5)
//
// Beyond 4 s the last branch continues, which lies above the form of Annex A, and Covers is
// false.
func (p *Eurocode8Parameters) Elastic(s *Spectrum, ground SiteClass, ag float64) error {
	g, err := p.row(ground)
	if err != nil {
		return err
	}
	return s.SetFourBranch(ag*g.S, eurocode8Plateau*ag*g.S, g.TB, g.TC, g.TD, eurocode8End)
}

// VerticalElastic makes s the vertical elastic spectrum of EN 1998-1 3.2.2.3 at
// 5 % damping, which is the same for all ground types:
//
//	Sve = avg (1 + (T/TB)(3 eta - 1)), 3 eta avg, 3 eta avg TC/T, 3 eta avg TC TD/T2
//
// for ag in g (Table 3.4 from memory).
func (p *Eurocode8Parameters) VerticalElastic(s *Spectrum, ag float64) error {
	v := p.Vertical
	avg := v.Ratio * ag
	return s.SetFourBranch(avg, eurocode8VerticalPlateau*avg, v.TB, v.TC, v.TD, eurocode8End)
}

// Design returns the design spectral acceleration in g of EN 1998-1 3.2.2.5 at
// period t in s with behaviour factor q >= 1, for ag in g (from memory):
//
//	Sd = ag S (2/3 + (T/TB)(2.5/q - 2/3))     T <= TB    (3.13)
//	Sd = ag S 2.5/q                           T <= TC    (3.14)
//	Sd = ag S (2.5/q) TC/T    >= Beta ag      T <= TD    (3.15)
//	Sd = ag S (2.5/q) TC TD/T2 >= Beta ag     T > TD     (3.16)
func (p *Eurocode8Parameters) Design(ground SiteClass, ag, q, t float64) (float64, error) {
	g, err := p.row(ground)
	if err != nil {
		return 0, err
	}
	if !(ag > 0 && q >= 1 && t >= 0) {
		return 0, fmt.Errorf("design spectrum with ag %g g, q %g, T %g s: ag must be positive, q at least "+
			"1 and T not negative", ag, q, t)
	}
	sd := ag * g.S * fourBranch(t, 2.0/3, eurocode8Plateau/q, g.TB, g.TC, g.TD)
	if t > g.TC {
		sd = max(sd, p.Beta*ag)
	}
	return sd, nil
}

// GroundDisplacement returns the design ground displacement dg in m of EN 1998-1
// 3.2.2.4, for ag in g:
//
//	dg = 0.025 ag S TC TD
func (p *Eurocode8Parameters) GroundDisplacement(ground SiteClass, ag float64) (float64, error) {
	g, err := p.row(ground)
	if err != nil {
		return 0, err
	}
	return 0.025 * ag * Gravity * g.S * g.TC * g.TD, nil
}

// Displacement returns the elastic displacement spectrum in m of EN 1998-1
// 3.2.2.2(5) and Annex A at 5 % damping (eta = 1), for type 1 spectra:
//
//	SDe = Se (T/2pi)2                                                   T <= TE
//	SDe = 0.025 ag S TC TD (2.5 eta + (T - TE)/(TF - TE)(1 - 2.5 eta))  T <= TF
//	SDe = dg                                                            T > TF
//
// with TE and TF of Table A.1 (from memory).
func (p *Eurocode8Parameters) Displacement(ground SiteClass, ag, t float64) (float64, error) {
	g, err := p.row(ground)
	if err != nil {
		return 0, err
	}
	const tf = 10.0 // s, all ground types
	te := [5]float64{4.5, 5.0, 6.0, 6.0, 6.0}[ground-'A']
	dg := 0.025 * ag * Gravity * g.S * g.TC * g.TD
	switch {
	case t > tf:
		return dg, nil
	case t > te:
		return dg * (eurocode8Plateau + (t-te)/(tf-te)*(1-eurocode8Plateau)), nil
	}
	w := t / (2 * math.Pi)
	return ag * g.elastic(t) * Gravity * w * w, nil
}

// elastic returns Se/ag at 5 % damping.
func (g Eurocode8Ground) elastic(t float64) float64 {
	return fourBranch(t, g.S, eurocode8Plateau*g.S, g.TB, g.TC, g.TD)
}

// Amplification returns the factor from a spectral acceleration on rock to that on a ground
// type at period t in s: the ratio of the elastic spectra of the type and of type A (3.2.2.2),
// which does not depend on ag. It converts a tabulated spectrum for rock to the ground; t = 0
// is the peak ground acceleration.
func (p *Eurocode8Parameters) Amplification(ground SiteClass, t float64) (float64, error) {
	g, err := p.row(ground)
	if err != nil {
		return 0, err
	}
	return g.elastic(t) / p.Ground[0].elastic(t), nil
}
