package consequence

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"plinth/retrofit"
)

func defaultModel(t testing.TB) *Model {
	m, err := New(DefaultOptions())
	require.NoError(t, err)
	return m
}

// clinic is an exposure with a value in every component and isolators that can exceed their
// capacity.
func clinic(m *Model) *Exposure {
	split, _ := m.Split("hospital")
	spread, _ := m.Spread("lead-rubber", Budget{Capacity: 0.5, Knowledge: 0.2, Steepness: 1})
	return &Exposure{
		Value: 10e6, Split: split, OccupantsDay: 200, OccupantsNight: 80, DowntimeValue: 20e3,
		Contents: retrofit.SensitiveContents, Limits: [3]float64{0.01, 0.02, 0.04}, Collapse: 0.062,
		Irreparable: m.Irreparable(0.005), Volume: 0.3, Fatality: 0.4, Frontage: 30,
		Displacement: 0.5, Spread: spread,
	}
}

func anExposure(t *rapid.T, m *Model) *Exposure {
	e := clinic(m)
	low := rapid.Float64Range(1e-4, 0.02).Draw(t, "limit")
	e.Limits = [3]float64{low, low * rapid.Float64Range(1, 4).Draw(t, "r1"), 0}
	e.Limits[2] = e.Limits[1] * rapid.Float64Range(1, 4).Draw(t, "r2")
	e.Collapse = e.Limits[2] * rapid.Float64Range(1, 3).Draw(t, "r3")
	e.Irreparable = m.Irreparable(rapid.Float64Range(1e-4, 0.02).Draw(t, "yield"))
	e.Infilled = rapid.Bool().Draw(t, "infilled")
	e.Displacement = rapid.SampledFrom([]float64{0, 0.1, 0.5}).Draw(t, "displacement")
	e.Light = rapid.Bool().Draw(t, "light")
	e.Contents = retrofit.Contents(rapid.IntRange(0, 2).Draw(t, "contents"))
	beta := rapid.Float64Range(0, 1)
	e.Spread = Spread{beta.Draw(t, "b1"), beta.Draw(t, "b2"), beta.Draw(t, "b3"), beta.Draw(t, "b4")}
	return e
}

func aLevel(t *rapid.T) Level {
	groups := func(most float64, name string) Groups {
		low := rapid.Float64Range(0, most).Draw(t, name+" low")
		return Groups{low + rapid.Float64Range(0, most).Draw(t, name+" more"), low,
			rapid.Float64Range(0, 1).Draw(t, name+" share")}
	}
	return Level{rapid.Float64Range(0, 0.2).Draw(t, "largest"), groups(0.1, "drift"), groups(3, "accel"),
		groups(3, "contents"), rapid.Float64Range(0, 2).Draw(t, "displacement"), rapid.Bool().Draw(t, "collapsed")}
}

// fields lists every number of a Loss.
func fields(l *Loss) []float64 {
	return append([]float64{l.Structure, l.DriftFitOut, l.AccelFitOut, l.Contents, l.Downtime, l.Total,
		l.Days, l.Dead, l.Serious, l.Minor, l.Street, l.DeathRisk, l.Replaced, l.Collapse}, l.LimitState[:]...)
}

func TestMoreDemandIsNotLessLoss(t *testing.T) {
	m := defaultModel(t)
	rapid.Check(t, func(t *rapid.T) {
		e, a := anExposure(t, m), aLevel(t)
		b := a
		more := rapid.Float64Range(0, 0.5)
		which := []*float64{&b.DriftRatio, &b.Drift.High, &b.Drift.Low, &b.Accel.High, &b.Accel.Low,
			&b.Contents.High, &b.Contents.Low, &b.Displacement}
		*rapid.SampledFrom(which).Draw(t, "which") += more.Draw(t, "more")
		var la, lb Loss
		m.At(e, &a, &la)
		m.At(e, &b, &lb)
		fa, fb := fields(&la), fields(&lb)
		for i := range fa { // rounding of sums: 1e-12 relative
			if fb[i] < fa[i]*(1-1e-12)-1e-12 {
				t.Fatalf("field %d fell from %g to %g", i, fa[i], fb[i])
			}
		}
	})
}

func TestLossKeepsToItsBounds(t *testing.T) {
	m := defaultModel(t)
	rapid.Check(t, func(t *rapid.T) {
		e, l := anExposure(t, m), aLevel(t)
		var out Loss
		m.At(e, &l, &out)
		const slack = 1 + 1e-12
		if out.Structure > slack*e.Value*(e.Split.Structure+m.options.DemolitionShare) ||
			out.DriftFitOut > slack*e.Value*e.Split.DriftFitOut ||
			out.AccelFitOut > slack*e.Value*e.Split.AccelFitOut ||
			out.Contents > slack*e.Value*e.Split.Contents {
			t.Fatalf("loss above value: %+v", out)
		}
		if out.Days > slack*m.options.States[Collapse].Days || out.Dead > 200 ||
			out.DeathRisk > (0.3*0.4+0.7*0.01)*slack {
			t.Fatalf("out of bounds: %+v", out)
		}
		p := out.LimitState
		if p[0] < p[1] || p[1] < p[2] || p[2] < out.Collapse || out.Replaced < p[2] || p[0] > 1 {
			t.Fatalf("limit states out of order: %v, collapse %g", p, out.Collapse)
		}
		for i, v := range fields(&out) {
			if !(v >= 0) {
				t.Fatalf("field %d is %g", i, v)
			}
		}
	})
}

func TestNoDemandIsNoLoss(t *testing.T) {
	m := defaultModel(t)
	var out Loss
	m.At(clinic(m), &Level{}, &out)
	assert.Equal(t, Loss{}, out)
}

func TestEndlessDemandTakesAll(t *testing.T) {
	// The limit: every building has collapsed.
	m := defaultModel(t)
	e, inf := clinic(m), math.Inf(1)
	var out Loss
	m.At(e, &Level{inf, Even(inf), Even(inf), Even(inf), inf, false}, &out)
	assert.Equal(t, [3]float64{1, 1, 1}, out.LimitState)
	assert.Equal(t, 1.0, out.Collapse)
	assert.InEpsilon(t, e.Value*e.Split.DriftFitOut, out.DriftFitOut, 1e-12)
	assert.InEpsilon(t, e.Value*(e.Split.Structure+0.10), out.Structure, 1e-12, "and is cleared away")
	assert.InDelta(t, 0.3*0.4+0.7*0.01, out.DeathRisk, 1e-15)
	assert.InDelta(t, 30*0.02*0.3, out.Street, 1e-15, "all of the frontage falls")
}

// A building that stands and cannot be repaired is lost whole, with part of its contents.
func TestPulledDown(t *testing.T) {
	m := defaultModel(t)
	e := clinic(m)
	e.Displacement, e.Spread = 0, Spread{}
	e.Irreparable, e.Infilled = 0.005, false
	m.options.ResidualDispersion = 0
	var out Loss
	m.At(e, &Level{DriftRatio: 0.006}, &out)
	assert.Zero(t, out.LimitState[ImmediateOccupancy], "out of plumb, within every limit")
	assert.InEpsilon(t, e.Value*(1.1+0.5*e.Split.Contents), out.Structure+out.DriftFitOut+out.AccelFitOut+
		out.Contents, 1e-12)
	assert.Zero(t, out.Dead)
}

// Residual drift of FEMA P-58-1 2012, from memory: 0.3 (d - yield) to four times yield, then
// d - 3 yield.
func TestIrreparable(t *testing.T) {
	m := defaultModel(t)
	assert.InDelta(t, 0.016, m.Irreparable(0.002), 1e-12)
	assert.InDelta(t, 0.020+0.01/0.3, m.Irreparable(0.020), 1e-12)
	assert.InDelta(t, 0.042, m.Irreparable(0.0105), 1e-12, "the step at four times yield")
	last := 0.0
	for y := 0.0; y < 0.03; y += 1e-4 {
		at := m.Irreparable(y)
		assert.Greater(t, at, last, "a later yield leaves less")
		last = at
	}
}

// Weight on a leaning frame that finds no balance counts as twice the drift of collapse.
func TestNoBalanceIsCollapse(t *testing.T) {
	m := defaultModel(t)
	e := clinic(m)
	e.Displacement = 0
	var held, far Loss
	m.At(e, &Level{DriftRatio: 0.05, Collapsed: true}, &held)
	m.At(e, &Level{DriftRatio: 2 * e.Collapse}, &far)
	assert.InDelta(t, far.Collapse, held.Collapse, 1e-12)
	assert.Greater(t, held.Collapse, 0.75)
}

// Isolators in their moat: occupants flee and contents fall, floors stay up.
func TestIsolatorsThatRunOut(t *testing.T) {
	m := defaultModel(t)
	e := clinic(m)
	var out, slow Loss
	l := Level{Accel: Even(0.2), Contents: Even(0.2), Displacement: 0.5}
	m.At(e, &l, &out)
	assert.InDelta(t, 0.5, out.LimitState[LifeSafety], 1e-12, "half run out at the median")
	assert.Zero(t, out.LimitState[CollapsePrevention])
	e.Displacement = 0
	m.At(e, &l, &slow)
	assert.Zero(t, slow.LimitState[LifeSafety], "without isolators displacement is not read")
	assert.Greater(t, out.Contents, 1.5*slow.Contents, "floors jump")
}

func TestUnknownDemandStaysUnknown(t *testing.T) {
	m := defaultModel(t)
	var out Loss
	m.At(clinic(m), &Level{DriftRatio: math.NaN()}, &out)
	assert.True(t, math.IsNaN(out.Total))
	assert.True(t, math.IsNaN(out.DeathRisk))
}

func TestLightConstructionAndHours(t *testing.T) {
	m := defaultModel(t)
	e, l := clinic(m), Level{DriftRatio: 0.03}
	var heavy, light Loss
	m.At(e, &l, &heavy)
	e.Light = true
	m.At(e, &l, &light)
	lost := heavy.Collapse * e.Volume * e.Fatality // with the system, whatever it weighs
	assert.InEpsilon(t, 0.1*(heavy.DeathRisk-lost), light.DeathRisk-lost, 1e-12,
		"ATC-13 Table 9.3 note, from memory")
	assert.Equal(t, 200.0, m.Occupants(Day, 200, 80))
	assert.Equal(t, 80.0, m.Occupants(Night, 200, 80))
	assert.Equal(t, 140.0, m.Occupants(Transit, 200, 80))
	assert.InDelta(t, 0.30*200+0.42*80+0.28*140, m.MeanOccupants(200, 80), 1e-12)
	for people, share := range map[float64]float64{80: 1, 81: 0.58, 140: 0.58, 141: 0.30, 200: 0.30, 201: 0} {
		assert.InDelta(t, share, m.Crowded(200, 80, people), 1e-12, "%g people", people)
	}
}

func TestLevelRead(t *testing.T) {
	var l Level
	l.Read([]float64{0.06, 0.03}, []float64{4, 3}, 9.80665, []float64{2 * 9.80665, 6 * 9.80665}, 0.2)
	assert.InDelta(t, 0.015, l.DriftRatio, 1e-15)
	assert.InDeltaSlice(t, []float64{0.015, 0.010, 0.5},
		[]float64{l.Drift.High, l.Drift.Low, l.Drift.HighShare}, 1e-15)
	assert.InDeltaSlice(t, []float64{6, 2, 0.5},
		[]float64{l.Accel.High, l.Accel.Low, l.Accel.HighShare}, 1e-12, "services under floor and roof")
	assert.InDeltaSlice(t, []float64{2, 1, 0.5},
		[]float64{l.Contents.High, l.Contents.Low, l.Contents.HighShare}, 1e-12, "nothing stands on the roof")
	assert.Equal(t, 0.2, l.Displacement)
	l.Read(nil, nil, 9.80665, nil, 0)
	assert.Equal(t, Level{}, l)
	drift, height, accel := make([]float64, 8), []float64{3, 3, 3, 3, 3, 3, 3, 3}, make([]float64, 8)
	assert.Zero(t, testing.AllocsPerRun(20, func() { l.Read(drift, height, 1, accel, 0) }))
}

// TestGroupsStandForStoreys bounds the error of the fit-out loss by two groups instead of
// storey by storey: 0.06 of the fit-out's value for drifts that are even, fall linearly,
// concentrate in one soft storey, or wave.
func TestGroupsStandForStoreys(t *testing.T) {
	m := defaultModel(t)
	var c steps
	c.widen(&m.drift, 0.45)
	const n = 8
	for name, shape := range map[string]func(i float64) float64{
		"even":          func(float64) float64 { return 1 },
		"straight line": func(i float64) float64 { return 2 - (2*i+1)/n },
		"soft storey":   func(i float64) float64 { return 1 + 6*max(0, 1-i) - 0.5*min(1, i) },
		"wave":          func(i float64) float64 { return 1 + 0.6*math.Sin(2*i) },
	} {
		var worst float64
		for mean := 0.0005; mean < 0.05; mean *= 1.05 {
			x := func(i int) float64 { return mean * shape(float64(i)) }
			g := group(n, x)
			ln := g.ln()
			var sum float64
			for i := range n {
				sum += c.ratio(lnDemand(x(i))) / n
			}
			worst = max(worst, math.Abs(sum-c.over(&ln)))
		}
		t.Logf("%s: largest difference %.4f", name, worst)
		assert.Less(t, worst, 0.06, name)
	}
}

var returnPeriods = []float64{43, 72, 144, 224, 475, 975, 2475, 4975}

func eightLevels() (levels []Level, freq []float64) {
	for _, tr := range returnPeriods {
		s := math.Pow(tr/475, 1.0/3)
		levels = append(levels, Level{0.012 * s, Groups{0.010 * s, 0.006 * s, 0.5},
			Groups{0.6 * s, 0.35 * s, 0.3}, Groups{0.5 * s, 0.3 * s, 0.3}, 0.25 * s, false})
		freq = append(freq, 1/tr)
	}
	return levels, freq
}

func TestAnnual(t *testing.T) {
	m := defaultModel(t)
	e := clinic(m)
	levels, freq := eightLevels()
	rule := allOf(freq)
	var a Annual
	m.Annual(e, levels, rule, &a)
	assert.InEpsilon(t, a.Structure+a.DriftFitOut+a.AccelFitOut+a.Contents+a.Downtime, a.Total, 1e-12)
	assert.InEpsilon(t, a.DeathRisk*m.MeanOccupants(200, 80), a.Dead, 1e-12)
	assert.Greater(t, a.LimitState[0], a.LimitState[1])
	assert.Greater(t, a.LimitState[1], a.LimitState[2])

	var same Annual
	m.Annual(e, levels, rule, &same)
	assert.Equal(t, a, same, "out is set, not added to")
	assert.Zero(t, testing.AllocsPerRun(20, func() { m.Annual(e, levels, rule, &a) }))
}

// A loss of 1 at every level is the frequency of the first rung, however the rungs lie, and so are
// its shares outside the return periods asked for.
func TestAnnualOfConstantLossIsExact(t *testing.T) {
	m, e := oneComponent(t, Step{1, 0, 1})
	rapid.Check(t, func(t *rapid.T) {
		years := []float64{10}
		levels := []Level{{Drift: Even(2)}}
		for range rapid.IntRange(0, 9).Draw(t, "more") {
			years = append(years, years[len(years)-1]*rapid.Float64Range(1.01, 6).Draw(t, "ratio"))
			levels = append(levels, Level{Drift: Even(2)})
		}
		rule := NewRule(years, years, nil)
		for _, n := range rule.node {
			assert.GreaterOrEqual(t, n.weight, 0.0)
		}
		var a Annual
		m.Annual(e, levels, &rule, &a)
		assert.InEpsilon(t, 0.1, a.Total, 1e-12)
		assert.Zero(t, a.FrequentShare+a.RareShare)
	})
}

// What is only shown counts for nothing, and the shares are those outside what is shown.
func TestLevelsThatAreOnlyShown(t *testing.T) {
	m, e := oneComponent(t, Step{1, 0, 1})
	years := []float64{10, 30, 100, 1000, 3000}
	rule := NewRule(years, []float64{10, 100, 1000}, []float64{30, 3000})
	var a Annual
	m.Annual(e, []Level{{}, {Drift: Even(2)}, {Drift: Even(2)}, {Drift: Even(2)}, {Drift: Even(2)}}, &rule, &a)
	whole := a.Total
	assert.Zero(t, a.FrequentShare, "no loss at the level before")
	m.Annual(e, []Level{{}, {}, {Drift: Even(2)}, {Drift: Even(2)}, {}}, &rule, &a)
	assert.Equal(t, whole, a.Total)
	rule = NewRule(years, years, []float64{100})
	m.Annual(e, []Level{{}, {}, {Drift: Even(2)}, {Drift: Even(2)}, {Drift: Even(2)}}, &rule, &a)
	assert.Greater(t, a.RareShare, 0.1*0.5)
}

// The rungs of a run: those of the plan in place of near ones, whatever the onset.
func TestRungs(t *testing.T) {
	m := defaultModel(t)
	assert.Equal(t, []float64{10, 25, 50, 100, 224, 500, 1000, 2500, 10000},
		m.Rungs([]float64{224, 500, 1000, 2500, 5000}))
	for _, onset := range []float64{0.1, 1, 10, 30, 1000} {
		o := DefaultOptions()
		o.OnsetReturnPeriod = onset
		m, err := New(o)
		require.NoError(t, err)
		rungs := m.Rungs(nil)
		assert.Equal(t, onset, rungs[0])
		for i := range rungs[1:] {
			assert.Greater(t, rungs[i+1]/rungs[i], 1.4, "%v", rungs)
			assert.LessOrEqual(t, rungs[i+1]/rungs[i], apart, "%v", rungs)
		}
	}
}

func TestAnnualRefusesMisuse(t *testing.T) {
	m, e := oneComponent(t, Step{1, 0, 1})
	var a Annual
	one := NewRule([]float64{10}, []float64{10}, nil)
	assert.Panics(t, func() { m.Annual(e, make([]Level, 2), &one, &a) })
	assert.Panics(t, func() { NewRule(nil, nil, nil) })
	assert.Panics(t, func() { NewRule([]float64{20, 10}, []float64{10}, nil) })
	assert.Panics(t, func() { NewRule([]float64{0, 10}, []float64{10}, nil) })
	assert.Panics(t, func() { NewRule([]float64{10}, []float64{20}, nil) })
}

func BenchmarkAnnual(b *testing.B) {
	m := defaultModel(b)
	e := clinic(m)
	levels, freq := eightLevels()
	rule := allOf(freq)
	var a Annual
	b.ReportAllocs()
	for b.Loop() {
		m.Annual(e, levels, rule, &a)
	}
}
