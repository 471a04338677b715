package field

import (
	"errors"
	"fmt"
	"math"
	"sort"

	"plinth/hazard"
)

// ErrNoClass is returned by a lookup in a source on rock if the site class of the place is
// unknown and the options have no default. The remedy is the building's class, or a
// DefaultClass.
var ErrNoClass = errors.New("the site class is unknown and there is no default")

// The periods of the site coefficients in s: SS and Fa stand for 0.2 s, S1 and
// Fv for 1 s (ASCE 7-16 11.4.2, 11.4.4).
const (
	shortPeriod = 0.2
	longPeriod  = 1.0
)

// mceReturnPeriod in yr is the longest level to which the conditions of ASCE 7-16 11.4.8 apply.
// They are meant for the MCER: 2 % in 50 years before its adjustments (commentary C11.4).
const mceReturnPeriod = 2475

// soil converts rock spectra to the ground of a site class by the coefficients of ASCE 7-16,
// each read at the rock acceleration of its own level:
//
//	PGA           FPGA, Table 11.8-1
//	T <= 0.2 s    Fa, Table 11.4-1, at Sa(0.2 s)
//	T >= 1 s      Fv, Table 11.4-2, at Sa(1 s)
//	between       ln F linear in ln T
//
// Those of EN 1998-1 and NZS 1170.5 are ratios of the standard's spectra on the
// ground and on rock, which depend on the period alone.
//
// ASCE 7-16 gives no coefficient between 0.2 s and 1 s; the straight line is a judgement.
// Applied to a two-period spectrum on rock it gives 0.88 to 1.35 times that on the ground
// (11.4.6; classes C to E, SS 0.25 to 1.5 g, S1 = 0.4 SS), most near 0.4 s.
type soil struct {
	included bool
	standard hazard.SiteClass // default for places without one

	rule        hazard.SoilStandard
	short, long between   // Sa(0.2 s) and Sa(1 s)
	w           []float64 // for each period, 0 is all Fa and 1 all Fv
	// ln of the ratio at the peak and each period, for each class A to E; rules by period alone
	ratio [][]float64
}

// A ground is the row of a standard's tables to read for a class.
type ground uint8

// newGround returns the row of class c: an ASCE7Class of ASCE 7-16, otherwise the letter's
// place in the alphabet.
func newGround(rule hazard.SoilStandard, c hazard.SiteClass) (ground, error) {
	if rule == hazard.SoilASCE7 {
		row, _, err := hazard.ASCE7ClassOf(c, false)
		return ground(row), err
	}
	if c < 'A' || c > 'E' {
		return 0, fmt.Errorf("ground %s has no spectrum in %s; a special study is needed", c, rule)
	}
	return ground(c - 'A'), nil
}

// A between reads ln Sa at a period by a straight line in ln T.
type between struct {
	lo, hi int
	w      float64
}

func (b between) of(ln []float64) float64 { return ln[b.lo] + b.w*(ln[b.hi]-ln[b.lo]) }

// newSoil returns the soil of a source with the periods in s. A source on rock
// must bracket both periods of the coefficients; see checkSoil.
func newSoil(o Options, periods []float64) soil {
	s := soil{included: o.SoilIncluded, standard: o.DefaultClass, rule: o.Soil}
	if s.included {
		return s
	}
	if s.rule != hazard.SoilASCE7 {
		s.ratio = ratios(o, periods)
		return s
	}
	s.short, s.long = newBetween(periods, shortPeriod), newBetween(periods, longPeriod)
	s.w = make([]float64, len(periods))
	for i, t := range periods {
		s.w[i] = min(1, max(0, math.Log(t/shortPeriod)/math.Log(longPeriod/shortPeriod)))
	}
	return s
}

// ratios returns the logarithms of the standard's amplification of rock.
func ratios(o Options, periods []float64) [][]float64 {
	all := make([][]float64, 5)
	for i := range all {
		for _, t := range append([]float64{0}, periods...) {
			var f float64
			var err error
			if class := hazard.SiteClass('A' + i); o.Soil == hazard.SoilNZS1170 {
				f, err = hazard.NZS1170Amplification(class, t)
			} else {
				f, err = o.eurocode8().Amplification(class, t)
			}
			if err != nil {
				panic("field: a class without amplification") // classes A to E have one
			}
			all[i] = append(all[i], math.Log(f))
		}
	}
	return all
}

func (o *Options) eurocode8() *hazard.Eurocode8Parameters {
	if o.Eurocode8.Name == "" {
		return &hazard.Eurocode8Type1
	}
	return &o.Eurocode8
}

// newBetween returns how to read period t, which lies within the periods.
func newBetween(periods []float64, t float64) between {
	i := sort.SearchFloat64s(periods, t) // periods[i-1] < t <= periods[i]
	if periods[i] == t {
		return between{i, i, 0}
	}
	return between{i - 1, i, math.Log(t/periods[i-1]) / math.Log(periods[i]/periods[i-1])}
}

// checkSoil reports a source on rock whose periods do not bracket those of the
// coefficients.
func (o *Options) checkSoil(file string, periods []float64, ps *Problems) {
	if !o.SoilIncluded && o.Soil == hazard.SoilASCE7 &&
		(periods[0] > shortPeriod || periods[len(periods)-1] < longPeriod) {
		ps.add(Problem{File: file, Column: "sa_...",
			Rule: "values on rock are amplified by their accelerations at 0.2 s and 1 s, which lie " +
				"outside the periods",
			Remedy: "give periods from 0.2 s or below to 1 s or above, or values with the soil included"})
	}
}

// class returns the class of the filled spectra and the row of the tables to read; no class if
// the soil is included.
func (s *soil) class(given hazard.SiteClass) (hazard.SiteClass, ground, hazard.Status, error) {
	if s.included {
		return 0, 0, 0, nil
	}
	var status hazard.Status
	if given == 0 {
		if s.standard == 0 {
			return 0, 0, 0, ErrNoClass
		}
		given, status = s.standard, hazard.AssumedClass
	}
	row, err := newGround(s.rule, given)
	return given, row, status, err
}

// amplify converts PGA and the logarithms of Sa at one level of returnPeriod yr from rock to
// the ground.
func (s *soil) amplify(row ground, returnPeriod, pga float64, ln []float64) (float64, hazard.Status) {
	if s.ratio != nil {
		r := s.ratio[row]
		for i := range ln {
			ln[i] += r[1+i]
		}
		return pga * math.Exp(r[0]), 0
	}
	class := hazard.ASCE7Class(row)
	v, err := hazard.ASCE7(hazard.ASCE716, class, math.Exp(s.short.of(ln)), math.Exp(s.long.of(ln)))
	if err != nil {
		panic("field: a node without acceleration") // readers reject it
	}
	fa, fv := math.Log(v.Fa), math.Log(v.Fv)
	for i, w := range s.w {
		ln[i] += fa + w*(fv-fa)
	}
	if returnPeriod > mceReturnPeriod {
		v.Status = 0
	}
	return hazard.ASCE7PGAM(hazard.ASCE716, class, pga), v.Status
}
