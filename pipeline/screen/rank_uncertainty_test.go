package screen

import (
	"bytes"
	"context"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/assess"
	"plinth/pipeline/internal/town"
	"plinth/pipeline/output"
	"plinth/pipeline/plan"
	"plinth/pipeline/sample"
)

// drawn screens the demo in dir with a change to its plan and returns its files.
func drawn(t testing.TB, dir string, workers int, change func(*plan.Plan)) map[string][]byte {
	t.Helper()
	p, err := plan.Load(filepath.Join(dir, sample.PlanFile))
	require.NoError(t, err)
	change(p)
	study, err := assess.Open(p)
	require.NoError(t, err)
	_, err = Stock(context.Background(), study, assess.Settings{Workers: workers, Replace: true})
	require.NoError(t, err)
	return town.Files(t, dir)
}

// Draws belong to buildings, not to workers, and another seed draws otherwise.
func TestSameIntervalsWhateverTheWorkers(t *testing.T) {
	dir := town.New(t, 60)
	few := func(p *plan.Plan) { p.Uncertainty.Draws = 39 }
	want := drawn(t, dir, 1, few)["buildings.csv"]
	assert.True(t, bytes.Equal(want, drawn(t, dir, 5, few)["buildings.csv"]))
	other := drawn(t, dir, 5, func(p *plan.Plan) {
		p.Uncertainty.Draws, p.Uncertainty.Seed = 39,
			2
	})["buildings.csv"]
	assert.False(t, bytes.Equal(want, other))
}

// What the columns of rank uncertainty say must agree with each other.
func TestRankUncertaintyHoldsTogether(t *testing.T) {
	all := drawn(t, town.New(t, 60), 2, func(p *plan.Plan) { p.Uncertainty.Draws = 39 })
	list := town.Rows(t, all["buildings.csv"])
	group := 0.0
	for _, r := range list {
		low, median, high := town.Number(t, r["rank_low"]), town.Number(t, r["rank_median"]),
			town.Number(t, r["rank_high"])
		assert.True(t, 1 <= low && low <= median && median <= high && high <= float64(len(list)),
			r["building_id"])
		top := town.Number(t, r["top_k_frequency"])
		assert.Equal(t, median <= 10, top > 0.5,
			"the median rank is among the first ten in more than half of the draws, or not: %s",
			r["building_id"])
		assert.LessOrEqual(t, town.Number(t, r["rank_as_is_low"]), town.Number(t, r["rank_as_is_high"]))
		g := town.Number(t, r["tie_group"])
		assert.True(t, g == group || g == group+1, "groups follow the rank")
		group = g
	}
	assert.Contains(t, string(all[output.ManifestName]), "every building was sampled")
	assert.Contains(t, string(all[output.ManifestName]), `"kendall_tau"`)
}

// Nothing uncertain leaves one possible rank: the interval closes on it. Period,
// strength and capacity have dispersions of their own, so only a stock of one can
// be wholly certain; the first of a shortlist is ranked within it.
func TestShortlistIsSampledAlone(t *testing.T) {
	all := drawn(t, town.New(t, 60), 2, func(p *plan.Plan) {
		p.Uncertainty.Draws,
			p.Uncertainty.Shortlist = 19, 7
	})
	for i, r := range town.Rows(t, all["buildings.csv"]) {
		if i < 7 {
			assert.LessOrEqual(t, town.Number(t, r["rank_high"]), 7.0)
			continue
		}
		assert.Empty(t, r["rank_low"])
		assert.Empty(t, r["tie_group"])
	}
	assert.Contains(t, string(all[output.ManifestName]), "the first 7 of")
}

// The rank under the plan's own objective is the rank, and each order is the one
// its scores give.
func TestRankUnderEveryObjective(t *testing.T) {
	all := drawn(t, town.New(t, 60), 2, func(p *plan.Plan) { p.Uncertainty.Draws = 0; p.Objective.RankBy = "life-safety" })
	list := town.Rows(t, all["buildings.csv"])
	for _, o := range []string{"net_benefit", "benefit_cost", "life_safety", "contents", "continuity"} {
		byRank := make(map[int]float64)
		for _, r := range list {
			byRank[int(town.Number(t, r["rank_"+o]))] = town.Number(t, r["score_"+o])
		}
		require.Len(t, byRank, len(list), "every rank once")
		for k := 2; k <= len(list); k++ {
			assert.LessOrEqual(t, byRank[k], byRank[k-1], "%s, rank %d", o, k)
		}
	}
	for _, r := range list {
		assert.Equal(t, r["rank"], r["rank_life_safety"])
	}
}

// A weighting of net benefit alone is net benefit.
func TestWeightedObjective(t *testing.T) {
	dir := town.New(t, 60)
	plain := town.Rows(t, drawn(t, dir, 2, func(p *plan.Plan) { p.Uncertainty.Draws = 0 })["buildings.csv"])
	weighted := town.Rows(t, drawn(t, dir, 2, func(p *plan.Plan) {
		p.Uncertainty.Draws, p.Objective.RankBy, p.Objective.Weights.NetBenefit = 0, "weighted", 1
	})["buildings.csv"])
	for i := range plain {
		for _, c := range []string{"rank", "building_id", "best_measure", "score", "rank_net_benefit",
			"rank_as_is"} {
			assert.Equal(t, plain[i][c], weighted[i][c], c)
		}
	}
}

// What is set apart is what the criterion says, and no text of a run calls a
// building safe but to deny it.
func TestLookNow(t *testing.T) {
	all := drawn(t, town.New(t, 60), 2, func(p *plan.Plan) { p.Uncertainty.Draws = 0 })
	flagged := 0
	for _, r := range town.Rows(t, all["buildings.csv"]) {
		inside := 2000. / 8760 // of the year, who works there
		if r["fatalities_day_per_yr"] == "" ||
			town.Number(t, r["fatalities_night_per_yr"]) >= 0.25*town.Number(t, r["fatalities_day_per_yr"]) {
			inside = 0.687 // who lives there
		}
		if inside*town.Number(t, r["individual_risk_per_yr"]) > 1e-4 {
			assert.Contains(t, r["look_now"], "oftener than once in 10,000", r["building_id"])
		} else if r["look_now"] != "" {
			assert.Contains(t, r["look_now"], "kills 50 or more", r["building_id"])
			assert.Greater(t, town.Number(t, r["collapse_per_yr"]), 2e-4, r["building_id"])
		}
		if r["look_now"] != "" {
			flagged++
		}
		assert.NotContains(t, r["look_now"], "safe")
		if day := r["fatalities_day_per_yr"]; day != "" {
			total := 0.3*town.Number(t, day) + 0.42*town.Number(t,
				r["fatalities_night_per_yr"]) + 0.28*town.Number(t, r["fatalities_transit_per_yr"])
			assert.InDelta(t, town.Number(t, r["fatalities_per_yr"]), total, 1e-5*total+1e-12,
				"the parts of the week make the year (hours.csv; six digits)")
		}
		assert.LessOrEqual(t, town.Number(t, r["frequent_share"])+town.Number(t, r["rare_share"]), 1.0)
	}
	assert.Positive(t, flagged)
}
