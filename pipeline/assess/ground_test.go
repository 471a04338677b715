package assess_test

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/hazard"
	"plinth/pipeline/assess"
	"plinth/pipeline/internal/trial"
	"plinth/retrofit"
)

// assessed runs one building of a small register, with the cells site_class, vs30 and
// fault_distance (km), through a plan with the [hazard] table.
func assessed(t *testing.T, hazardTable, cells string) *assess.Assessment {
	t.Helper()
	a, err := trial.Small(t, hazardTable, cells).AssessOne(context.Background(), "A")
	require.NoError(t, err)
	return a
}

func TestClassOfABuilding(t *testing.T) {
	const zones = "site_zones = \"soil.geojson\"\nsite_class = \"D\"\n"
	for _, c := range []struct {
		name, plan, cells, class, origin string
	}{
		{"given", zones, "C,250,", "C", "given"},
		{"velocity", zones, ",500,", "C", "derived"}, // ASCE 7-16 Table 20.3-1: 360 to 760 m/s
		// EN 1998-1 Table 3.1: 360 to 800 m/s
		{"velocity on other letters", "soil_standard = \"en1998-1\"\nsite_class = \"D\"\n", ",500,", "B",
			"derived"},
		{"zone", zones, ",,", "E", "zone"},
		{"assumed", "site_class = \"D\"\n", ",,", "D", "assumed"},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := assessed(t, trial.OnRock+c.plan, c.cells)
			assert.Equal(t, c.class, a.Site.Class.String())
			assert.Equal(t, c.origin, a.Ground.Origin)
			assert.Equal(t, c.origin == "assumed", a.Ground.Spread > 0)
		})
	}
	a := assessed(t, "[hazard]\nkind = \"constant\"\npga = 0.3\nperiods_s = [0.2, 1, 4]\nsa = [0.75, 0.3, 0.05]\nk = 3\nsoil_included = true\n", "C,,")
	assert.Equal(t, "in the hazard", a.Ground.Origin)
	assert.Equal(t, hazard.SiteClass('C'), a.SiteClass(), "the rules may still know it")
	assert.Zero(t, a.Ground.Spread)
}

// The spread of an assumed class is that of the three classes, and widens what is
// lost: by hand from the spectra of each class on its own.
func TestAssumedClassWidensTheSpread(t *testing.T) {
	at := func(class string) (float64, *assess.Assessment) {
		a := assessed(t, trial.OnRock+"site_class = \"D\"\n", class+",,")
		return math.Log(a.Site.Spectra[a.Study().Design()].Sa(a.Archetype.Period)), a
	}
	c, _ := at("C")
	d, given := at("D")
	e, _ := at("E")
	_, assumed := at("")
	mean := 0.25*c + 0.5*d + 0.25*e
	want := math.Sqrt(0.25*(c-mean)*(c-mean) + 0.5*(d-mean)*(d-mean) + 0.25*(e-mean)*(e-mean))
	assert.InEpsilon(t, want, assumed.Ground.Spread, 1e-9)
	grown := want * (1 + 4/(60*math.Pow(given.Archetype.Period, 2)+3)) // drift against shaking
	assert.InEpsilon(t, math.Hypot(given.Exposure.Spread.Drift, grown), assumed.Exposure.Spread.Drift, 1e-9)
	assert.InEpsilon(t, math.Hypot(given.Exposure.Spread.Displacement, want),
		assumed.Exposure.Spread.Displacement, 1e-9)
	assert.Greater(t, given.Building.Score, assumed.Building.Score,
		"the data grade falls by the points of the class")
	assert.Equal(t, given.Site.Spectra, assumed.Site.Spectra)
}

// EN 1998-1 Table 3.2, ground C, and 3.2.2.2: agR 0.24 g gives 0.414 g at 1 s. NZS
// 1170.5 3.1(1) and 3.1.6: Z 0.40 on class C gives 0.8 g at 0.5 s and 500 yr, and
// N of 1.20 at 3 s, 10 km from a fault.
func TestStandardsOfAPlan(t *testing.T) {
	a := assessed(t, "[hazard]\nkind = \"en1998-1\"\nag = 0.24\nk = 3\nsite_class = \"B\"\n", "C,,")
	assert.InDelta(t, 0.414, a.Site.Spectra[a.Study().Design()].Sa(1), 5e-5)
	assert.InDelta(t, 0.24, a.Rock.Spectra[a.Study().Design()].PGA, 1e-9, "rock is type A")
	assert.Equal(t, hazard.SiteClass('D'), a.Case.Facts.SiteClass, "what the rules call 180 to 360 m/s")
	assert.InDelta(t, 4*30/270.0, a.Ground.Period, 1e-12)

	levels := "return_periods_yr = [100, 500, 2500]\ndesign_return_period_yr = 500\n"
	a = assessed(t, "[hazard]\nkind = \"nzs1170.5\"\nz = 0.4\n"+levels, "C,,")
	near := assessed(t, "[hazard]\nkind = \"nzs1170.5\"\nz = 0.4\n"+levels, "C,,10")
	assert.InDelta(t, 0.8, a.Site.Spectra[a.Study().Design()].Sa(0.5), 1e-4)
	assert.InEpsilon(t, 1.20*a.Site.Spectra[a.Study().Design()].Sa(3), near.Site.Spectra[a.Study().Design()].Sa(3), 1e-9)
	assert.True(t, near.NearFault() && !a.NearFault(), "ASCE 7-16 11.4.1: 15 km for magnitude 7")

	a = assessed(t, "[hazard]\nkind = \"ntc2018\"\nntc_return_periods_yr = [475]\nntc_ag = [0.261]\nntc_f0 = [2.364]\nntc_tc_s = [0.347]\nsite_class = \"C\"\n", ",,")
	assert.InDelta(t, 0.8205, a.Site.Spectra[a.Study().Design()].Sa(0.3), 5e-5, "NTC 2018 3.2.3.2.1")
	a = assessed(t, "[hazard]\nkind = \"japan-1457\"\nz = 1\nsoil_included = true\nk = 2\n", "C,,")
	assert.InDelta(t, 8/hazard.Gravity/5, a.Site.Spectra[a.Study().Asked()[1]].Sa(0.4), 1e-9,
		"Notification 1457, moderate, from memory")
}

// One return period and no slope: annual values are shown, and nothing is worth doing on them. A
// declared slope, or a second return period, decides.
func TestNothingIsWorthDoingOnAnUnknownSlope(t *testing.T) {
	one := "[hazard]\nkind = \"constant\"\npga = 0.6\nperiods_s = [0.2, 1, 4]\nsa = [1.5, 0.9, 0.2]\nsoil_included = true\n"
	levels := "return_periods_yr = [475]\n"
	cheap := "[measures]\nuse = [\"strengthen\"]\n[measures.strengthen.price]\nfixed = 1\nper_m2 = 0\nper_m_wall = 0\n"
	a := assessed(t, one+levels+cheap, "C,,")
	assert.NotZero(t, a.Site.Status&hazard.SlopeUnknown)
	assert.Positive(t, a.Before.Total)
	assert.Positive(t, a.Options[0].Benefits[0].Net, "it would pay by the default slope")
	assert.Nil(t, a.Best())
	known := assessed(t, one+levels+"k = 3\n"+cheap, "C,,")
	assert.NotNil(t, known.Best())
	assert.InEpsilon(t, a.Before.Total, known.Before.Total, 1e-9, "the default is 3")
}

// ASCE 7-16 11.9.2 and Table 11.9-1: class C at SS 0.75 x (2475/475)^(1/3) = 1.300 g
// has Cv 1.1 + 0.2 x 0.3 = 1.16; the plateau is 0.8 Cv times Sa(0.2 s) at the design
// level, Fa 1.2 x 0.75 g (Table 11.4-1), and more than half the horizontal ordinate.
func TestVerticalShakingAndResonance(t *testing.T) {
	a := assessed(t, trial.OnRock, "C,,")
	assert.InDelta(t, 1.300, a.Ground.SS, 1e-3)
	assert.InDelta(t, 1.16, a.Ground.Cv, 1e-3)
	assert.InEpsilon(t, 0.8*a.Ground.Cv*1.2*0.75, a.Ground.Vertical, 1e-9)
	assert.InDelta(t, 4*30/560.0, a.Ground.Period, 1e-12)
	assert.True(t, a.Resonant(0.27) && !a.Resonant(0.29) && !a.Resonant(0.14))
	assert.Zero(t, assessed(t, trial.OnRock, "B,,").Ground.Period, "rock")
	assert.False(t, assessed(t, trial.OnRock, "B,,").Resonant(0.2))
}

// One building has one period of the ground: the rule for isolation tests the one the sheet
// prints, and doubts isolation on the softest ground, which is slower than 1 s.
func TestOnePeriodOfTheGround(t *testing.T) {
	for class, want := range map[string]retrofit.Verdict{
		"B": retrofit.Clear, "C": retrofit.Clear, "D": retrofit.Clear, "E": retrofit.Doubt,
	} {
		a, judged := assessed(t, trial.OnRock, class+",,"), 0
		for _, o := range a.Options {
			for _, f := range o.Findings {
				if f.Rule.Name == "site-period" {
					judged++
					assert.Equal(t, a.Ground.Period, f.Value, class)
					assert.Equal(t, want, f.Verdict, class)
				}
			}
		}
		assert.Positive(t, judged)
	}
}
