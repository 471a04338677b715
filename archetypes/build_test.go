package archetypes

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func draw(t *rapid.T) Description {
	d := Unknown()
	d.System = System(rapid.IntRange(0, int(numSystems)-1).Draw(t, "system"))
	d.Profile = Profile(rapid.IntRange(0, int(numProfiles)-1).Draw(t, "profile"))
	d.Storeys = rapid.IntRange(1, 40).Draw(t, "storeys")
	d.Year = rapid.IntRange(1850, 2030).Draw(t, "year")
	d.Region = Region(rapid.IntRange(0, len(Default().Regions())-1).Draw(t, "region"))
	d.Zone = Zone(rapid.IntRange(0, len(Default().Zones(d.Region))).Draw(t, "zone"))
	d.FloorArea = rapid.Float64Range(20, 1e5).Draw(t, "area")
	return d
}

// TestBuildIsTheArchetype solves the modes of the chain and finds the assigned period, weight
// and base strength again.
func TestBuildIsTheArchetype(t *testing.T) {
	var s Stick
	rapid.Check(t, func(t *rapid.T) {
		d := draw(t)
		var a Archetype
		require.NoError(t, Default().Assign(&d, &a))
		a.Build(&s)
		modes, err := ChainModes(s.Mass, s.Stiffness)
		require.NoError(t, err)
		for j := range modes.Count {
			assert.InEpsilon(t, modes.Period[j], s.Modes.Period[j], 1e-9)
			// eigenvectors keep fewer digits than eigenvalues
			assert.InEpsilon(t, modes.Gamma[j], s.Modes.Gamma[j], 1e-6)
		}
		assert.InEpsilon(t, a.Period, modes.Period[0], 1e-9)
		assert.InEpsilon(t, a.StrengthRatio*a.Weight, s.Strength[0], 1e-12)
		var m, h float64
		for i := range s.Mass {
			m, h = m+s.Mass[i], h+s.Height[i]
		}
		assert.InEpsilon(t, a.Weight, m*gravity, 1e-12)
		assert.InEpsilon(t, a.Height, h, 1e-12)
	})
}

// TestRegularProfile checks strength against ASCE 7-16 12.8.3 by hand: three
// storeys, T = 0.5 s so k = 1, forces 1/6, 2/6, 3/6, shears 1, 5/6, 3/6.
func TestRegularProfile(t *testing.T) {
	a := Archetype{Storeys: 3, Height: 9, Weight: 3 * gravity, Period: 0.5, StrengthRatio: 0.2}
	var s Stick
	a.Build(&s)
	base := 0.2 * a.Weight
	assert.InDeltaSlice(t, []float64{base, base * 5 / 6, base * 3 / 6}, s.Strength, 1e-12)
	assert.InDelta(t, math.Pow(0.5, 0.7), s.Stiffness[2]/s.Stiffness[0], 1e-12)

	// k = 1.5 at 1.5 s, halfway between 0.5 s and 2.5 s.
	a.Period = 1.5
	a.Build(&s)
	f := []float64{1, math.Pow(2, 1.5), math.Pow(3, 1.5)}
	assert.InDelta(t, f[2]/(f[0]+f[1]+f[2]), s.Strength[2]/s.Strength[0], 1e-12)
}

// TestIrregularProfiles checks the place of the irregularity: with the ground storey as strong
// as assigned, the storeys above a weak one are stronger than in a regular building, and a
// set-back weakens the upper third.
func TestIrregularProfiles(t *testing.T) {
	a := Archetype{Storeys: 6, Height: 18, Weight: 6, Period: 0.5, StrengthRatio: 0.2}
	var regular, weak, back Stick
	a.Build(&regular)
	a.Profile = WeakGround
	a.Build(&weak)
	a.Profile = SetBack
	a.Build(&back)
	assert.InDelta(t, regular.Strength[0], weak.Strength[0], 1e-12)
	assert.InDelta(t, 1/0.65, weak.Strength[1]/regular.Strength[1], 1e-12)
	assert.InDelta(t, regular.Strength[3], back.Strength[3], 1e-12)
	assert.InDelta(t, 0.6, back.Strength[4]/regular.Strength[4], 1e-12)
	drift := func(s *Stick, i int) float64 {
		below := 0.0
		if i > 0 {
			below = s.Modes.Shape[0][i-1]
		}
		return s.Modes.Shape[0][i] - below
	}
	assert.Greater(t, drift(&weak, 0), drift(&regular, 0))
	assert.Greater(t, drift(&back, 4), drift(&regular, 4))
}

func TestAssignAndBuildDoNotAllocate(t *testing.T) {
	d, a, s := eightStoreys(), Archetype{}, Stick{}
	require.NoError(t, Default().Assign(&d, &a))
	a.Build(&s)
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		_ = Default().Assign(&d, &a)
		a.Build(&s)
	}))
}

func eightStoreys() Description {
	d := Unknown()
	d.System, d.Storeys, d.Year, d.FloorArea = ConcreteFrame, 8, 1968, 4000
	d.Region, _ = Default().ParseRegion("us-west")
	return d
}

func BenchmarkAssignBuild(b *testing.B) {
	for _, n := range []int{3, 8, 20} {
		b.Run(map[int]string{3: "3", 8: "8", 20: "20"}[n], func(b *testing.B) {
			d, a, s := eightStoreys(), Archetype{}, Stick{}
			d.Storeys = n
			b.ReportAllocs()
			for b.Loop() {
				if err := Default().Assign(&d, &a); err != nil {
					b.Fatal(err)
				}
				a.Build(&s)
			}
		})
	}
}

// TestTallestStick: the eigenvalues keep nine digits of T1 up to the tallest chain.
func TestTallestStick(t *testing.T) {
	var s Stick
	for p := range numProfiles {
		a := Archetype{Storeys: MaxStoreys, Height: 400, Weight: 1e9, Period: 6, StrengthRatio: 0.05,
			Profile: p}
		a.Build(&s)
		modes, err := ChainModes(s.Mass, s.Stiffness)
		require.NoError(t, err)
		assert.InEpsilon(t, 6, modes.Period[0], 1e-9, p)
	}
}
