package assess

import (
	"fmt"
	"math"
	"slices"
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
		of25 := slices.Index(a.Site.ReturnPeriod, 25)
		require.GreaterOrEqual(t, of25, 0)
		var l consequence.Level
		var loss consequence.Loss
		a.Level(&a.AsIs[of25], &l)
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

// worths are the value and downtime ratios of the uses of the demo.
var worths = map[string][2]float64{"house": {0.8, 0.5}, "apartments": {0.9, 0.6}, "hotel": {1.2, 1.5},
	"office": {1, 1}, "emergency": {1.3, 3}, "school": {1.1, 1}, "laboratory": {1.8, 2}, "hospital": {1.8, 3},
	"museum": {1.6, 0.5}, "assembly": {1.3, 1}, "shop": {0.7, 1.5}, "warehouse": {0.4, 1}, "factory": {0.6, 2}}

// groups are demands over the height: the mean of those above the mean of all, that of the others,
// and the share of the first.
type groups [3]float64

func grouped(demands []float64) (g groups) {
	mean, high := 0.0, 0
	for _, x := range demands {
		mean += x / float64(len(demands))
	}
	for _, x := range demands {
		if x > mean*(1+1e-12) {
			g[0] += x
			high++
		} else {
			g[1] += x
		}
	}
	if high == 0 { // even over the height
		return groups{mean, mean, 1}
	}
	g[0] /= float64(high)
	g[1] /= float64(len(demands) - high)
	g[2] = float64(high) / float64(len(demands))
	return g
}

// ratio returns R of a demand.
func ratio(steps []step, g groups, b float64) (r float64) {
	for _, s := range steps {
		spread := math.Hypot(s[1], b)
		r += s[2] * (g[2]*p(g[0], s[0], spread) + (1-g[2])*p(g[1], s[0], spread))
	}
	return r
}

func rss(x ...float64) (r float64) {
	for _, v := range x {
		r = math.Hypot(r, v)
	}
	return r
}

// A demandOf is what a level asks of a building.
type demandOf struct {
	drift                   float64 // largest
	storeys, floors, stands groups
	collapsed               bool
}

func read(a *Assessment, r *demand.Response) (d demandOf) {
	var drifts, floors []float64
	for i, x := range r.Drift {
		drifts = append(drifts, x/a.Stick.Height[i])
		floors = append(floors, r.Accel[i]/9.80665)
	}
	stands := append([]float64{r.BaseAccel / 9.80665}, floors[:len(floors)-1]...)
	return demandOf{r.DriftRatio, grouped(drifts), grouped(floors), grouped(stands),
		r.Status&demand.CollapseCounted != 0}
}

// midway returns the demand midway between two levels.
func midway(x, y demandOf) demandOf {
	mid := func(g, h groups) groups {
		return groups{math.Sqrt(g[0] * h[0]), math.Sqrt(g[1] * h[1]), (g[2] + h[2]) / 2}
	}
	return demandOf{math.Sqrt(x.drift * y.drift), mid(x.storeys, y.storeys), mid(x.floors, y.floors),
		mid(x.stands, y.stands), x.collapsed && y.collapsed}
}

// byHand returns the loss of a building as it stands at one demand, and its dispersion.
func byHand(a *Assessment, d demandOf) (l consequence.Loss, b float64) {
	arch, in := &a.Archetype, a.Building
	s := 1 + 4/(60*arch.Period*arch.Period+3)
	imputed := 0.0
	for f, sd := range map[inventory.Field]float64{inventory.System: 0.30, inventory.Storeys: 0.20,
		inventory.Height: 0.10, inventory.Year: 0.15} {
		if in.Origin[f] == inventory.Assumed {
			imputed = math.Hypot(imputed, sd)
		}
	}
	knowledge := rss(arch.PeriodBeta, (s-1)*arch.StrengthBeta, s*a.Ground.Spread, 0.25*0.5, imputed)
	fitOut := rss(s*0.40, 0.25, 0.15, knowledge)
	b = rss(arch.LimitsBeta, 0.50*s, fitOut)
	accelB := rss(0.40, 0.16, knowledge)

	yield := math.Inf(1)
	for i, v := range a.Stick.Strength {
		yield = min(yield, v/(a.Stick.Stiffness[i]*a.Stick.Height[i]))
	}
	if d.collapsed {
		d.drift = max(d.drift, 2*arch.Limits.Collapse)
	}
	irreparable := yield + 0.01/0.3
	if irreparable >= 4*yield {
		irreparable = max(4*yield, 0.01+3*yield)
	}
	pIO, pLS := p(d.drift, arch.Limits.ImmediateOccupancy, b), p(d.drift, arch.Limits.LifeSafety, b)
	pCP, c := p(d.drift, arch.Limits.CollapsePrevention, b), p(d.drift, arch.Limits.Collapse, b)
	if !arch.Flexible {
		irreparable = math.Inf(1)
	}
	q := max(pCP, p(d.drift, irreparable, rss(0.3, fitOut)))
	p1 := max(pLS, q)
	p0 := max(pIO, p1)
	l.LimitState, l.Collapse, l.Replaced = [3]float64{pIO, pLS, pCP}, c, q

	drift := ratio(driftSteps, d.storeys, fitOut)
	if arch.Infilled {
		drift = 0.5*drift + 0.5*ratio(infillSteps, d.storeys, fitOut)
	}
	accel, hold := ratio(accelSteps, d.floors, accelB), ratio(holdSteps[in.Contents], d.stands, accelB)
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

// weightsByHand returns the nodes in yr of an integral over the rungs and their weights in 1/yr: L
// between two nodes is the cubic in ln T through the four about them, those at the end where there are
// not two on a side.
func weightsByHand(rungs []float64) (nodes, weight []float64) {
	for i, tr := range rungs {
		if i > 0 {
			nodes = append(nodes, math.Sqrt(rungs[i-1]*tr))
		}
		nodes = append(nodes, tr)
	}
	n := len(nodes)
	weight = make([]float64, n)
	for i := range n - 1 {
		first := min(max(0, i-1), n-4)
		const parts = 200 // of Simpson's rule
		from, to := math.Log(nodes[i]), math.Log(nodes[i+1])
		for part := range parts + 1 {
			x := from + (to-from)*float64(part)/parts
			simpson := []float64{2, 4}[part%2]
			if part == 0 || part == parts {
				simpson = 1
			}
			for j := first; j < first+4; j++ {
				cubic := 1.0
				for k := first; k < first+4; k++ {
					if k != j {
						cubic *= (x - math.Log(nodes[k])) / math.Log(nodes[j]/nodes[k])
					}
				}
				weight[j] += simpson * (to - from) / parts / 3 * cubic * math.Exp(-x)
			}
		}
	}
	weight[n-1] += 1 / rungs[len(rungs)-1]
	return nodes, weight
}

// sameLoss compares losses, money in values of the building. 1e-6: the table of the normal distribution.
func sameLoss(t *testing.T, value float64, want, got *consequence.Loss, what string) {
	t.Helper()
	for name, f := range map[string][2]float64{
		"immediate occupancy": {want.LimitState[0], got.LimitState[0]},
		"life safety":         {want.LimitState[1], got.LimitState[1]},
		"collapse prevention": {want.LimitState[2], got.LimitState[2]},
		"replaced":            {want.Replaced, got.Replaced}, "collapse": {want.Collapse, got.Collapse},
		"structure": {want.Structure / value, got.Structure / value},
		"drift":     {want.DriftFitOut / value, got.DriftFitOut / value},
		"accel":     {want.AccelFitOut / value, got.AccelFitOut / value},
		"contents":  {want.Contents / value, got.Contents / value},
		"days":      {want.Days, got.Days}, "dead": {want.Dead, got.Dead}, "street": {want.Street, got.Street},
	} {
		assert.InDelta(t, f[0], f[1], 1e-6*max(1, f[0]), "%s: %s", what, name)
	}
}

// addTo adds weight times l to sum.
func addTo(sum *consequence.Loss, weight float64, l *consequence.Loss) {
	for _, f := range [][2]*float64{
		{&sum.LimitState[0], &l.LimitState[0]}, {&sum.LimitState[1], &l.LimitState[1]}, {&sum.LimitState[2], &l.LimitState[2]},
		{&sum.Replaced, &l.Replaced}, {&sum.Collapse, &l.Collapse},
		{&sum.Structure, &l.Structure}, {&sum.DriftFitOut, &l.DriftFitOut}, {&sum.AccelFitOut, &l.AccelFitOut},
		{&sum.Contents, &l.Contents}, {&sum.Days, &l.Days}, {&sum.Dead, &l.Dead}, {&sum.Street, &l.Street}} {
		*f[0] += weight * *f[1]
	}
}

// Every loss of a sheet can be redone from the method page: the buildings of the demo, each system
// among them, as they stand, at every level and in a year.
func TestLossesRedoneByHand(t *testing.T) {
	seen := map[archetypes.System]bool{}
	rungs := []float64{10, 25, 50, 100, 225, 475, 975, 2475, 10000}
	nodes, weight := weightsByHand(rungs)
	everyBuilding(t, demo(t, 240, nil), func(b *inventory.Building, a *Assessment) {
		if b.Length == 0 || math.IsNaN(b.Length) {
			return // the frontage of a square is tried by its own test
		}
		seen[b.System] = true
		at := map[float64]demandOf{} // by return period
		for i := range a.AsIs {
			var level consequence.Level
			var got consequence.Loss
			a.Level(&a.AsIs[i], &level)
			a.study.model.At(&a.Exposure, &level, &got)
			at[a.Site.ReturnPeriod[i]] = read(a, &a.AsIs[i])
			want, spread := byHand(a, at[a.Site.ReturnPeriod[i]])
			assert.InEpsilon(t, spread, a.Exposure.Spread.Drift, 1e-9, b.ID)
			sameLoss(t, b.Value, &want, &got, fmt.Sprintf("%s, level %d", b.ID, i))
		}
		for i, tr := range rungs[1:] {
			at[nodes[2*i+1]] = midway(at[rungs[i]], at[tr])
		}
		var year consequence.Loss
		for i, tr := range nodes {
			l, _ := byHand(a, at[tr])
			addTo(&year, weight[i], &l)
		}
		got := a.Before.Loss
		sameLoss(t, b.Value, &year, &got, b.ID+", a year")
		downtime := worths[b.Use.String()][1] * 0.10 // downtime_share of the plan
		if w := worths[b.Use.String()][0]; b.Origin[inventory.Value] == inventory.Assumed {
			assert.InEpsilon(t, b.FloorArea*2500*w, b.Value, 1e-9, b.ID)
		}
		assert.InEpsilon(t, year.Structure+year.DriftFitOut+year.AccelFitOut+year.Contents+
			year.Days*b.Value*downtime/365, got.Total, 1e-5, b.ID)
		assert.InEpsilon(t, year.Collapse, got.Collapse, 1e-5, b.ID)
	})
	assert.GreaterOrEqual(t, len(seen), 8)
}
