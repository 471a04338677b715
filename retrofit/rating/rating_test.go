package rating

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// up is the next number above a bound.
func up(x float64) float64 { return math.Nextafter(x, math.Inf(1)) }

// DM 58/2017 Annex A, tables of PAM and IS-V classes, from memory: on a bound PAM
// takes the better class and IS-V the worse.
func TestRiskClassBounds(t *testing.T) {
	letters := []string{"A+", "A", "B", "C", "D", "E", "F", "G"}
	for i, bound := range []float64{0.5, 1.0, 1.5, 2.5, 3.5, 4.5, 7.5} {
		r := RiskClass(bound, 200)
		assert.Equal(t, letters[i], r.Band, "PAM %v", bound)
		assert.Equal(t, Risk{bound, 200, letters[i], "A+"}, r.Risk)
		assert.InDelta(t, i+1, r.Value, 0)
		assert.Equal(t, letters[i+1], RiskClass(up(bound), 200).Band, "PAM above %v", bound)
	}
	for i, bound := range []float64{100, 80, 60, 45, 30, 15} {
		assert.Equal(t, letters[i], RiskClass(0, up(bound)).Band, "IS-V above %v", bound)
		assert.Equal(t, letters[i+1], RiskClass(0, bound).Band, "IS-V %v", bound)
	}
	assert.Equal(t, "C", RiskClass(0.4, 50).Band, "the worse of the two")
	assert.Equal(t, "G", RiskClass(9, 50).Band, "the worse of the two")
}

// A building that just meets NTC 2018 (30, 50, 475 and 975 years) has PAM 1.13 % and is of class B by
// it, and IS-V 100 % gives A: Cosenza and others 2018, Bulletin of Earthquake Engineering 16:5905,
// from memory. By hand: 0.0666 x 3.5 + 0.0134 x 11 + 0.0179 x 32.5 + 0.00107 x 65 + 0.00103 x 100 %.
func TestABuildingThatJustMeetsTheCode(t *testing.T) {
	pam := PAM(1./50, 1./475)
	assert.InDelta(t, 1.13, pam, 0.01)
	r := RiskClass(pam, 100)
	assert.Equal(t, "B", r.Band)
	assert.Equal(t, "B", r.Risk.PAMClass)
	assert.Equal(t, "A", r.Risk.ISVClass)

	// A building that nothing harms still has its collapse; one that the onset destroys loses most.
	assert.InDelta(t, 0, PAM(0, 0), 0.36, "0.1 x 3.5 % of the onset, whose trapezoid the decree always counts")
	assert.InDelta(t, 100*(0.1*0.49+0.051*0.65), PAM(1, 1), 1e-9)
	assert.Equal(t, PAM(1./475, 1./475), PAM(1./975, 1./475), "damage comes no later than life safety")
	assert.True(t, math.IsNaN(PAM(math.NaN(), 0.1)))
	rapid.Check(t, func(t *rapid.T) {
		often := rapid.Float64Range(1e-5, 0.2).Draw(t, "damage")
		seldom := rapid.Float64Range(1e-5, 0.2).Draw(t, "life safety")
		assert.GreaterOrEqual(t, PAM(1.1*often, seldom), PAM(often, seldom)-1e-12)
		assert.GreaterOrEqual(t, PAM(often, 1.1*seldom), PAM(often, seldom)-1e-12)
	})
}

// DM 58/2017: a simplified method may claim one class, from memory.
func TestImprovementIsCapped(t *testing.T) {
	f, a := RiskClass(6, 20), RiskClass(0.7, 90)
	require.Equal(t, "F", f.Band)
	require.Equal(t, "A", a.Band)
	assert.Equal(t, "E", Improved(f, a).Band)
	assert.Equal(t, "F", Improved(f, f).Band)
	assert.Equal(t, "F", Improved(a, f).Band, "what gets worse is said in full")
	assert.Empty(t, Improved(none(), a).Band)
}

// Building (Earthquake-prone Buildings) Amendment Act 2016: earthquake-prone below
// 34 %, from memory; 67 % is common practice, no source.
func TestNewBuildingBounds(t *testing.T) {
	for _, c := range []struct {
		percent float64
		band    string
	}{{100, "100 % or more"}, {99.99, "67 to 100 %"}, {67.01, "67 to 100 %"}, {66.99, "34 to 67 %"},
		{34.01, "34 to 67 %"}, {33.99, "under 34 %"}} {
		assert.Equal(t, c.band, NewBuilding(100/c.percent).Band, "%v", c.percent)
	}
	assert.InDelta(t, 47, NewBuilding(100/46.7).Value, 0, "two figures at most")
}

// ASCE 41-17 2.3.1, from memory: acceptable where demand does not exceed capacity.
func TestLimitStateBounds(t *testing.T) {
	assert.Equal(t, "drift within immediate occupancy", LimitState([3]float64{1, 0.5, 0.3}).Band)
	assert.Equal(t, Rating{Band: "drift within life safety", Value: 1}, LimitState([3]float64{up(1), 1, 0.6}))
	assert.Equal(t, "drift within collapse prevention", LimitState([3]float64{3, up(1), 1}).Band)
	assert.Equal(t, Rating{Band: "drift beyond collapse prevention", Value: 2.3}, LimitState([3]float64{4, 2.345, up(1)}))
}

// The Japanese standard (2001 revision), from memory: Is = E0 SD T against
// Is0 = Es Z G U, which is 0.8 at the first level in the highest zone. By hand:
// 1.0 x 0.5 x 0.8 x 0.9 x 0.8 = 0.288.
func TestSeismicIndexByHand(t *testing.T) {
	x := Index{Strength: 0.5, Ductility: ShortColumns, Irregularity: 0.9, Time: 0.8, Zone: 1}
	assert.InDelta(t, 0.288, x.Is(), 1e-12)
	assert.InDelta(t, 0.8, x.Is0(), 1e-12)
	assert.Equal(t, Rating{Band: "Is below Is0", Value: 0.36}, SeismicIndex(x))
	assert.Equal(t, "Is at or above Is0", SeismicIndex(Index{0.8, Ductile, 1, 1, 1}).Band)
}

func TestUnknownHasNoRating(t *testing.T) {
	nan := math.NaN()
	for i, r := range []Rating{LimitState([3]float64{nan, 1, 1}), NewBuilding(nan), NewBuilding(0),
		RiskClass(nan, 50), RiskClass(1, nan),
		SeismicIndex(Index{Strength: nan, Ductility: 1, Irregularity: 1, Time: 1, Zone: 1}),
		SeismicIndex(Index{Zone: 1})} {
		assert.Empty(t, r.Band, "%d", i)
		assert.True(t, math.IsNaN(r.Value), "%d", i)
	}
}

// If demand is a power of shaking, and shaking a power of return period (the form of EN 1998-1
// 2.1(4)), the result is exact.
func TestPowerLawIsReadBack(t *testing.T) {
	rp := []float64{100, 475, 975, 2475}
	pga, ratios := make([]float64, 4), make([]float64, 4)
	for i, tr := range rp {
		pga[i] = 0.2 * math.Pow(tr/475, 1./3)
		ratios[i] = math.Pow(pga[i]/0.25, 1.2)
	}
	assert.InEpsilon(t, 0.25, Reaching(ratios, pga), 1e-12) // rounding only
	assert.InEpsilon(t, 0.2*math.Pow(500./475, 1./3), At(500, rp, pga), 1e-12)
	assert.InEpsilon(t, 0.2, At(475, rp, pga), 1e-12)
	assert.True(t, math.IsNaN(At(50, rp, pga)))
	assert.True(t, math.IsNaN(At(5000, rp, pga)))
	assert.InEpsilon(t, 0.1, Reaching([]float64{2, 3}, []float64{0.2, 0.3}), 1e-12,
		"in proportion below the first level")
	assert.InEpsilon(t, 0.3, Reaching([]float64{0.2, 0.3}, []float64{0.2, 0.3}), 1e-12, "held at the last")
}

// A building with less demand over capacity is never rated worse.
func TestStrongerIsNeverRatedWorse(t *testing.T) {
	pga := []float64{0.05, 0.1, 0.2, 0.3}
	rapid.Check(t, func(t *rapid.T) {
		factor := rapid.Float64Range(0.1, 1).Draw(t, "factor")
		weak, strong := make([]float64, len(pga)), make([]float64, len(pga))
		sum := 0.0
		for i := range weak {
			sum += rapid.Float64Range(0.01, 2).Draw(t, "step")
			weak[i], strong[i] = sum, factor*sum
		}
		before, after := Reaching(weak, pga), Reaching(strong, pga)
		assert.GreaterOrEqual(t, after, before*(1-1e-12))
		pam := rapid.Float64Range(0, 10).Draw(t, "pam")
		assert.LessOrEqual(t, RiskClass(factor*pam, 500*after).Value,
			RiskClass(pam, 500*before*(1-1e-12)).Value)
		assert.GreaterOrEqual(t, NewBuilding(strong[1]).Value, NewBuilding(weak[1]).Value)
		limits := func(d float64) [3]float64 { return [3]float64{3 * d, d, d / 2} }
		assert.LessOrEqual(t, LimitState(limits(strong[2])).Value, LimitState(limits(weak[2])).Value)
		assert.LessOrEqual(t, SeismicIndex(Index{factor * sum, 1, 1, 1, 1}).Value,
			SeismicIndex(Index{sum, 1, 1, 1, 1}).Value)
	})
}

// Every band names its rule and the date from which it applies.
func TestTableIsWhole(t *testing.T) {
	for s := range NumScales {
		assert.Contains(t, s.Version(), "effective 20")
		for part, bands := range table[s] {
			assert.Equal(t, "else", bands[len(bands)-1].Comparison, "%v %s", s, part)
			for _, b := range bands {
				assert.Regexp(t, `^\d{4}(-\d{2}-\d{2})?$`, b.Effective)
				assert.NotEmpty(t, b.Source)
			}
		}
		back, err := Parse(s.String())
		require.NoError(t, err)
		assert.Equal(t, s, back)
	}
	_, err := Parse("asce")
	assert.ErrorContains(t, err, "dm-58-2017")
}

// The method page shows the bounds of the table.
func TestMethodPageShowsTheTable(t *testing.T) {
	data, err := os.ReadFile("../../docs/methods/rating.md")
	require.NoError(t, err)
	for _, part := range []string{"pam", "is-v"} {
		var bounds []string
		for _, b := range DM58.Bands(part) {
			if b.Comparison != "else" {
				bounds = append(bounds, fmt.Sprintf("%g", b.Bound))
			}
		}
		assert.Contains(t, string(data), "| "+strings.Join(bounds, " | ")+" |")
	}
	assert.Contains(t, string(data), "not an assessment by the rule")
}
