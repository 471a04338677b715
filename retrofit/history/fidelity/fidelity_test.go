package fidelity

import (
	"bytes"
	"math"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/hazard"
	"plinth/retrofit/demand"
	"plinth/retrofit/history"
)

// small returns the validation grid cut to a few low buildings under a few records.
func small() Grid {
	g := Validation()
	g.Storeys, g.StrengthRatios = []int{1, 3}, []float64{0.8, 2.5}
	g.Grounds = []hazard.SiteClass{'B'}
	g.Motion.Records, g.Motion.Iterations = 3, 4
	return g
}

// TestCasesAreAsStated checks that each building has the stated strength ratio and period, by
// the spectral demand and the formula, and a design of every measure.
func TestCasesAreAsStated(t *testing.T) {
	for _, g := range []Grid{Fit(), Validation(), Irregular()} {
		cases, err := g.Cases()
		require.NoError(t, err)
		assert.Len(t, cases, len(g.Grounds)*len(g.Storeys)*len(g.Stiff)*len(g.StrengthRatios))
		var w demand.Work
		var r demand.Response
		for i := range cases {
			c := &cases[i]
			w.AsIs(&c.Stick, &c.Spectrum, &r)
			assert.InEpsilon(t, max(1, c.StrengthRatio), r.Ductility, 1e-9)
			for k := range history.Kinds {
				m, err := history.New(&c.Stick, c.Devices[k], history.Options{})
				require.NoError(t, err)
				assert.Equal(t, k, m.Kind())
			}
		}
		assert.InEpsilon(t, g.Stiff[0].C*math.Pow(3.2*float64(g.Storeys[0]), 0.8),
			cases[0].Stick.Modes.Period[0], 1e-9)
	}
}

// TestSmallGrid runs a small grid on one processor and on several and checks that the
// page is the same to the byte, and that both methods agree within three bands where
// there are enough buildings for a median.
func TestSmallGrid(t *testing.T) {
	g := small()
	all, err := Measure(&g, nil)
	require.NoError(t, err)
	before := runtime.GOMAXPROCS(1)
	one, err := Measure(&g, nil)
	runtime.GOMAXPROCS(before)
	require.NoError(t, err)
	var a, b bytes.Buffer
	require.NoError(t, Write(&a, "<!-- history -->\n", all, all, all, all, all))
	require.NoError(t, Write(&b, "<!-- history -->\n", one, one, one, one, one))
	assert.Equal(t, a.String(), b.String())
	assert.Contains(t, a.String(), "\n\n<!-- history -->\n\n## Ratios", "the page keeps its history")
	for _, l := range all.Lines() {
		if l.Class == All && l.Count >= 4 {
			assert.InDelta(t, 0, math.Log(l.Median), 3*l.Band, "%s", l.name())
		}
	}
	for _, q := range []history.Quantity{history.StoreyDrift, history.FloorAccel} {
		assert.Greater(t, all.Rank(q, Spectral, Timed, false).Benefit, 0.6, "%s", q)
	}
	assert.InDelta(t, 1, Agreement(all, all, history.StoreyDrift), 1e-12, "records agree with themselves")
}

// TestSpearman checks a textbook case without ties: 1 - 6 sum d2/(n (n2 - 1)), and ties by
// hand.
func TestSpearman(t *testing.T) {
	x, y := []float64{1, 2, 3, 4, 5}, []float64{2, 1, 4, 3, 5}
	assert.InDelta(t, 1-6*4.0/(5*24), Spearman(x, y), 1e-12)
	assert.InDelta(t, 1, Spearman([]float64{1, 1, 2}, []float64{3, 3, 9}), 1e-12)
	assert.True(t, math.IsNaN(Spearman(nil, nil)))
	assert.True(t, math.IsNaN(Spearman([]float64{1, math.NaN()}, []float64{1, 2})))
}

// TestRefit fits a block to time histories that its own method made with other constants, and
// recovers those: the roof displacements of a small grid.
func TestRefit(t *testing.T) {
	g := small()
	g.Storeys, g.StrengthRatios = []int{1, 3}, []float64{1.5, 3, 6}
	cases, err := g.Cases()
	require.NoError(t, err)
	other := demand.Fitted()
	other.Spread *= 1.3
	m := &Measured{Grid: &g}
	for i := range cases {
		w := demand.Work{Fit: &other}
		var r demand.Response
		w.AsIs(&cases[i].Stick, &cases[i].Spectrum, &r)
		row := Row{Case: &cases[i], Read: &cases[i].Spectrum, Checks: make([]history.Check, history.Kinds)}
		h := &row.Checks[history.AsIs].History
		h.WorstDrift.Median = r.DriftRatio
		for _, d := range r.Drift {
			h.Drift = append(h.Drift, history.Spread{Median: d})
		}
		m.Rows = append(m.Rows, row)
	}
	b := block{"drift", []string{"Spread"}, []history.Kind{history.AsIs},
		[]history.Quantity{history.StoreyDrift}}
	f, err := b.minimize(m, demand.Fitted())
	require.NoError(t, err)
	assert.InEpsilon(t, other.Spread, f.Spread, 1e-3)
	for i := range blocks {
		for _, c := range blocks[i].constants {
			assert.NotZero(t, *constant(&f, c), c)
		}
	}
}

// TestHalvesAreOtherRecords checks that the two halves of the records differ, and that both
// together have the mean of the whole.
func TestHalvesAreOtherRecords(t *testing.T) {
	g := small()
	g.Storeys, g.StrengthRatios, g.Motion.Records = []int{1}, []float64{2.5}, 4
	m, err := Measure(&g, nil)
	require.NoError(t, err)
	r := &m.Rows[0]
	a, b := FirstHalf(r, history.AsIs, history.RoofDrift), SecondHalf(r, history.AsIs, history.RoofDrift)
	assert.NotEqual(t, a, b)
	assert.InEpsilon(t, Timed(r, history.AsIs, history.RoofDrift), math.Sqrt(a*b), 1e-12)
}
