package consequence

import "math"

// Annual is the mean annual loss, and the shares of it from shaking outside the return periods
// that a run prints.
type Annual struct {
	Loss
	FrequentShare float64 // of Total from shaking more frequent than the first return period
	RareShare     float64 // of Total from shaking rarer than the last return period
}

// Annual fills out with the annual values of a building: the integral of the loss over the annual
// frequency of exceedance by the weights of r (NewRule). It allocates nothing. It panics unless
// there is one level for each return period of the rule.
func (m *Model) Annual(e *Exposure, levels []Level, r *Rule, out *Annual) {
	if len(levels) != r.levels {
		panic("consequence: one level for each return period")
	}
	*out = Annual{}
	var b building
	m.prepare(e, &b)
	var at Loss
	var between Level
	for i := range r.node {
		l, _, weight := r.Node(i, levels, &between)
		m.at(e, &b, l, &at)
		out.add(weight, &at)
		switch n := &r.node[i]; {
		case n.a < r.frequent:
			out.FrequentShare += weight * at.Total
		case n.b >= r.levels-r.rare:
			out.RareShare += weight * at.Total
		}
	}
	if out.Total > 0 {
		out.FrequentShare /= out.Total
		out.RareShare /= out.Total
	}
}

// midway sets l to the level midway between a and b in the logarithm of the return period, with
// every demand a power of it.
func (l *Level) midway(a, b *Level) {
	l.DriftRatio = math.Sqrt(a.DriftRatio * b.DriftRatio)
	l.Drift.midway(&a.Drift, &b.Drift)
	l.Accel.midway(&a.Accel, &b.Accel)
	l.Contents.midway(&a.Contents, &b.Contents)
	l.Collapsed = a.Collapsed && b.Collapsed
	l.Displacement = math.Sqrt(a.Displacement * b.Displacement)
}

func (g *Groups) midway(a, b *Groups) {
	g.High, g.Low = math.Sqrt(a.High*b.High), math.Sqrt(a.Low*b.Low)
	g.HighShare = (a.HighShare + b.HighShare) / 2
}
