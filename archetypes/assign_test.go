package archetypes

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func mustRegion(t *testing.T, slug, zone string) (Region, Zone) {
	r, err := Default().ParseRegion(slug)
	require.NoError(t, err)
	z, err := Default().ParseZone(r, zone)
	require.NoError(t, err)
	return r, z
}

// TestAssignByHand follows one building through the tables: a seven-storey
// concrete frame of 1967 in zone 3, UBC 1961 with K = 1 and T = 0.7 s, so
// C = 0.05/0.7^(1/3) = 0.05631; times 1.4 to strength level 0.07884; times the
// overstrength 2.4 x 0.75.
func TestAssignByHand(t *testing.T) {
	d := Unknown()
	d.System, d.Storeys, d.Year, d.Height, d.FloorArea = ConcreteFrame, 7, 1967, 20, 5600
	d.Region, d.Zone = mustRegion(t, "us-west", "3")
	var a Archetype
	require.NoError(t, Default().Assign(&d, &a))
	assert.InDelta(t, 0.07884, a.DesignCoefficient, 5e-6)
	assert.InDelta(t, 0.07884*2.4*0.75, a.StrengthRatio, 1e-5)
	assert.Equal(t, NonDuctile, a.Detailing)
	assert.True(t, a.BrittleColumns)
	assert.InDelta(t, 5600*10e3, a.Weight, 1e-6)
	// sqrt(0.016 x 0.023) (20/0.3048)^0.9 s, Goel and Chopra from memory.
	assert.InDelta(t, math.Sqrt(0.016*0.023)*math.Pow(20/foot, 0.9), a.Period, 1e-6)
	// FEMA 356 Table C1-3 x 0.5 where non-ductile
	assert.Equal(t, DriftLimits{0.01, 0.01, 0.02, 0.031}, a.Limits)
	assert.Equal(t, Derived, a.Basis[StrengthValue].Origin)
	assert.Equal(t, "ubc-1961", a.Basis[CoefficientValue].ID)

	// The same frame of 1998 is ductile and keeps the limits of the table.
	d.Year = 1998
	require.NoError(t, Default().Assign(&d, &a))
	assert.Equal(t, DriftLimits{0.01, 0.02, 0.04, 0.062}, a.Limits)
	assert.False(t, a.BrittleColumns)
}

// TestFEMA356Drifts is Table C1-3, transient drifts, from memory. Infilled frames have 0.7
// of the limits of their frames (judgement), and 0.005 of the infill for occupancy.
func TestFEMA356Drifts(t *testing.T) {
	for s, want := range map[System][3]float64{
		ConcreteFrame:         {0.01, 0.02, 0.04},
		SteelMomentFrame:      {0.007, 0.025, 0.05},
		SteelBracedFrame:      {0.005, 0.015, 0.02},
		ConcreteWall:          {0.005, 0.01, 0.02},
		ConcreteFrameInfilled: {0.005, 0.7 * 0.02, 0.7 * 0.04},
		SteelFrameInfilled:    {0.005, 0.7 * 0.025, 0.7 * 0.05},
		MasonryUnreinforced:   {0.003, 0.006, 0.01},
		MasonryReinforced:     {0.002, 0.006, 0.015},
		TimberFrame:           {0.01, 0.02, 0.03},
	} {
		l := Default().Traits(s).Limits
		got := []float64{l.ImmediateOccupancy, l.LifeSafety, l.CollapsePrevention}
		assert.InDeltaSlice(t, want[:], got, 1e-12, s)
	}
}

// TestASCE7Factors checks the table of systems against column R of ASCE 7 Table 12.2-1, for the
// systems that use it unchanged.
func TestASCE7Factors(t *testing.T) {
	for s, want := range map[System]float64{
		ConcreteFrame: 8, ConcreteWall: 5, ConcreteWallFrame: 7, SteelMomentFrame: 8, SteelBracedFrame: 6,
		MasonryUnreinforced: 1.5, PrecastFrame: 3,
	} {
		assert.Equal(t, want, Default().Traits(s).ASCE7R, s)
	}
}

func TestGivenValuesStand(t *testing.T) {
	d := eightStoreys()
	d.PeriodGiven, d.StrengthGiven, d.Profile = 1.1, 0.13, WeakGround
	var a Archetype
	require.NoError(t, Default().Assign(&d, &a))
	assert.Equal(t, 1.1, a.Period)
	assert.Equal(t, 0.13, a.StrengthRatio, "a report's strength takes no further factor")
	assert.Equal(t, Given, a.Basis[PeriodValue].Origin)
	assert.Equal(t, Given, a.Basis[StrengthValue].Origin)
	assert.Less(t, a.StrengthBeta, Default().Traits(ConcreteFrame).OverstrengthBeta)
}

func TestWhatWeakensABuilding(t *testing.T) {
	d := eightStoreys()
	var plain, a Archetype
	require.NoError(t, Default().Assign(&d, &plain))
	for name, c := range map[string]struct {
		change func(*Description)
		want   float64
	}{
		"torsion":            {func(d *Description) { d.PlanIrregular = true }, 1 / 1.2},
		"weak ground storey": {func(d *Description) { d.Profile = WeakGround }, 0.65},
		"set-back":           {func(d *Description) { d.Profile = SetBack }, 1},
	} {
		e := d
		c.change(&e)
		require.NoError(t, Default().Assign(&e, &a))
		assert.InDelta(t, c.want, a.StrengthRatio/plain.StrengthRatio, 1e-12, name)
	}
}

// TestYears walks one zone through the boundaries of its eras.
func TestYears(t *testing.T) {
	d := eightStoreys()
	d.Region, d.Zone = mustRegion(t, "us-west", "4")
	for year, want := range map[int]string{
		1870: "none", 1934: "none", 1935: "flat", 1948: "flat", 1949: "ubc-1943", 1961: "ubc-1961",
		1975: "ubc-1961",
		1976: "ubc-1976", 1987: "ubc-1976", 1988: "ubc-1988", 1996: "ubc-1988", 1997: "ubc-1997",
		2000: "asce-7", 2030: "asce-7",
	} {
		var a Archetype
		d.Year = year
		require.NoError(t, Default().Assign(&d, &a))
		assert.Equal(t, want, a.Basis[CoefficientValue].ID, year)
	}
	// Before the first rule the minimum holds.
	var a Archetype
	d.Year = 1900
	require.NoError(t, Default().Assign(&d, &a))
	assert.Equal(t, Default().Traits(ConcreteFrame).least(8), a.StrengthRatio)
	assert.Equal(t, "strength-minimum", a.Basis[StrengthValue].ID)
	// An unknown year counts as that of the last non-ductile rule; it is assumed and less
	// certain.
	d.Year = 0
	require.NoError(t, Default().Assign(&d, &a))
	assert.Equal(t, "ubc-1961", a.Basis[CoefficientValue].ID)
	assert.Equal(t, Assumed, a.Basis[StrengthValue].Origin)
	assert.InDelta(t, math.Hypot(0.4, 0.3), a.StrengthBeta, 1e-12)
}

func TestStrengthenedBuilding(t *testing.T) {
	d := eightStoreys()
	d.Year = 1920
	var old, later, modern Archetype
	require.NoError(t, Default().Assign(&d, &old))
	d.YearStrengthened = 1990
	require.NoError(t, Default().Assign(&d, &later))
	d.Year, d.YearStrengthened = 1990, 0
	require.NoError(t, Default().Assign(&d, &modern))
	assert.InDelta(t, 0.75*modern.StrengthRatio, later.StrengthRatio, 1e-12)
	assert.Greater(t, later.StrengthRatio, old.StrengthRatio)
	assert.Equal(t, LimitedDuctile, later.Detailing)
	assert.Equal(t, "ubc-1988-strengthened", later.Basis[CoefficientValue].ID)
}

// TestSiteValues checks that a site's own values replace the zone's.
func TestSiteValues(t *testing.T) {
	d := eightStoreys()
	d.Year = 2010
	d.Region, d.Zone = mustRegion(t, "us-west", "4")
	var a Archetype
	require.NoError(t, Default().Assign(&d, &a))
	assert.Equal(t, Assumed, a.Basis[CoefficientValue].Origin)
	d.SDS, d.SD1, d.S1 = 0.5, 0.2, 0.15
	require.NoError(t, Default().Assign(&d, &a))
	assert.Equal(t, Derived, a.Basis[CoefficientValue].Origin)
	want := asce7(0.5, 0.2, 0.15, 8, 8, Default().Traits(ConcreteFrame).CodePeriod.At(a.Height))
	assert.InDelta(t, want, a.DesignCoefficient, 1e-12)
}

func TestStrengthKeepsItsBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := draw(t)
		d.Profile = Regular
		var a Archetype
		require.NoError(t, Default().Assign(&d, &a))
		tr := Default().Traits(d.System)
		if !(a.StrengthRatio >= tr.MinimumStrength && a.StrengthRatio <= tr.MaximumStrength) {
			t.Fatalf("Vy/W %g outside %g to %g", a.StrengthRatio, tr.MinimumStrength, tr.MaximumStrength)
		}
		l := a.Limits
		if !(0 < l.ImmediateOccupancy && l.ImmediateOccupancy <= l.LifeSafety &&
			l.LifeSafety <= l.CollapsePrevention && l.CollapsePrevention <= l.Collapse) {
			t.Fatalf("limits out of order: %+v", l)
		}
		for v, b := range a.Basis {
			if b.Formula == nil || b.Text == "" || b.Source == "" || b.Origin == 0 {
				t.Fatalf("%v has no basis", Value(v))
			}
		}
	})
}

func TestUnusableDescriptions(t *testing.T) {
	for field, change := range map[string]func(*Description){
		"Storeys":       func(d *Description) { d.Storeys = 0 },
		"Height":        func(d *Description) { d.Height = -3 },
		"FloorArea":     func(d *Description) { d.FloorArea = 0 },
		"PeriodGiven":   func(d *Description) { d.PeriodGiven = math.Inf(1) },
		"StrengthGiven": func(d *Description) { d.StrengthGiven = 0 },
	} {
		d := eightStoreys()
		change(&d)
		var a Archetype
		var input *InputError
		require.ErrorAs(t, Default().Assign(&d, &a), &input, field)
		assert.Equal(t, field, input.Field)
	}
	d := eightStoreys()
	d.Storeys = MaxStoreys + 1
	assert.ErrorContains(t, Default().Assign(&d, new(Archetype)), "Storeys 121: must be 1 to 120")
	d.Storeys = MaxStoreys
	assert.NoError(t, Default().Assign(&d, new(Archetype)))
}
