package retrofit

import (
	"math"

	"plinth/hazard"
	"plinth/retrofit/demand"
)

// Design is one isolation design at the design level: a point on the trade-off of displacement
// against drift and floor acceleration. Forces, drift and acceleration are with the upper bound
// of properties, displacement with the lower.
type Design struct {
	YieldRatio   float64 // nominal Qd over weight
	Period       float64 // s, nominal T2
	Displacement float64 // m, total maximum displacement
	DriftRatio   float64
	PeakAccel    float64 // m/s2
	BaseShear    float64 // N
	FrameUse     float64 // demand over strength of the frame above
	Score        float64 // drift and acceleration over those as it stands; lower is better
	Verdict      Verdict // of the rules on the design
	Bars         int     // number of rules that bar it
	Miss         float64 // ratio by which the worst bar is missed, 1 without bars
}

// betterThan reports whether d is preferred to e: a less grave verdict, then a lower score.
// Among barred designs the preferred one is barred by the fewest rules and misses by the least,
// so that the reason names what would be enough.
func (d *Design) betterThan(e *Design) bool {
	switch {
	case d.Verdict != e.Verdict:
		return d.Verdict < e.Verdict
	case d.Bars != e.Bars:
		return d.Bars < e.Bars
	case d.Verdict == Bar:
		return d.Miss < e.Miss
	}
	return d.Score < e.Score
}

// Designs appends every design that the measure would search for c to dst, for the trade-off
// curve. It does not apply the rules that need no design.
func (m *isolating) Designs(w *Work, c *Case, dst []Design) []Design {
	w.values.read(c)
	w.rests = w.rests[:0]
	for i := range m.opt.Steps {
		for j := range m.opt.Steps {
			dst = append(dst, m.try(w, c, i, j))
			w.rests = append(w.rests, w.Demand.Trace.Isolated.Starts())
		}
	}
	return dst
}

// near returns a first guess for a point of the grid from the earlier points, in rows of n, as
// if displacement were a product of a factor of the row and one of the column.
func near(rests []demand.Starts, n, i, j int) demand.Starts {
	at := i*n + j
	a, b := 1, n // offsets to the neighbours; a + b to their common neighbour
	switch {
	case at == 0:
		return demand.Starts{}
	case i == 0:
		b = 1
	case j == 0:
		a = n
	}
	near := rests[at-a]
	if at >= a+b {
		other, shared := rests[at-b], rests[at-a-b]
		near.Upper.Displacement *= other.Upper.Displacement / shared.Upper.Displacement
		near.Lower.Displacement *= other.Lower.Displacement / shared.Lower.Displacement
	}
	return near
}

// search returns the best design and its device.
func (m *isolating) search(w *Work, c *Case) (Design, demand.Isolation) {
	w.designs = m.Designs(w, c, w.designs[:0])
	best := 0
	for i := range w.designs {
		if w.designs[i].betterThan(&w.designs[best]) {
			best = i
		}
	}
	return w.designs[best], m.point(w, c, best/m.opt.Steps, best%m.opt.Steps)
}

// point returns the device at a point of the grid, with the first guess of its balance.
func (m *isolating) point(w *Work, c *Case, i, j int) demand.Isolation {
	d := m.device(c, i, j)
	d.Near = near(w.rests, m.opt.Steps, i, j)
	return d
}

// try evaluates one point of the grid of designs at the design level.
func (m *isolating) try(w *Work, c *Case, i, j int) Design {
	dev := m.point(w, c, i, j)
	m.level(w, c, c.Design, dev, &w.trial)
	m.criteria(w, c, dev, &w.trial)
	asIs := &c.AsIs[c.Design]
	w.values.compare(asIs, &w.trial)
	verdict, bars, miss := m.judge(&w.values)
	return Design{
		YieldRatio:   grid(m.opt.YieldRatio, m.opt.Steps, i),
		Period:       grid(m.opt.Period, m.opt.Steps, j),
		Displacement: w.values[totalDisplacement],
		DriftRatio:   w.trial.DriftRatio,
		PeakAccel:    w.trial.PeakAccel,
		BaseShear:    w.trial.BaseShear,
		FrameUse:     w.values[frameUse],
		Score:        mix(m.opt.DriftShare, asIs, &w.trial),
		Verdict:      verdict, Bars: bars, Miss: miss,
	}
}

// device returns the nominal isolation system at a point of the grid.
func (m *isolating) device(c *Case, i, j int) demand.Isolation {
	weight := c.Weight()
	slab := m.opt.SlabMass * weight / hazard.Gravity / float64(c.Stick.N())
	mass := weight/hazard.Gravity + slab
	omega := 2 * math.Pi / grid(m.opt.Period, m.opt.Steps, j)
	d := demand.Isolation{
		Kind:     m.kind,
		Qd:       grid(m.opt.YieldRatio, m.opt.Steps, i) * mass * hazard.Gravity,
		K2:       mass * omega * omega,
		Dampers:  m.opt.PlaneDamping,
		BaseMass: slab, Reduction: m.reduction,
		Upper: demand.Bound{Qd: m.opt.Upper[0], Kd: m.opt.Upper[1]},
		Lower: demand.Bound{Qd: m.opt.Lower[0], Kd: m.opt.Lower[1]},
	}
	d.K1 = m.ratio * d.K2
	if m.ratio == 0 {
		d.K1 = d.K2 + d.Qd/m.slip
	}
	return d
}
