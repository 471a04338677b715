package assess

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/archetypes"
	"plinth/pipeline/inventory"
	"plinth/retrofit/consequence"
	"plinth/retrofit/demand"
)

// Contents lose little in the shaking of every generation: no stock has lost a tenth of what it
// holds in shaking of 25 years (common practice, no source).
func TestFrequentShakingTakesFewContents(t *testing.T) {
	everyBuilding(t, demo(t, 240, nil), func(b *inventory.Building, a *Assessment) {
		require.Equal(t, 25.0, a.Site.ReturnPeriod[0])
		var l consequence.Level
		var loss consequence.Loss
		a.Level(&a.AsIs[0], &l)
		a.study.model.At(&a.Exposure, &l, &loss)
		assert.Less(t, loss.Contents, 0.1*b.Value*a.Exposure.Split.Contents, "%s: floors at %.2g g", b.ID,
			l.Contents.High)
	})
}

// The numbers below are copied from docs/methods/consequence.md, and so are the formulas: the page
// has to suffice.

// p returns the probability that a demand is above a median.
func p(demand, median, b float64) float64 {
	if demand <= 0 {
		return 0
	}
	return 0.5 * math.Erfc(-math.Log(demand/median)/b/math.Sqrt2)
}

// A step is the median, own dispersion and added loss of a component.
type step [3]float64

var (
	driftSteps  = []step{{0.003, 0.5, 0.10}, {0.008, 0.5, 0.35}, {0.020, 0.5, 0.55}}
	infillSteps = []step{{0.001, 0.5, 0.10}, {0.005, 0.5, 0.40}, {0.015, 0.5, 0.50}}
	accelSteps  = []step{{0.60, 0.4, 0.10}, {1.10, 0.4, 0.40}, {2.20, 0.4, 0.50}}
	holdSteps   = [][]step{{{0.40, 0.5, 0.15}, {1.00, 0.5, 0.45}},
		{{0.30, 0.5, 0.10}, {0.90, 0.5, 0.40}, {2.50, 0.5, 0.40}},
		{{0.25, 0.5, 0.15}, {0.60, 0.6, 0.45}, {1.00, 0.5, 0.40}}}
)

// ratio returns R of demands in two groups: those above their mean and the others.
func ratio(steps []step, demands []float64, b float64) (r float64) {
	mean := 0.0
	for _, x := range demands {
		mean += x / float64(len(demands))
	}
	var groups [2][]float64
	for _, x := range demands {
		if x > mean {
			groups[1] = append(groups[1], x)
		} else {
			groups[0] = append(groups[0], x)
		}
	}
	for _, g := range groups {
		if len(g) == 0 {
			continue
		}
		at := 0.0
		for _, x := range g {
			at += x / float64(len(g))
		}
		for _, s := range steps {
			r += s[2] * p(at, s[0], math.Hypot(s[1], b)) * float64(len(g)) / float64(len(demands))
		}
	}
	return r
}

func rss(x ...float64) (r float64) {
	for _, v := range x {
		r = math.Hypot(r, v)
	}
	return r
}

// byHand returns the loss of a building as it stands at one response, and its dispersion.
func byHand(a *Assessment, r *demand.Response) (l consequence.Loss, b float64) {
	arch, in := &a.Archetype, a.Building
	s := 1 + 4/(60*arch.Period*arch.Period+3)
	imputed := 0.0
	for f, sd := range map[inventory.Field]float64{inventory.System: 0.30, inventory.Storeys: 0.20,
		inventory.Height: 0.10, inventory.Year: 0.15} {
		if in.Origin[f] == inventory.Assumed {
			imputed = math.Hypot(imputed, sd)
		}
	}
	knowledge := rss(arch.PeriodBeta, (s-1)*arch.StrengthBeta, s*a.Ground.Spread, imputed)
	fitOut := rss(s*0.40, 0.24, 0.15, knowledge)
	b = rss(arch.LimitsBeta, 0.50*s, fitOut)
	accelB := rss(0.40, 0.14, knowledge)

	var drifts, floors, stands []float64
	yield := math.Inf(1)
	for i, d := range r.Drift {
		drifts = append(drifts, d/a.Stick.Height[i])
		floors = append(floors, r.Accel[i]/9.80665)
		yield = min(yield, a.Stick.Strength[i]/(a.Stick.Stiffness[i]*a.Stick.Height[i]))
	}
	stands = append(append(stands, r.BaseAccel/9.80665), floors[:len(floors)-1]...)
	irreparable := yield + 0.01/0.3
	if irreparable >= 4*yield {
		irreparable = max(4*yield, 0.01+3*yield)
	}
	pIO, pLS := p(r.DriftRatio, arch.Limits.ImmediateOccupancy, b), p(r.DriftRatio, arch.Limits.LifeSafety, b)
	pCP, c := p(r.DriftRatio, arch.Limits.CollapsePrevention, b), p(r.DriftRatio, arch.Limits.Collapse, b)
	if !arch.Flexible {
		irreparable = math.Inf(1)
	}
	q := max(pCP, p(r.DriftRatio, irreparable, rss(0.3, fitOut)))
	p1 := max(pLS, q)
	p0 := max(pIO, p1)
	l.LimitState, l.Collapse, l.Replaced = [3]float64{pIO, pLS, pCP}, c, q

	drift := ratio(driftSteps, drifts, fitOut)
	if arch.Infilled {
		drift = 0.5*drift + 0.5*ratio(infillSteps, drifts, fitOut)
	}
	accel, hold := ratio(accelSteps, floors, accelB), ratio(holdSteps[in.Contents], stands, accelB)
	split := a.Exposure.Split
	l.Structure = in.Value * (split.Structure*(0.05*(p0-p1)+0.25*(p1-q)+q) + 0.1*q)
	l.DriftFitOut = in.Value * split.DriftFitOut * (drift + (1-drift)*q)
	l.AccelFitOut = in.Value * split.AccelFitOut * (accel + (1-accel)*q)
	l.Contents = in.Value * split.Contents * (hold + (1-hold)*(c+0.5*(q-c)))
	l.Days = 30*(p0-p1) + 180*(p1-q) + 1400*q + (1-p0)*30*max(drift, accel)

	light := 1.0
	if arch.Light {
		light = 0.1
	}
	inside := 0.30*in.OccupantsDay + 0.42*in.OccupantsNight + 0.28*(in.OccupantsDay+in.OccupantsNight)/2
	lost := c * arch.CollapseVolume
	standing := 0.0001*(pIO-pLS) + 0.001*(pLS-pCP) + 0.01*(pCP-lost)
	l.Dead = inside * (light*standing + lost*arch.CollapseFatality)
	if arch.FallsOutward {
		l.Street = max(in.Length, in.Width) * 0.02 * 0.3 * (0.05*(pLS-pCP) + 0.5*(pCP-c) + c)
	}
	return l, b
}

// Every loss of a sheet can be redone from the method page: the buildings of the demo, each system
// among them, as they stand at every return period. 1e-6: the table of the normal distribution.
func TestLossesRedoneByHand(t *testing.T) {
	seen := map[archetypes.System]bool{}
	study := demo(t, 240, nil)
	everyBuilding(t, study, func(b *inventory.Building, a *Assessment) {
		if b.Length == 0 || math.IsNaN(b.Length) {
			return // the frontage of a square is tried by its own test
		}
		seen[b.System] = true
		for i := range a.AsIs {
			var level consequence.Level
			var got consequence.Loss
			a.Level(&a.AsIs[i], &level)
			if level.Collapsed {
				continue // counted at twice the drift of collapse, tried in package consequence
			}
			study.model.At(&a.Exposure, &level, &got)
			want, spread := byHand(a, &a.AsIs[i])
			assert.InEpsilon(t, spread, a.Exposure.Spread.Drift, 1e-9, b.ID)
			for name, f := range map[string][2]float64{
				"immediate occupancy": {want.LimitState[0], got.LimitState[0]},
				"life safety":         {want.LimitState[1], got.LimitState[1]},
				"collapse prevention": {want.LimitState[2], got.LimitState[2]},
				"replaced":            {want.Replaced, got.Replaced}, "collapse": {want.Collapse, got.Collapse},
				"structure": {want.Structure / b.Value, got.Structure / b.Value},
				"drift":     {want.DriftFitOut / b.Value, got.DriftFitOut / b.Value},
				"accel":     {want.AccelFitOut / b.Value, got.AccelFitOut / b.Value},
				"contents":  {want.Contents / b.Value, got.Contents / b.Value},
				"days":      {want.Days, got.Days}, "dead": {want.Dead, got.Dead}, "street": {want.Street, got.Street},
			} {
				assert.InDelta(t, f[0], f[1], 1e-6*max(1, f[0]), "%s, level %d: %s", b.ID, i, name)
			}
		}
	})
	assert.GreaterOrEqual(t, len(seen), 8)
}
