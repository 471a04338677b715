package hazard

import (
	"fmt"
	"math"
)

// NTC2018Site holds the inputs of the elastic spectrum of the Italian building code of 2018:
// three parameters of the national grid on rigid ground for one return period, and the ground
// and topography of the site.
type NTC2018Site struct {
	AG         float64   // g
	F0         float64   // largest amplification, >= 2.2
	TC         float64   // s, TC* of the grid
	Ground     SiteClass // category A to E, Table 3.2.II
	Topography float64   // ST of Table 3.2.V, 1.0 to 1.4
}

// ntc2018Soil is a row of NTC 2018 Table 3.2.IV (from memory, as in public calculation code):
//
//	SS = base - slope F0 ag/g, held to [least, most]
//	CC = scale (TC*)^power
type ntc2018Soil struct{ base, slope, least, most, scale, power float64 }

var ntc2018Soils = [5]ntc2018Soil{
	{1.00, 0.00, 1.00, 1.00, 1.00, 0.00},
	{1.40, 0.40, 1.00, 1.20, 1.10, -0.20},
	{1.70, 0.60, 1.00, 1.50, 1.05, -0.33},
	{2.40, 1.50, 0.90, 1.80, 1.25, -0.50},
	{2.00, 1.10, 1.00, 1.60, 1.15, -0.40},
}

// Soil returns the soil factor SS and the period factor CC of NTC 2018 Table
// 3.2.IV.
func (n NTC2018Site) Soil() (ss, cc float64, err error) {
	if n.Ground < 'A' || n.Ground > 'E' {
		return 0, 0, fmt.Errorf("ground category %q has no soil factor in NTC 2018 Table 3.2.IV", n.Ground)
	}
	r := ntc2018Soils[n.Ground-'A']
	ss = min(max(r.base-r.slope*n.F0*n.AG, r.least), r.most)
	return ss, r.scale * math.Pow(n.TC, r.power), nil
}

// ntc2018End in s is the longest period for which NTC 2018 3.2.3.2.1 defines its spectra (from
// memory); beyond it the code asks for a study of the site.
const ntc2018End = 4

// Fill makes s the horizontal elastic spectrum of NTC 2018 3.2.3.2.1 at 5 %
// damping (eta = 1):
//
//	Se = ag S F0 (T/TB + (1 - T/TB)/F0)    T <= TB
//	Se = ag S F0                           T <= TC
//	Se = ag S F0 TC/T                      T <= TD
//	Se = ag S F0 TC TD/T2                  T <= 4 s
//
// with S = SS ST, TC = CC TC*, TB = TC/3 and TD = 4 ag/g + 1.6.
func (n NTC2018Site) Fill(s *Spectrum) error {
	ss, cc, err := n.Soil()
	if err != nil {
		return err
	}
	if !(n.AG > 0 && n.F0 >= 1 && n.TC > 0 && n.Topography >= 1) {
		return fmt.Errorf("NTC 2018 site with ag %g g, F0 %g, TC* %g s, ST %g: ag and TC* must be "+
			"positive, F0 and ST at least 1", n.AG, n.F0, n.TC, n.Topography)
	}
	a := n.AG * ss * n.Topography
	tc := cc * n.TC
	return s.SetFourBranch(a, a*n.F0, tc/3, tc, 4*n.AG+1.6, ntc2018End)
}
