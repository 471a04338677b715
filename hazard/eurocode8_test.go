package hazard

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestEurocode8Elastic(t *testing.T) {
	// EN 1998-1 3.2.2.2 with Tables 3.2 and 3.3 (the latter from memory),
	// ordinates computed by hand to half the last digit; the national building
	// code of Bangladesh (2020) repeats Table 3.2.
	periods := []float64{0, 0.1, 0.3, 0.5, 1.0, 2.0, 3.0}
	for _, c := range []struct {
		p      *Eurocode8Parameters
		ground SiteClass
		ag     float64
		sa     []float64
	}{
		{&Eurocode8Type1, 'B', 0.25, []float64{0.300, 0.600, 0.750, 0.750, 0.375, 0.1875, 0.08333}},
		{&Eurocode8Type1, 'C', 0.24, []float64{0.276, 0.483, 0.690, 0.690, 0.414, 0.207, 0.092}},
		{&Eurocode8Type2, 'B', 0.10, []float64{0.135, 0.3375, 0.28125, 0.16875, 0.08438, 0.02531, 0.01125}},
	} {
		var s Spectrum
		require.NoError(t, c.p.Elastic(&s, c.ground, c.ag))
		for i, p := range periods {
			assert.InDelta(t, c.sa[i], s.Sa(p), 5e-6, "%s %s at %g s", c.p.Name, c.ground, p)
		}
	}
	var s Spectrum
	assert.ErrorContains(t, Eurocode8Type1.Elastic(&s, 'F', 0.2), "ground type")
	assert.Error(t, Eurocode8Type1.Elastic(&s, 'B', 0))
}

func TestEurocode8Displacement(t *testing.T) {
	// dg = 0.025 ag S TC TD with g = 9.81: 73.58 and 81.23 mm.
	for _, c := range []struct {
		ground SiteClass
		ag, mm float64
	}{{'B', 0.25, 73.58}, {'C', 0.24, 81.23}} {
		dg, err := Eurocode8Type1.GroundDisplacement(c.ground, c.ag)
		require.NoError(t, err)
		assert.InDelta(t, c.mm, dg*1000*9.81/Gravity, 5e-3)
	}
	// Annex A: constant 2.5 dg from TD to TE, falling to dg at TF. Branches meet
	// to 2 %, since 0.025 stands for 1/(4 pi2).
	dg, err := Eurocode8Type1.GroundDisplacement('B', 0.25)
	require.NoError(t, err)
	for _, c := range [][2]float64{{2, 2.5}, {4, 2.5}, {5, 2.5}, {7.5, 1.75}, {10, 1}, {15, 1}} {
		d, err := Eurocode8Type1.Displacement('B', 0.25, c[0])
		require.NoError(t, err)
		assert.InEpsilon(t, c[1]*dg, d, 0.02, "at %g s", c[0])
	}
}

func TestEurocode8Design(t *testing.T) {
	// Concrete frame of 20 m, ground B, ag 0.25 g, q 3.9: T1 = 0.075 H^0.75 =
	// 0.7093 s, Sd 0.13556 g, base shear 0.11523 W with lambda 0.85, by hand from
	// EN 1998-1 3.2.2.5 and 4.3.3.2 (from memory).
	sd, err := Eurocode8Type1.Design('B', 0.25, 3.9, 0.7093)
	require.NoError(t, err)
	assert.InDelta(t, 0.13556, sd, 1.5e-5)
	assert.InDelta(t, 0.11523, 0.85*sd, 1.5e-5)
	// 4 s: the floor 0.2 ag
	for _, c := range [][2]float64{{0, 0.20}, {0.15, 0.1923077}, {0.5, 0.1923077}, {4, 0.05}} {
		sd, err := Eurocode8Type1.Design('B', 0.25, 3.9, c[0])
		require.NoError(t, err)
		assert.InDelta(t, c[1], sd, 1e-6)
	}
	_, err = Eurocode8Type1.Design('B', 0.25, 0.5, 1)
	assert.ErrorContains(t, err, "q at least 1")
}

func TestAmplification(t *testing.T) {
	// The ratio of two spectra of the standard at the same rock acceleration.
	for _, ground := range []SiteClass{'A', 'B', 'C', 'D', 'E'} {
		var rock, soil Spectrum
		require.NoError(t, Eurocode8Type1.Elastic(&rock, 'A', 0.2))
		require.NoError(t, Eurocode8Type1.Elastic(&soil, ground, 0.2))
		for _, p := range []float64{0, 0.04, 0.15, 0.3, 0.7, 1.5, 3, 6} {
			f, err := Eurocode8Type1.Amplification(ground, p)
			require.NoError(t, err)
			assert.InEpsilon(t, soil.Sa(p)/rock.Sa(p), f, 1e-12)
			f, err = NZS1170Amplification(ground, p)
			require.NoError(t, err)
			assert.GreaterOrEqual(t, f, 1.0)
		}
	}
	_, err := Eurocode8Type1.Amplification(0, 1)
	assert.Error(t, err)
	// NZS 1170.5 Table 3.1: class D over rock at 1 s, 1.93/0.95.
	f, err := NZS1170Amplification('D', 1)
	require.NoError(t, err)
	assert.InDelta(t, 1.93/0.95, f, 0.02)
	_, err = NZS1170Amplification(0, 1)
	assert.Error(t, err)
}

func TestEurocode8Vertical(t *testing.T) {
	// EN 1998-1 3.2.2.3: avg = 0.9 ag, plateau 3 avg, from memory.
	var s Spectrum
	require.NoError(t, Eurocode8Type1.VerticalElastic(&s, 0.2))
	assert.InDelta(t, 0.18, s.Sa(0), 1e-12)
	assert.InDelta(t, 0.54, s.Sa(0.1), 1e-12)
	assert.InDelta(t, 0.54*0.15/0.6, s.Sa(0.6), 1e-12)
}

func TestImportanceFactor(t *testing.T) {
	// EN 1998-1 4.2.5(5), note.
	for class, want := range map[int]float64{1: 0.8, 2: 1.0, 3: 1.2, 4: 1.4} {
		got, err := ImportanceFactor(class)
		require.NoError(t, err)
		assert.Equal(t, want, got)
	}
	_, err := ImportanceFactor(5)
	assert.Error(t, err)
}
