package field

import (
	"math"

	"plinth/hazard"
)

// Eurocode8 is EN 1998-1: one parameter, ag on type A ground (column ag), for one return
// period. Options.K extends it to others, as in 2.1(4). The zero value has no ground: fill in
// all fields.
type Eurocode8 struct {
	Parameters hazard.Eurocode8Parameters
	Importance float64 // gammaI on agR (4.2.5), 1 for the reference return period itself
	Reference  float64 // yr, 475 as recommended (2.1(1)P)
}

func (e Eurocode8) parameters() []parameter {
	return []parameter{{"ag", true, leastSa, mostSa, "give ag on type A ground, and its unit"}}
}

func (e Eurocode8) single() float64 { return e.Reference }

func (e Eurocode8) levels(source []float64, o *Options) levels { return newLevels(source, o) }

func (e Eurocode8) rock() hazard.SiteClass { return 'A' }

func (e Eurocode8) spectrum(s *hazard.Spectrum, _ float64, ln [maxParameters]float64, class hazard.SiteClass,
	_ float64) error {
	return e.Parameters.Elastic(s, class, e.Importance*math.Exp(ln[0]))
}

// NZS1170 is NZS 1170.5: one parameter, the hazard factor Z (column z). Return periods follow
// from R of Table 3.5, between its rows by a straight line in ln R - ln years, and outside its
// 20 to 2500 yr by Options.K or the slope of the table at its end. N(T, D) follows from the distance
// to the fault.
type NZS1170 struct{}

func (NZS1170) parameters() []parameter {
	return []parameter{{"z", false, 0.01, 2, "Table 3.3 gives 0.13 to 0.60"}}
}

// single is the return period at which R is 1.
func (NZS1170) single() float64 { return 500 }

// The ends of Table 3.5 in yr.
const nzs1170First, nzs1170Last = 20, 2500

func (NZS1170) levels(_ []float64, o *Options) levels {
	l := o.levels()
	for i, tr := range l.run {
		end := min(max(tr, nzs1170First), nzs1170Last)
		l.shift[i] = hazard.ReturnShape(tr)
		switch {
		case tr == end:
		case o.K > 0:
			l.shift[i] = hazard.ReturnShape(end) + math.Log(tr/end)/o.K
			l.flag(i, hazard.PowerLaw)
		default:
			l.beyond(i, tr/end)
		}
	}
	return l
}

func (NZS1170) rock() hazard.SiteClass { return 'B' }

// spectrum takes ln(Z R): R alone decides whether N counts (3.1.6).
func (NZS1170) spectrum(s *hazard.Spectrum, returnPeriod float64, ln [maxParameters]float64,
	class hazard.SiteClass, fault float64) error {
	r, _ := hazard.NZS1170ReturnFactor(returnPeriod)
	return hazard.NZS1170Site{Z: math.Exp(ln[0]) / r, R: r, Class: class, FaultDistance: fault}.Fill(s)
}

// NTC2018 is the Italian code of 2018: ag, F0 and TC* at each of the source's return periods
// (columns ag, f0, tc). Their logarithms are interpolated linearly between return periods and
// between nodes. The national grid has the first rule too (Annex A) but weights its four
// corners by the inverse of distance (from memory). Beyond the
// source's range ag follows Options.K or its own slope, and F0 and TC* are those of the end.
type NTC2018 struct {
	Topography float64 // ST of Table 3.2.V, 1.0 to 1.4
}

func (NTC2018) parameters() []parameter {
	return []parameter{
		{"ag", true, leastSa, mostSa, "give ag on rigid ground, and its unit"},
		{"f0", false, 1, 6, "the national grid gives 2.2 and more"},
		{"tc", false, 0.02, 3, "TC* in s"},
	}
}

func (NTC2018) single() float64 { return 0 }

func (NTC2018) levels(source []float64, o *Options) levels { return newLevels(source, o) }

func (NTC2018) rock() hazard.SiteClass { return 'A' }

func (n NTC2018) spectrum(s *hazard.Spectrum, _ float64, ln [maxParameters]float64, class hazard.SiteClass,
	_ float64) error {
	return hazard.NTC2018Site{
		AG: math.Exp(ln[0]), F0: math.Exp(ln[1]), TC: math.Exp(ln[2]), Ground: class,
		Topography: n.Topography,
	}.Fill(s)
}

// japanPeriods hold the corners of the bedrock spectrum, its end, and the periods of the site
// coefficients. Between them the branches are straight in ln-ln.
var japanPeriods = []float64{0.16, 0.2, 0.3, 0.4, 0.64, 1, 2, 4, 10}

// NewJapan returns the field of the bedrock spectra of Notification 1457 (2000) for zone factor
// z: the severe level at a return period of severe yr and the moderate one, a fifth of it, at
// moderate yr. The law names no return periods: 500 and 50 yr are common practice, no source.
// The amplification Gs of the surface layers is not included. Options.SoilIncluded treats the
// site as bedrock, Vs 400 m/s and more; without it the spectra are amplified as for rock, which
// at Vs 760 m/s is firmer and gives more.
func NewJapan(z, severe, moderate float64, o Options) (*Constant, error) {
	var all []Level
	for level, tr := range [...]float64{hazard.JapanSevere: severe, hazard.JapanModerate: moderate} {
		var s hazard.Spectrum
		if err := hazard.JapanBedrock(&s, hazard.JapanLevel(level), z); err != nil {
			return nil, &Problems{List: []Problem{{File: "bedrock spectrum", Column: "zone factor",
				Value: number(z), Rule: err.Error(), Remedy: "zones have 0.7 to 1.0"}}}
		}
		l := Level{ReturnPeriod: tr, PGA: s.PGA}
		for _, t := range japanPeriods {
			l.Sa = append(l.Sa, s.Sa(t))
		}
		all = append(all, l)
	}
	o.Unit = "g"
	return NewConstant(japanPeriods, all, o)
}
