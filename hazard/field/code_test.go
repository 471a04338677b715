package field

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/hazard"
)

func type1(importance float64) Eurocode8 {
	return Eurocode8{Parameters: hazard.Eurocode8Type1, Importance: importance, Reference: 475}
}

// EN 1998-1 3.2.2.2, Table 3.2 as the national building code of Bangladesh (2020)
// repeats it: type 1, ground B, ag 0.25 g, ordinates by hand. Twice agR by 4.2.5
// and eight times the return period with k = 3 are each a factor 2 in ag.
func TestEurocode8Field(t *testing.T) {
	o := Options{ReturnPeriods: []float64{475, 8 * 475}, K: 3, Unit: "m/s2"}
	c, err := NewCode(type1(1), []CodeLevel{{Values: []float64{0.25 * hazard.Gravity}}}, o)
	require.NoError(t, err)
	var s hazard.Site
	require.NoError(t, c.Lookup(10, 50, 'B', &s))
	for i, tt := range []float64{0, 0.1, 0.3, 0.5, 1, 2, 3} {
		want := []float64{0.300, 0.600, 0.750, 0.750, 0.375, 0.1875, 0.08333}[i]
		assert.InDelta(t, want, s.Spectra[0].Sa(tt), 5e-6, "at %g s", tt)
		assert.InDelta(t, 2*want, s.Spectra[1].Sa(tt), 1e-5, "at %g s", tt)
	}
	assert.Equal(t, hazard.PowerLaw, s.Status)
	assert.Equal(t, hazard.SiteClass('B'), s.Class)
	require.ErrorIs(t, c.Lookup(10, 50, 0, &s), ErrNoClass)
	require.ErrorContains(t, c.Lookup(10, 50, 'F', &s), "S1 and S2")

	o.DefaultClass = 'B'
	c, err = NewCode(type1(1.4), []CodeLevel{{Values: []float64{0.25 * hazard.Gravity}}}, o)
	require.NoError(t, err)
	require.NoError(t, c.Lookup(10, 50, 0, &s))
	assert.InEpsilon(t, 1.4*0.750, s.Spectra[0].Sa(0.3), rounding)
	assert.Equal(t, hazard.PowerLaw|hazard.AssumedClass, s.Status)
	assert.Zero(t, testing.AllocsPerRun(100, func() { _ = c.Lookup(10, 50, 'B', &s) }))
}

// ag by location: ln ag is read between nodes as spectra are.
func TestEurocode8ByLocation(t *testing.T) {
	text := "lon,lat,ag,zone\n0,40,0.1,I\n1,40,0.4,IV\n0,41,0.1,I\n1,41,0.4,IV\n"
	c, err := ReadCode(strings.NewReader(text), "ag.csv", Regular, type1(1),
		Options{ReturnPeriods: []float64{475}})
	require.NoError(t, err)
	var s hazard.Site
	require.NoError(t, c.Lookup(0.5, 40.5, 'A', &s))
	assert.InEpsilon(t, 0.2, s.Spectra[0].PGA, rounding) // sqrt(0.1 x 0.4), S of type A is 1
	assert.Zero(t, s.Status)
	require.NoError(t, c.Lookup(0, 40, 'C', &s))
	assert.InEpsilon(t, 1.15*0.1, s.Spectra[0].PGA, rounding) // S of type C
	got := c.Coverage()
	assert.Equal(t, 4, got.Nodes)
	assert.Contains(t, got.Warnings, `column "zone" is not read`)
	assert.InEpsilon(t, 0.4, got.Range[0].PGATop, rounding)
	assert.Nil(t, c.Periods())
	assert.Equal(t, []float64{475}, c.ReturnPeriods())
	var out *OutsideError
	require.ErrorAs(t, c.Lookup(3, 40, 'A', &s), &out)
	require.ErrorAs(t, c.Lookup(3, 140, 'A', &s), &out)
}

// NZS 1170.5 3.1(1), Tables 3.1 and 3.5, and 3.1.6: Z 0.40 on class C at 0.5 s is
// 0.800 g at 500 yr; R at the table's rows; N at 3 s and 10 km is 1.20, but 1 for R
// of 0.75 and below.
func TestNZS1170Field(t *testing.T) {
	years := []float64{20, 25, 50, 100, 250, 500, 1000, 2000, 2500}
	factor := []float64{0.20, 0.25, 0.35, 0.5, 0.75, 1.0, 1.3, 1.7, 1.8}
	c, err := NewCode(NZS1170{}, []CodeLevel{{Values: []float64{0.40}}}, Options{ReturnPeriods: years})
	require.NoError(t, err)
	var far, near hazard.Site
	require.NoError(t, c.Lookup(175, -41, 'C', &far))
	require.NoError(t, c.LookupNear(175, -41, 'C', 10, &near))
	assert.Zero(t, far.Status)
	for i, r := range factor {
		assert.InEpsilon(t, 0.800*r, far.Spectra[i].Sa(0.5), 1e-4, "%g yr", years[i])
		n := 1.0
		if r > 0.75 {
			n = 1.20
		}
		assert.InEpsilon(t, n*far.Spectra[i].Sa(3), near.Spectra[i].Sa(3), 1e-9, "%g yr", years[i])
	}
	require.NoError(t, c.LookupNear(175, -41, 'C', math.NaN(), &near))
	assert.Equal(t, far.Spectra[8].Sa(3), near.Spectra[8].Sa(3), "a fault nobody knows")

	// Beyond the table its slope from 1667 to 2500 yr goes on, or k; R at 1667 yr is 1.3 (5/3)^0.387.
	slope := math.Log(1.8/(1.3*math.Pow(5./3, math.Log2(1.7/1.3)))) / math.Log(1.5)
	for k, want := range map[float64]float64{0: 1.8 * math.Pow(8, slope), 3: 3.6} {
		c, err = NewCode(NZS1170{}, []CodeLevel{{Values: []float64{0.40}}},
			Options{ReturnPeriods: []float64{20000}, K: k})
		require.NoError(t, err)
		require.NoError(t, c.Lookup(175, -41, 'C', &far))
		assert.InEpsilon(t, 0.800*want, far.Spectra[0].Sa(0.5), 1e-4)
		assert.Equal(t, k == 0, far.Status == hazard.AboveRange)
		assert.Equal(t, k > 0, far.Status == hazard.PowerLaw)
	}
}

// NTC 2018 3.2.3.2.1 at L'Aquila for 475 yr (grid values from memory), category C;
// between return periods ln of each parameter is on a straight line in ln(years).
func TestNTC2018Field(t *testing.T) {
	text := "lon,lat,return_period_yr,ag,f0,tc\n13.4,42.35,475,0.261,2.364,0.347\n" +
		"13.4,42.35,1900,0.400,2.400,0.360\n"
	c, err := ReadCode(strings.NewReader(text), "grid.csv", Scattered, NTC2018{1},
		Options{ReturnPeriods: []float64{475, 950, 7600}, K: 2})
	require.NoError(t, err)
	var s hazard.Site
	require.NoError(t, c.Lookup(13.4, 42.35, 'C', &s))
	assert.InDelta(t, 0.8205, s.Spectra[0].Sa(0.3), 5e-5)
	assert.InDelta(t, 0.4239, s.Spectra[0].Sa(1.0), 5e-5)
	require.NoError(t, c.Lookup(13.4, 42.35, 'A', &s))
	assert.InEpsilon(t, math.Sqrt(0.261*0.400), s.Spectra[1].PGA, rounding)
	assert.InEpsilon(t, math.Sqrt(0.347*0.360), s.Spectra[1].TC, rounding)
	assert.InEpsilon(t, 0.8, s.Spectra[2].PGA, rounding) // 4^(1/2) = 2 times
	assert.InEpsilon(t, 0.360, s.Spectra[2].TC, rounding, "the power law carries ag alone")
	assert.Equal(t, hazard.PowerLaw, s.Status)

	one, err := NewCode(NTC2018{1.2}, []CodeLevel{{475, []float64{0.261, 2.364, 0.347}}},
		Options{ReturnPeriods: []float64{475}})
	require.NoError(t, err)
	require.NoError(t, one.Lookup(0, 0, 'C', &s))
	assert.InDelta(t, 1.2*0.8205, s.Spectra[0].Sa(0.3), 6e-5)
}

// Notification 1457 (2000), from memory: 3.2, 6.2, 8.0, 5.12 and 2.56 m/s2 at 0, 0.1,
// 0.4, 1 and 2 s at the severe level, a fifth at the moderate one.
func TestJapanField(t *testing.T) {
	f, err := NewJapan(1, 500, 50, Options{ReturnPeriods: []float64{50, math.Sqrt(50 * 500), 500},
		SoilIncluded: true})
	require.NoError(t, err)
	s := look(t, f, 140, 36)
	for _, c := range [][2]float64{{0, 3.2}, {0.1, 6.2}, {0.4, 8.0}, {1, 5.12}, {2, 2.56}, {5, 1.024}} {
		assert.InEpsilon(t, c[1], s.Spectra[2].Sa(c[0])*hazard.Gravity, 1e-9, "at %g s", c[0])
		assert.InEpsilon(t, c[1]/5, s.Spectra[0].Sa(c[0])*hazard.Gravity, 1e-9, "at %g s", c[0])
	}
	assert.InEpsilon(t, 8/math.Sqrt(5), s.Spectra[1].Sa(0.4)*hazard.Gravity, 1e-9)
	assert.Zero(t, s.Status)
	_, err = NewJapan(-1, 500, 50, Options{ReturnPeriods: []float64{500}, SoilIncluded: true})
	want{column: "zone factor", rule: "positive", problems: 1}.meets(t, err, "bedrock spectrum")
}

func TestBadCodes(t *testing.T) {
	for _, c := range []struct {
		name, text string
		standard   Standard
		want       want
	}{
		{"no ag", "lon,lat,pga\n", type1(1), want{line: 1, column: "ag", rule: "missing", problems: 1}},
		{"no rows", "lon,lat,ag\n", type1(1), want{rule: "no row", problems: 1}},
		{"Z of another code", "lon,lat,z\n174,-41,40\n", NZS1170{},
			want{line: 2, column: "z", value: "40", rule: "not from 0.01 to 2", problems: 1}},
		{"negative", "lon,lat,ag\n10,50,-0.2\n", type1(1),
			want{line: 2, column: "ag", value: "-0.2", rule: "not from", problems: 1}},
		{"axes exchanged", "lon,lat,z\n-41,174,0.4\n", NZS1170{},
			want{line: 2, column: "lat", value: "174", rule: "no latitude", remedy: "exchanged",
				problems: 1}},
		{"no return period", "lon,lat,ag,f0,tc\n", NTC2018{1},
			want{line: 1, column: "return_period_yr", rule: "missing", problems: 1}},
		{"two values", "lon,lat,ag\n10,50,0.2\n10,50,0.3\n", type1(1),
			want{line: 3, column: "return_period_yr", rule: "other values", problems: 1}},
		{"lacks a level", "lon,lat,return_period_yr,ag,f0,tc\n13,42,475,0.2,2.4,0.3\n13,42,50,0.1,2.4,0.3\n" +
			"14,42,475,0.2,2.4,0.3\n", NTC2018{1},
			want{line: 4, column: "return_period_yr", rule: "lacks return period 50", problems: 1}},
		{"topography", "lon,lat,return_period_yr,ag,f0,tc\n13,42,475,0.2,2.4,0.3\n", NTC2018{},
			want{rule: "ST", problems: 1}},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := ReadCode(strings.NewReader(c.text), "bad.csv", Scattered, c.standard,
				Options{ReturnPeriods: []float64{475}})
			c.want.meets(t, err, "bad.csv")
		})
	}
	for name, bad := range map[string][]CodeLevel{
		"none": {}, "two values": {{Values: []float64{0.1, 0.2}}}, "negative": {{Values: []float64{-1}}},
	} {
		_, err := NewCode(NZS1170{}, bad, Options{ReturnPeriods: []float64{475}})
		var ps *Problems
		assert.ErrorAs(t, err, &ps, name)
	}
	_, err := NewCode(NTC2018{1}, []CodeLevel{{0, []float64{0.2, 2.4, 0.3}}},
		Options{ReturnPeriods: []float64{475}})
	want{column: "return period", rule: "no return period", problems: 1}.meets(t, err, "code parameters")
	_, err = ReadCode(strings.NewReader(""), "bad.csv", Scattered, NZS1170{},
		Options{ReturnPeriods: []float64{475}, SoilIncluded: true, DefaultClass: 'F'})
	want{column: "option SoilIncluded", rule: "hold for rock", problems: 2}.meets(t, err, "bad.csv")
}

// On rock the amplification by a standard's rule is the ratio of its own spectra:
// EN 1998-1 type 1, C over A, is 1.15 at the peak (Table 3.2) and 1.15 x 0.6/0.4 on
// the falling branch; NZS 1170.5 D over B is 1.12 at the peak and 1.93/0.95 at 1 s
// (Table 3.1, to its 0.01).
func TestSoilByOtherStandards(t *testing.T) {
	periods := []float64{0.1, 0.3, 1, 3}
	rock := []Level{{475, 0.2, []float64{0.5, 0.5, 0.2, 0.04}}}
	for _, c := range []struct {
		soil       hazard.SoilStandard
		class      hazard.SiteClass
		peak, at1s float64
		tolerance  float64
	}{
		{hazard.SoilEN1998, 'A', 1, 1, 1e-9},
		{hazard.SoilEN1998, 'C', 1.15, 1.15 * 0.6 / 0.4, 1e-9},
		{hazard.SoilNZS1170, 'B', 1, 1, 1e-9},
		{hazard.SoilNZS1170, 'D', 1.12, 1.93 / 0.95, 0.01},
	} {
		f, err := NewConstant(periods, rock, Options{ReturnPeriods: []float64{475}, Soil: c.soil})
		require.NoError(t, err)
		var s hazard.Site
		require.NoError(t, f.Lookup(0, 0, c.class, &s))
		assert.InEpsilon(t, 0.2*c.peak, s.Spectra[0].PGA, c.tolerance)
		assert.InEpsilon(t, 0.2*c.at1s, s.Spectra[0].Sa(1), c.tolerance)
		assert.ErrorContains(t, f.Lookup(0, 0, 'F', &s), "special study")
	}
	// Type 2 by the plan's parameters: Table 3.3 (from memory), S of D is 1.8.
	f, err := NewConstant(periods, rock, Options{ReturnPeriods: []float64{475}, Soil: hazard.SoilEN1998,
		Eurocode8: hazard.Eurocode8Type2, DefaultClass: 'D'})
	require.NoError(t, err)
	assert.InEpsilon(t, 1.8*0.2, look(t, f, 0, 0).Spectra[0].PGA, 1e-9)
	_, err = NewConstant(periods, rock, Options{ReturnPeriods: []float64{475}, Soil: hazard.SoilNTC2018})
	want{column: "option Soil", value: "ntc2018", rule: "need ag and F0", problems: 1}.meets(t, err,
		"constant spectrum")
}

// ASCE 7-16 21.2 (from memory): 1.1 to 0.2 s, 1.3 at 1 s.
func TestValuesOfTheLargestDirection(t *testing.T) {
	o := Options{ReturnPeriods: []float64{475}, SoilIncluded: true, LargestDirection: true}
	f, err := NewConstant([]float64{0.2, 1}, []Level{{475, 0.22, []float64{0.55, 0.26}}}, o)
	require.NoError(t, err)
	s := look(t, f, 0, 0)
	assert.InEpsilon(t, 0.20, s.Spectra[0].PGA, 1e-9)
	assert.InEpsilon(t, 0.50, s.Spectra[0].Sa(0.2), 1e-9)
	assert.InEpsilon(t, 0.20, s.Spectra[0].Sa(1), 1e-9)
	assert.Contains(t, f.Coverage().Warnings[0], "largest direction")
	p, err := NewParameters(Mapped{1.1, 0.52, 8}, 475, o)
	require.NoError(t, err)
	s = look(t, p, 0, 0)
	assert.InEpsilon(t, 1.0, s.Spectra[0].Sa(0.3), 1e-9)
	assert.InEpsilon(t, 0.4, s.Spectra[0].Sa(1), 1e-9)
}

// A file in m/s2 declared as g: the check must say so.
func TestUnitSuspicion(t *testing.T) {
	text := strings.NewReplacer(",0.1,0.2,0.1", ",2.2,5.4,2.1").Replace(head + four)
	warnings := strings.Join(mustGrid(t, text, Options{ReturnPeriods: []float64{475},
		SoilIncluded: true}).Coverage().Warnings, "\n")
	assert.Contains(t, warnings, "4 of 12 values are above 5 g (up to 5.4 g): is the unit right?")
	assert.Contains(t, warnings,
		"half of the nodes have a peak of 2.2 g or more at 475 yr: is the unit right?")
	assert.Empty(t, mustGrid(t, text, Options{ReturnPeriods: []float64{475}, SoilIncluded: true,
		Unit: "m/s2"}).Coverage().Warnings)
	low := mustGrid(t, head+four, Options{ReturnPeriods: []float64{475}, SoilIncluded: true,
		Unit: "%g"}).Coverage().Warnings
	assert.Contains(t, strings.Join(low, "\n"), "a hundred times too low")
}
