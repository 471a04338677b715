package field

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/hazard"
)

// Hazard curves at 34.0 N 118.0 W, Vs30 760 m/s, of the 2008 national seismic
// hazard model of the USGS, as printed among the examples of its calculator of
// risk-targeted ground motion: acceleration in g and annual frequency.
const (
	pgaCurve = "0.005 0.4679 0.0192 0.188 0.0738 0.04694 0.145 0.0171 0.203 0.00937 0.284 0.004966 0.397 " +
		"0.002603 0.556 0.001316 0.778 0.0006023 1.09 0.0002285 2.13 0.00001371"
	saCurve = "0.0025 0.5079 0.019 0.1305 0.0961 0.01987 0.144 0.009912 0.216 0.004562 0.324 0.002019 " +
		"0.487 0.0008614 0.73 0.000337 1.09 0.0001105 5.54 0"
)

func curveRows(lon float64, curves map[string]string) string {
	var b strings.Builder
	for period, c := range curves {
		v := strings.Fields(c)
		for i := len(v) - 2; i >= 0; i -= 2 { // rows in any order
			fmt.Fprintf(&b, "%g,34,%s,%s,%s\n", lon, period, v[i], v[i+1])
		}
	}
	return b.String()
}

const curveHead = "lon,lat,period_s,sa,annual_frequency\n"

func TestCurvesBecomeUniformHazard(t *testing.T) {
	text := curveHead + curveRows(-118, map[string]string{"pga": pgaCurve, "1": saCurve})
	o := Options{SoilIncluded: true, ReturnPeriods: []float64{
		1 / hazard.AnnualFrequency(0.5, 50), 1 / hazard.AnnualFrequency(0.2, 50),
		1 / hazard.AnnualFrequency(0.1, 50), 1 / hazard.AnnualFrequency(0.05, 50),
		1 / hazard.AnnualFrequency(0.02, 50)}}
	f, err := ReadCurves(strings.NewReader(text), "curves.csv", Scattered, o)
	require.NoError(t, err)
	assert.Equal(t, []string{"1 points have frequency 0 and are not read"}, f.Coverage().Warnings)
	s := look(t, f, -118, 34)
	assert.Zero(t, s.Status)
	// From 20 % on, the points printed above are all of the curve's own; the
	// first would need those left out here.
	for l, want := range map[int]float64{1: 0.30018, 2: 0.44066, 3: 0.61883, 4: 0.89392} {
		assert.InEpsilon(t, want, s.Spectra[l].PGA, 1e-4) // digits of the printed curve
	}
}

func TestCurvesSayWhereTheyEnd(t *testing.T) {
	short := map[string]string{"0": "0.1 0.01 0.2 0.001", "1": "0.1 0.01 0.2 0.001"}
	full := map[string]string{"0": "0.1 0.01 0.4 0.0001", "1": "0.1 0.01 0.4 0.0001"}
	text := curveHead + curveRows(0, short) + curveRows(0.05, full)
	at := func(k float64) *Nodes {
		f, err := ReadCurves(strings.NewReader(text), "curves.csv", Scattered,
			Options{SoilIncluded: true, ReturnPeriods: []float64{200, 8000}, K: k})
		require.NoError(t, err)
		return f
	}
	r := hazard.ReturnShape // doubled from 100 to 1000 yr
	s := look(t, at(0), 0, 34)
	assert.Equal(t, hazard.AboveRange, s.Status)
	assert.InEpsilon(t, 0.2*math.Pow(2, (r(8000)-r(1000))/(r(1000)-r(100))), s.Spectra[1].PGA, rounding)
	s = look(t, at(3), 0, 34)
	assert.Equal(t, hazard.PowerLaw, s.Status)
	assert.InEpsilon(t, 0.4, s.Spectra[1].PGA, rounding) // 8^(1/3) times 0.2
	assert.Zero(t, look(t, at(0), 0.05, 34).Status, "the other node reaches 10,000 yr")
	assert.Equal(t, hazard.AboveRange, look(t, at(0), 0.02, 34).Status, "read from both")
}

func TestBadCurves(t *testing.T) {
	// lines 2 to 5
	good := curveRows(0, map[string]string{"0": "0.1 0.01 0.2 0.001"}) +
		curveRows(0, map[string]string{"1": "0.1 0.01 0.2 0.001"})
	for _, c := range []struct {
		name, text string
		want       want
	}{
		{"no frequency", "lon,lat,period_s,sa\n", want{line: 1, column: "annual_frequency", rule: "missing",
			problems: 1}},
		{"unit in a name", "lon,lat,period_s,sa_g,annual_frequency\n" + good,
			want{line: 1, column: "sa_g", rule: "Unit says", problems: 1, unit: "m/s2"}},
		{"header only", curveHead, want{rule: "no row", problems: 1}},
		{"no peak", curveHead + "0,34,1,0.1,0.01\n0,34,1,0.2,0.001\n",
			want{column: "period_s", rule: "are needed", problems: 1}},
		{"negative frequency", curveHead + good + "0,34,1,0.3,-0.1\n",
			want{line: 6, column: "annual_frequency", value: "-0.1", rule: "no annual frequency",
				problems: 1}},
		{"negative period", curveHead + good + "0,34,-1,0.3,0.1\n",
			want{line: 6, column: "period_s", value: "-1", rule: "no period", problems: 1}},
		{"rises", curveHead + good + "0,34,1,0.3,0.005\n",
			want{line: 6, column: "annual_frequency", value: "0, 34, period 1 s",
				rule: "does not fall from line 4", problems: 1}},
		{"says two things", curveHead + good + "0,34,1,0.2,0.002\n",
			want{line: 4, column: "annual_frequency",
				rule: "line 6 gives the same acceleration another frequency", problems: 1}},
		{"one point", curveHead + "0,34,0,0.1,0.01\n" + "0,34,1,0.1,0.01\n0,34,1,0.2,0.001\n",
			want{line: 2, column: "annual_frequency", rule: "1 points", problems: 1}},
		{"a node without a period", curveHead + good + "1,34,0,0.1,0.01\n1,34,0,0.2,0.001\n",
			want{line: 6, column: "annual_frequency", value: "1, 34, period 1 s", rule: "0 points",
				problems: 1}},
	} {
		t.Run(c.name, func(t *testing.T) {
			o := asRead
			o.Unit = c.want.unit
			_, err := ReadCurves(strings.NewReader(c.text), "bad.csv", Scattered, o)
			c.want.meets(t, err, "bad.csv")
		})
	}
	_, err := ReadCurves(strings.NewReader(curveHead+good+"0,34,1,0.2,0.001\n"), "odd.csv", Scattered, asRead)
	require.NoError(t, err, "a point repeated")
}
