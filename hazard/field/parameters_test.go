package field

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/hazard"
)

const parameterHead = "lon,lat,ss,s1,tl,site_class\n"

func TestParameters(t *testing.T) {
	text := parameterHead + "0,40,1.5,0.6,8,\n0.5,40,1.0,0.4,8,\n0,40.5,1.5,0.6,6,D\n0.5,40.5,1.0,0.4,6,\n"
	o := Options{ReturnPeriods: []float64{2475, 8 * 2475}, K: 3}
	p, err := ReadParameters(strings.NewReader(text), "map.csv", Regular, 2475, o)
	require.NoError(t, err)
	var s hazard.Site

	// ASCE 7-16 Tables 11.4-1 and 11.4-2, class C at SS 1.5, S1 0.6: Fa 1.2, Fv 1.4.
	require.NoError(t, p.Lookup(0, 40, 'C', &s))
	assert.InEpsilon(t, 1.2*1.5, s.Spectra[0].Sa(0.3), 1e-9)
	assert.InEpsilon(t, 1.4*0.6, s.Spectra[0].Sa(1), 1e-9)
	assert.InEpsilon(t, 1.4*0.6*8/100, s.Spectra[0].Sa(10), 1e-9) // beyond TL: SM1 TL/T2
	assert.InEpsilon(t, 2*1.2*1.5, s.Spectra[1].Sa(0.3), 1e-9)
	assert.Equal(t, hazard.PowerLaw, s.Status)
	assert.Equal(t, hazard.SiteClass('C'), s.Class)

	// Half way: SS = sqrt(1.5 x 1.0), S1 = sqrt(0.6 x 0.4); Fa 1.2, Fv 1.5 up to S1 = 0.5.
	require.NoError(t, p.Lookup(0.25, 40, 'C', &s))
	assert.InEpsilon(t, 1.2*math.Sqrt(1.5), s.Spectra[0].Sa(0.3), 1e-9)
	assert.InEpsilon(t, 1.5*math.Sqrt(0.24), s.Spectra[0].Sa(1), 1e-9)

	// Without a class the node's own holds, and is said; without that too, nothing.
	require.NoError(t, p.Lookup(0, 40.5, 0, &s))
	assert.Equal(t, hazard.SiteClass('D'), s.Class)
	// 11.4.8: class D with S1 >= 0.2
	assert.Equal(t, hazard.PowerLaw|hazard.AssumedClass|hazard.StudyNeeded, s.Status)
	require.ErrorIs(t, p.Lookup(0, 40, 0, &s), ErrNoClass)
	require.ErrorContains(t, p.Lookup(0, 40, 'F', &s), "site response analysis")
	o.DefaultClass = 'C'
	p, err = ReadParameters(strings.NewReader(text), "map.csv", Scattered, 2475, o)
	require.NoError(t, err)
	require.NoError(t, p.Lookup(0, 40, 0, &s))
	assert.Equal(t, hazard.PowerLaw|hazard.AssumedClass, s.Status)
	var out *OutsideError
	require.ErrorAs(t, p.Lookup(3, 40, 'C', &s), &out)

	assert.Zero(t, testing.AllocsPerRun(100, func() { _ = p.Lookup(0.01, 40.01, 'C', &s) }))
}

// Memphis, 35.1496 N 90.0488 W, and Century City, 34.0498 N 118.4252 W: SMS and
// SM1 of ASCE 7-16 for class B without measured velocity, from the published test
// values of the USGS design maps service. There Fa = Fv = 1.
func TestParametersOfOnePlace(t *testing.T) {
	for _, c := range []struct{ sms, sm1 float64 }{{1.023, 0.347}, {2.064, 0.738}} {
		p, err := NewParameters(Mapped{c.sms, c.sm1, 12}, 2475, Options{ReturnPeriods: []float64{2475}})
		require.NoError(t, err)
		var s hazard.Site
		require.NoError(t, p.Lookup(-90.0488, 35.1496, 'B', &s))
		assert.InEpsilon(t, c.sms, s.Spectra[0].Sa(0.2), 1e-9)
		assert.InEpsilon(t, c.sm1, s.Spectra[0].Sa(1), 1e-9)
		assert.Zero(t, s.Status)
	}
	p, err := NewParameters(Mapped{1, 0.4, 8}, 2475,
		Options{ReturnPeriods: []float64{475}, SoilIncluded: true})
	require.NoError(t, err)
	s := look(t, p, 0, 0)
	assert.InEpsilon(t, math.Cbrt(475./2475), s.Spectra[0].Sa(0.2), 1e-9, "DefaultK")
	assert.Equal(t, hazard.BelowRange|hazard.SlopeUnknown, s.Status)
	assert.Zero(t, s.Class)
}

func TestBadParameters(t *testing.T) {
	for _, c := range []struct {
		name, text string
		want       want
	}{
		{"no S1", "lon,lat,ss\n", want{line: 1, column: "s1", rule: "missing", problems: 1}},
		{"no rows", parameterHead, want{rule: "no row", problems: 1}},
		{"negative", parameterHead + "0,40,-1.5,0.6,8,\n",
			want{line: 2, column: "ss", value: "-1.5", rule: "above 0", problems: 1}},
		{"transition", parameterHead + "0,40,1.5,0.6,800,\n",
			want{line: 2, column: "tl", value: "800", rule: "no period", problems: 1}},
		{"class", parameterHead + "0,40,1.5,0.6,8,rock\n",
			want{line: 2, column: "site_class", value: "rock", rule: "not one letter", problems: 1}},
		{"class F", parameterHead + "0,40,1.5,0.6,8,F\n",
			want{line: 2, column: "site_class", value: "F", rule: "no coefficients", problems: 1}},
		{"says two things", parameterHead + "0,40,1.5,0.6,8,\n0,40,1.5,0.7,8,\n",
			want{line: 3, column: "lon", rule: "other values", problems: 1}},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := ReadParameters(strings.NewReader(c.text), "bad.csv", Scattered, 2475, asRead)
			c.want.meets(t, err, "bad.csv")
		})
	}
	_, err := ReadParameters(strings.NewReader(""), "bad.csv", Scattered, 0, asRead)
	want{column: "reference return period", rule: "no return period", problems: 1}.meets(t, err, "bad.csv")
	_, err = NewParameters(Mapped{-1, 0, 0}, 2475, asRead)
	want{column: "SS, S1", rule: "no accelerations", problems: 2}.meets(t, err, "mapped accelerations")
}
