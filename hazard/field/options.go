package field

import (
	"math"
	"strconv"

	"plinth/hazard"
)

// Options tell how to read a source and at which return periods.
type Options struct {
	// ReturnPeriods are the levels of the run in yr, ascending.
	ReturnPeriods []float64

	// Between are further return periods in yr that a lookup fills, for integrals over frequency. How
	// they were read leaves no status but hazard.SlopeUnknown and hazard.FarBeyond.
	Between []float64

	// Unit of the accelerations in the file: g, m/s2, cm/s2 or %g. Empty is g.
	Unit string

	// CRS of the coordinates: EPSG:4326 or OGC:CRS84, both read longitude first, or
	// the EPSG code of a UTM zone on WGS 84 or ETRS89, for the nodes of CSV files
	// that are scattered points. Empty is EPSG:4326.
	CRS string

	// K > 0 extrapolates the source's end levels to return periods outside its range by the
	// power law H ~ a^-K. At 0 the slope between the source's last two levels at that end is carried
	// on, or that of DefaultK from one level.
	K float64

	// MaxDistance in m limits how far a place may be from the node it is read from, if it is
	// outside the cells of a grid or the areas of zones, or between scattered points. At 0
	// grids and zones have no value outside, and scattered points use DefaultMaxDistance.
	MaxDistance float64

	// SoilIncluded tells that the values already hold for the ground of each place. Otherwise
	// they hold for rock and are amplified for the site class.
	SoilIncluded bool

	// DefaultClass is the site class of a place without one, 0 for no default.
	DefaultClass hazard.SiteClass

	// Soil names the standard that defines the class letters and amplifies values on rock. A
	// Code has its own.
	Soil hazard.SoilStandard

	// Eurocode8 holds the parameters with which SoilEN1998 amplifies; the zero value is
	// hazard.Eurocode8Type1.
	Eurocode8 hazard.Eurocode8Parameters

	// LargestDirection tells that the values of the file are for the direction of the largest
	// response. They are divided by hazard.MaximumDirection, since demand is that of a plane
	// frame in an arbitrary direction, for which the geometric mean stands.
	LargestDirection bool

	// Comma separates the cells of a CSV file; 0 means a comma.
	Comma rune
}

// DefaultMaxDistance in m is the default reach of scattered points: half the spacing of a
// coarse national grid (judgement).
const DefaultMaxDistance = 10_000

// units are the accepted units of acceleration, as multiples of g.
var units = map[string]float64{
	"":      1,
	"g":     1,
	"m/s2":  1 / hazard.Gravity,
	"cm/s2": 0.01 / hazard.Gravity,
	"%g":    0.01,
}

// check returns the problems of the options themselves.
func (o *Options) check(file string, ps *Problems) {
	bad := func(option, value, rule, remedy string) {
		ps.add(Problem{File: file, Column: "option " + option, Value: value, Rule: rule, Remedy: remedy})
	}
	if len(o.ReturnPeriods) == 0 {
		bad("ReturnPeriods", "", "the run has no return periods", "give at least one")
	}
	for i, t := range o.ReturnPeriods {
		if !isReturnPeriod(t) || i > 0 && t <= o.ReturnPeriods[i-1] {
			bad("ReturnPeriods", number(t), "return periods must lie between 0.01 and 1e9 yr and ascend",
				"sort them")
		}
	}
	if _, ok := units[o.Unit]; !ok {
		bad("Unit", o.Unit, "unknown unit of acceleration", "write g, m/s2, cm/s2 or %g")
	}
	if _, err := ProjectionOf(o.CRS); err != nil {
		bad("CRS", o.CRS, err.Error(), "convert the file to EPSG:4326")
	}
	if o.K != 0 && !(o.K >= leastK) || math.IsInf(o.K, 1) {
		bad("K", number(o.K), "the exponent of the power law must be 0, for none, or from 0.1",
			"EN 1998-1 2.1(4) gives about 3")
	}
	if c := o.DefaultClass; c != 0 && !o.SoilIncluded {
		if _, err := newGround(o.Soil, c); err != nil {
			bad("DefaultClass", c.String(), err.Error(), "write A to E")
		}
	}
	if o.Soil == hazard.SoilNTC2018 && !o.SoilIncluded {
		bad("Soil", o.Soil.String(), "its soil factors need ag and F0, which a map of spectra does not give",
			"write en1998-1, whose ground types have the same velocities")
	}
	if !(o.MaxDistance >= 0) {
		bad("MaxDistance", number(o.MaxDistance), "the distance must be 0 or above", "give metres")
	}
}

// The limits of a source's return periods in yr and periods in s. A number beyond them is a
// mistake that would only propagate infinities.
const (
	leastReturnPeriod, mostReturnPeriod = 0.01, 1e9
	leastPeriod, mostPeriod             = 0.001, 100
)

func isReturnPeriod(v float64) bool { return v >= leastReturnPeriod && v <= mostReturnPeriod }

func isPeriod(v float64) bool { return v >= leastPeriod && v <= mostPeriod }

// leastK is the least exponent of the power law: with it a tenth more return period already
// multiplies accelerations by 2.6.
const leastK = 0.1

// number writes v as a person would.
func number(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }
