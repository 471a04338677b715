package archetypes

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// assigned returns the archetype of a description of a year and zone after change.
func assigned(t *testing.T, region, zone string, year int, change func(*Description)) Archetype {
	t.Helper()
	d := eightStoreys()
	d.Region, d.Zone = mustRegion(t, region, zone)
	d.Year = year
	change(&d)
	var a Archetype
	require.NoError(t, Default().Assign(&d, &a))
	return a
}

// TestLeastStrengthFallsWithHeight: what stands there anyway carries the weight of more storeys the
// higher the building, in every system; no building of few storeys is the weakest of its kind.
func TestLeastStrengthFallsWithHeight(t *testing.T) {
	for _, s := range Systems() {
		last := math.Inf(1)
		for n := 1; n <= 40; n++ {
			a := assigned(t, "us-west", "4", 1900, func(d *Description) {
				d.System, d.Storeys, d.Height = s, n, math.NaN()
			})
			assert.Equal(t, "strength-minimum", a.Basis[StrengthValue].ID)
			assert.Less(t, a.StrengthRatio, last, "%v of %d storeys", s, n)
			last = a.StrengthRatio
		}
		assert.Greater(t, last, 0.04, "%v: friction, rocking or wind stay", s)
	}
}

// TestWallsOfUnreinforcedMasonry holds the line of the table against the formula for diagonal
// cracking of Turnsek and Cacovic (1971), as the Italian circulars give it (C8.7.1.16 of 2019, from
// memory), with walls of 6 % of the floor each way and a floor of 12 kPa: between the mean shear
// strengths of rubble, 0.03 MPa, and of brick in lime mortar, 0.09 MPa (Table C8.5.I, from memory).
func TestWallsOfUnreinforcedMasonry(t *testing.T) {
	const walls, floor = 0.06, 12e3
	carried := func(tau float64, n int) float64 {
		load := float64(n) * floor
		return walls * tau / load * math.Sqrt(1+load/(2*walls)/(1.5*tau))
	}
	for n := 1; n <= 8; n++ {
		least := Default().Traits(MasonryUnreinforced).least(n)
		assert.Greater(t, least, carried(0.03e6, n), n)
		assert.Less(t, least, carried(0.09e6, n), n)
		assert.InEpsilon(t, carried(0.05e6, n), least, 0.15, "%d storeys, between the two", n)
	}
}

// TestColumnsThatNobodyDesigned: a column with 1 % of steel of 300 MPa under 25 m2 a floor of 10 kPa,
// 0.30 m wide or so that its concrete of 15 MPa carries 0.35 of its strength, hinged at both ends of
// 2.8 m, has 2 M/h with M = P D/2 (1 - P/(0.85 fc D2)) of its load and As/2 fy 0.8 D of its steel.
// Statics; three quarters of it are left for splices. Real columns come in steps, so it is a band.
func TestColumnsThatNobodyDesigned(t *testing.T) {
	const h, fc, steel, fy = 2.8, 15e6, 0.01, 300e6
	for n := 1; n <= 4; n++ {
		load := float64(n) * 25 * 10e3
		d := max(0.30, math.Sqrt(load/(0.35*fc)))
		m := load*d/2*(1-load/(0.85*fc*d*d)) + steel*d*d/2*fy*0.8*d
		assert.InEpsilon(t, 0.75*2*m/h/load, Default().Traits(ConcreteFrame).least(n), 0.35, n)
	}
}

// TestImportance: UBC 1976 asked 1.5 times as much of a hospital as of an office, EN 1998-1 1.4
// times and 1.2 of a school (4.2.5(5)); before a code had the factor nobody built for it.
func TestImportance(t *testing.T) {
	as := func(i Importance, s System) func(*Description) {
		return func(d *Description) { d.Importance, d.System = i, s }
	}
	for _, c := range []struct {
		region, zone string
		year         int
		crowded      float64
		essential    float64
	}{
		{"us-west", "4", 1970, 1, 1}, {"us-west", "4", 1980, 1, 1.5}, {"us-west", "4", 1998, 1, 1.25},
		{"us-west", "4", 2010, 1.25, 1.5}, {"generic", "high", 2010, 1.2, 1.4}, {"japan", "a", 1990, 1, 1},
		{"turkey", "1", 2005, 1.4, 1.5}, {"italy", "2", 1990, 1.2, 1.4}, {"italy", "2", 1980, 1, 1},
		{"new-zealand", "a", 2010, 1.3, 1.8},
	} {
		plain := assigned(t, c.region, c.zone, c.year, as(Ordinary, ConcreteFrame))
		crowded := assigned(t, c.region, c.zone, c.year, as(Crowded, ConcreteFrame))
		essential := assigned(t, c.region, c.zone, c.year, as(Essential, ConcreteFrame))
		assert.InDelta(t, c.crowded, crowded.DesignCoefficient/plain.DesignCoefficient, 1e-12, c)
		assert.InDelta(t, c.essential, essential.DesignCoefficient/plain.DesignCoefficient, 1e-12, c)
		assert.GreaterOrEqual(t, crowded.StrengthRatio, plain.StrengthRatio, c)
		assert.GreaterOrEqual(t, essential.StrengthRatio, crowded.StrengthRatio, c)
	}
	// What bounds the strength of an ordinary wall, foundations and sliding, was designed for more.
	wall := func(i Importance) Archetype {
		return assigned(t, "us-west", "4", 1986, func(d *Description) {
			d.System, d.Importance, d.Storeys = ConcreteWall, i, 2
		})
	}
	ordinary, hospital := wall(Ordinary), wall(Essential)
	assert.InDelta(t, 1.5*ordinary.StrengthRatio, hospital.StrengthRatio, 1e-12)
}

// TestSteelBeforeNorthridge: frames welded before the earthquake of January 1994 are of limited
// ductility, though the code of their time called them ductile; walls of the same code are not.
func TestSteelBeforeNorthridge(t *testing.T) {
	of := func(s System, year, later int) Archetype {
		return assigned(t, "us-west", "4", year, func(d *Description) { d.System, d.YearStrengthened = s, later })
	}
	limits := Default().Traits(SteelMomentFrame).Limits
	before, after := of(SteelMomentFrame, 1985, 0), of(SteelMomentFrame, 1998, 0)
	assert.Equal(t, LimitedDuctile, before.Detailing)
	assert.Less(t, before.Limits.LifeSafety, limits.LifeSafety)
	assert.Greater(t, before.Limits.LifeSafety, of(SteelMomentFrame, 1965, 0).Limits.LifeSafety)
	assert.LessOrEqual(t, before.Limits.ImmediateOccupancy, before.Limits.LifeSafety)
	assert.Equal(t, Ductile, after.Detailing)
	assert.Equal(t, limits, after.Limits)
	assert.Equal(t, Ductile, of(ConcreteWall, 1985, 0).Detailing)
	assert.Equal(t, Ductile, of(SteelMomentFrame, 1985, 2005).Detailing, "its joints were mended")
}

// TestYearAPlaceWasClassified: in Italy the code held in the places that were classified by then.
func TestYearAPlaceWasClassified(t *testing.T) {
	in := func(year, classified int) Archetype {
		return assigned(t, "italy", "2", year, func(d *Description) { d.Classified = classified })
	}
	since, later, unknown := in(1965, 1927), in(1965, 1980), in(1965, 0)
	assert.Equal(t, "none", later.Basis[CoefficientValue].ID)
	assert.Zero(t, later.DesignCoefficient)
	assert.Equal(t, NonDuctile, later.Detailing)
	assert.Equal(t, Derived, since.Basis[CoefficientValue].Origin)
	assert.Equal(t, since.StrengthRatio, unknown.StrengthRatio)
	assert.Greater(t, unknown.StrengthBeta, since.StrengthBeta)
	assert.Equal(t, Assumed, unknown.Basis[StrengthValue].Origin)
	assert.Contains(t, unknown.Basis[CoefficientValue].Text, "classified by then")
	assert.Equal(t, in(2010, 1980), in(2010, 0), "since 2003 the code holds everywhere")
}
