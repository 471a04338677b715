package archetypes

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// TestMasonryPeriods repeats the periods UBC 1994 (Eq. 28-3) prints for masonry,
// T = 0.02 h^0.75 with h in ft, to two decimals.
func TestMasonryPeriods(t *testing.T) {
	law := Default().Traits(MasonryReinforced).CodePeriod
	for feet, want := range map[float64]float64{20: 0.19, 40: 0.32, 60: 0.43, 120: 0.73, 160: 0.90} {
		// half the last digit, and Ct in metric is rounded
		assert.InDelta(t, want, law.At(feet*foot), 0.0055, "%g ft", feet)
	}
}

// TestCodePeriods works ASCE 7-16 Table 12.8-2 and EN 1998-1 4.3.3.2.2(3) by hand.
func TestCodePeriods(t *testing.T) {
	// 0.0466 and 0.0724 of the metric table are 0.016 and 0.028 in ft, rounded by up
	// to 0.1 %.
	assert.InEpsilon(t, 0.6375, Default().Traits(ConcreteFrame).CodePeriod.At(60*foot), 1e-3)
	assert.InDelta(t, 0.6907, Default().Traits(ConcreteFrame).CodePeriod.At(20), 1e-4)
	assert.InEpsilon(t, 1.1147, Default().Traits(SteelMomentFrame).CodePeriod.At(100*foot), 1e-3)
	frame := design{traits: Default().Traits(ConcreteFrame), height: 20}
	assert.InDelta(t, 0.7093, frame.periodEurocode(), 1e-4)
}

// TestGoelChopraBounds checks the bounds at 100 ft: 0.016 and 0.023 H^0.9, 0.028
// and 0.045 H^0.8, H in ft (Goel and Chopra 1997, constants from memory).
func TestGoelChopraBounds(t *testing.T) {
	lower, upper := Default().Traits(ConcreteFrame).Range(100 * foot)
	assert.InDelta(t, 1.0095, lower, 1e-4)
	assert.InDelta(t, 1.4512, upper, 1e-4)
	lower, upper = Default().Traits(SteelMomentFrame).Range(100 * foot)
	assert.InDelta(t, 1.1147, lower, 1e-4)
	assert.InDelta(t, 1.7915, upper, 1e-4)
}

func TestPeriodGrowsWithHeight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := draw(t)
		var a, b Archetype
		d.Height = rapid.Float64Range(2, 200).Draw(t, "height")
		require.NoError(t, Default().Assign(&d, &a))
		d.Height *= rapid.Float64Range(1.001, 3).Draw(t, "factor")
		require.NoError(t, Default().Assign(&d, &b))
		if !(b.Period > a.Period && b.PeriodLower > a.PeriodLower && b.PeriodUpper > a.PeriodUpper) {
			t.Fatalf("period %g s at %g m, %g s at %g m", a.Period, a.Height, b.Period, b.Height)
		}
		if !(a.PeriodLower <= a.Period && a.Period <= a.PeriodUpper) {
			t.Fatalf("median %g outside its bounds %g, %g", a.Period, a.PeriodLower, a.PeriodUpper)
		}
	})
}
