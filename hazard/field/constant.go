package field

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"plinth/hazard"
)

// Constant has the same spectra at every place on earth.
type Constant struct {
	slab
	coverage Coverage
}

// A Level is a spectrum at one return period: peak ground acceleration and
// spectral accelerations in the unit of the options.
type Level struct {
	ReturnPeriod float64 // yr
	PGA          float64
	Sa           []float64 // one for each period
}

// NewConstant returns the field of one or more levels at the periods in s. Options.K extends a
// single level to the return periods of the run.
func NewConstant(periods []float64, levels []Level, o Options) (*Constant, error) {
	const file = "constant spectrum"
	var ps Problems
	o.check(file, &ps)
	bad := func(column, value, rule, remedy string) {
		ps.add(Problem{File: file, Column: column, Value: value, Rule: rule, Remedy: remedy})
	}
	if len(periods) == 0 || len(periods) > maxPeriods {
		bad("periods", fmt.Sprint(len(periods)), fmt.Sprintf("a spectrum has 1 to %d periods", maxPeriods),
			"give that many")
	}
	for i, t := range periods {
		if !isPeriod(t) || i > 0 && t <= periods[i-1] {
			bad("periods", number(t), "periods must lie between 0.001 and 100 s and ascend", "sort them")
		}
	}
	if len(levels) == 0 {
		bad("levels", "", "there is no spectrum", "give at least one")
	}
	got := rows{file: file}
	for i, l := range levels {
		if !isReturnPeriod(l.ReturnPeriod) {
			bad("return period", number(l.ReturnPeriod), "no return period between 0.01 and 1e9 yr",
				"give years, not a frequency")
		}
		if len(l.Sa) != len(periods) {
			bad("sa", fmt.Sprint(len(l.Sa)), fmt.Sprintf("there are %d periods", len(periods)),
				"give one ordinate a period")
			continue
		}
		ln := make([]float64, 0, 1+len(l.Sa))
		for k, v := range append([]float64{l.PGA}, l.Sa...) {
			column := "pga"
			if k > 0 {
				column = "sa_" + number(periods[k-1])
			}
			v *= units[o.Unit]
			if !isAcceleration(v) {
				bad(column, number(v), "no acceleration of the ground", "check the number and its unit")
			}
			ln = append(ln, math.Log(v))
		}
		got.add(orb.Point{}, l.ReturnPeriod, i+1, ln, hazard.Shaking{})
	}
	if err := ps.err(); err != nil {
		return nil, err
	}
	o.checkSoil(file, periods, &ps)
	t := got.table(periods, &ps)
	if err := ps.err(); err != nil {
		return nil, err
	}
	return &Constant{t.slab(o), newCoverage(t, nil)}, nil
}

// world is the bound of a field that holds everywhere.
var world = orb.Bound{Min: orb.Point{-180, -90}, Max: orb.Point{180, 90}}

// Bound returns the whole earth.
func (c *Constant) Bound() orb.Bound { return world }

// Coverage describes the spectra.
func (c *Constant) Coverage() Coverage { return c.coverage }

// Lookup fills site for a place.
func (c *Constant) Lookup(lon, lat float64, class hazard.SiteClass, site *hazard.Site) error {
	if _, ok := place(lon, lat); !ok {
		return nowhere(lon, lat)
	}
	return c.fill(only(0), class, 0, 0, site)
}
