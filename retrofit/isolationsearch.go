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
	PeakAccel    float64    // m/s2
	BaseShear    float64    // N
	FrameUse     float64    // demand over strength of the frame above
	Score        float64    // of drift, acceleration and rules; lower is better
	Verdict      Verdict    // of the rules on the design
	place        [2]float64 // in the ranges of yield ratio and period, 0 to 1
	starts       demand.Starts
}

// Designs appends the designs of a grid of Steps by Steps that the measure looks at first for c to
// dst, for the trade-off curve. It does not apply the rules that need no design.
func (m *isolating) Designs(w *Work, c *Case, dst []Design) []Design {
	m.grid(w, c, func(place [2]float64, near demand.Starts) demand.Starts {
		d := m.try(w, c, place, near, math.Inf(1))
		dst = append(dst, d)
		return d.starts
	})
	return dst
}

// grid visits the places of the grid with a first guess of the sized displacement of each, from those
// that the visits return.
func (m *isolating) grid(w *Work, c *Case, visit func(place [2]float64, near demand.Starts) demand.Starts) {
	w.values.read(c)
	w.sizing.read(c.Site, m.opt.Sizing, math.Sqrt(m.opt.Period[0]*m.opt.Period[1]))
	w.levelShare = 0
	w.rests = w.rests[:0]
	n := m.opt.Steps
	for i := range n {
		for j := range n {
			place := [2]float64{grid(unit, n, i), grid(unit, n, j)}
			w.rests = append(w.rests, visit(place, near(w.rests, n, i, j)))
		}
	}
}

// unit is the range of a place in the ranges to search.
var unit = [2]float64{0, 1}

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

// refinements is the number of times the steps of the grid are halved around the best design. The
// last step of the default ranges is 1 % of the weight and 0.2 s.
const refinements = 2

// search returns the design of the lowest score and its device: the best of the grid, then the best
// of its neighbours half a step and a quarter of a step away (compass search; Kolda, Lewis
// and Torczon 2003, SIAM Review 45:385, from memory). The score is continuous, so that a little more
// shaking moves the design a little; where two designs far apart are alike it may still change over.
func (m *isolating) search(w *Work, c *Case) (Design, demand.Isolation) {
	best := Design{Score: math.Inf(1)}
	look := func(place [2]float64, near demand.Starts) demand.Starts {
		d := m.try(w, c, place, near, best.Score)
		if d.Score < best.Score {
			best = d
		}
		return d.starts
	}
	m.grid(w, c, look)
	step := 1.0
	if m.opt.Steps > 1 {
		step = 1 / float64(m.opt.Steps-1)
	}
	for range refinements {
		step /= 2
		centre := best
		for axis, r := range [...][2]float64{m.opt.YieldRatio, m.opt.Period} {
			for _, by := range [...]float64{-step, step} {
				place := centre.place
				place[axis] += by
				if r[0] < r[1] && place[axis] >= 0 && place[axis] <= 1 {
					look(place, centre.starts)
				}
			}
		}
	}
	return best, m.device(c, best.place)
}

// try evaluates the design at a place of the ranges: first the isolators at the sizing return period,
// from a first guess, then the demand at the design level, unless the rules on the isolators alone
// bring the score above most.
func (m *isolating) try(w *Work, c *Case, place [2]float64, near demand.Starts, most float64) Design {
	d := Design{YieldRatio: within(m.opt.YieldRatio, place[0]), Period: within(m.opt.Period, place[1]),
		place: place}
	dev := m.device(c, place)
	dev.Near = near
	m.sized(w, c, dev)
	d.starts = w.Demand.Trace.Isolated.Starts()
	d.Displacement = w.values[totalDisplacement]
	if d.Verdict, d.Score = m.penalty(&w.values); d.Score > most {
		return d
	}
	dev.Lower = dev.Upper // the movement that counts is that of the sizing level
	dev.Near = demand.Starts{Upper: d.starts.Upper}
	dev.Near.Upper.Displacement *= w.levelShare
	m.level(w, c, c.Design, dev, &w.trial)
	if e := &w.Demand.Trace.Isolated.Equilibrium; d.starts.Upper.Displacement > 0 && e.Displacement > 0 {
		w.levelShare = e.Displacement / d.starts.Upper.Displacement
	}
	m.used(w, &w.trial)
	asIs := &c.AsIs[c.Design]
	w.values.compare(asIs, &w.trial)
	d.DriftRatio, d.PeakAccel = w.trial.DriftRatio, w.trial.PeakAccel
	d.BaseShear, d.FrameUse = w.trial.BaseShear, w.trial.Ductility
	d.Verdict, d.Score = m.penalty(&w.values)
	d.Score += mix(m.opt.DriftShare, asIs, &w.trial) + fromMiddle(place)
	return d
}

// Penalties in the score: for ln of the ratio by which a limit is missed, from 3 % before it, so that
// no gain of drift and acceleration outweighs a bar and few a doubt; for a yes or no, which has no
// ratio, as for a limit missed twice (judgement).
const (
	barPenalty   = 30.0
	doubtPenalty = 1.0
	penaltyFrom  = 0.97
)

// fromMiddle returns a small part of the score by which, of designs nearly alike, that nearer the middle
// of the ranges is taken, so that neighbours choose alike (judgement: at most 0.05).
func fromMiddle(place [2]float64) float64 {
	x, y := place[0]-0.5, place[1]-0.5
	return 0.1 * (x*x + y*y)
}

// penalty returns the gravest verdict of the rules on the design in v, and their penalty.
func (m *isolating) penalty(v *Values) (worst Verdict, sum float64) {
	for _, r := range m.rules[m.facts:] {
		f := r.Apply(v)
		worst = max(worst, f.Verdict)
		if r.When != 0 && v[r.When] != 1 {
			continue
		}
		scale := 1.0
		if r.Against != 0 {
			scale = v[r.Against]
		}
		for _, limit := range [...]struct{ at, weight float64 }{{r.Note, doubtPenalty},
			{r.Doubt, doubtPenalty}, {r.Bar, barPenalty}} {
			sum += limit.weight * missed(r, f.Value, limit.at*scale)
		}
	}
	return worst, sum
}

// missed returns ln of the ratio by which value misses a limit of r, from a little before it; 0 where
// it does not, or where one of them is not known or the rule does not apply.
func missed(r *Rule, value, limit float64) float64 {
	ratio := value / limit
	switch r.Compare {
	case Below:
		ratio = limit / value
	case Is:
		ratio = 1
		if value == limit {
			ratio = 2
		}
		return math.Log(ratio)
	}
	if !(ratio > penaltyFrom) {
		return 0
	}
	return math.Log(min(ratio, 1e6) / penaltyFrom)
}

// within returns the value at a place from 0 to 1 of a range.
func within(r [2]float64, place float64) float64 { return r[0] + (r[1]-r[0])*place }

// device returns the nominal isolation system at a place of the ranges.
func (m *isolating) device(c *Case, place [2]float64) demand.Isolation {
	weight := c.Weight()
	slab := m.opt.SlabMass * weight / hazard.Gravity / float64(c.Stick.N())
	mass := weight/hazard.Gravity + slab
	omega := 2 * math.Pi / within(m.opt.Period, place[1])
	d := demand.Isolation{
		Kind:     m.kind,
		Qd:       within(m.opt.YieldRatio, place[0]) * mass * hazard.Gravity,
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
