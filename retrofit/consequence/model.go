package consequence

import (
	"errors"
	"math"
)

// maxSteps is the most steps of a component in the tables.
const maxSteps = 6

// Model holds the tables prepared for evaluation. It never changes once made and serves all
// goroutines.
type Model struct {
	options              Options
	drift, infill, accel steps
	contents             [3]steps
}

// New returns the Model of o for buildings as they stand and with the measures called slugs, or
// an error for invalid tables.
func New(o Options, slugs ...string) (*Model, error) {
	if err := errors.Join(o.check(), o.cover(slugs)); err != nil {
		return nil, err
	}
	m := &Model{options: o, drift: newSteps(o.DriftFitOut), infill: newSteps(o.Infill),
		accel: newSteps(o.AccelFitOut)}
	for i, c := range o.Contents {
		m.contents[i] = newSteps(c)
	}
	return m, nil
}

// steps is the table of one component as fragilities: first of the component alone, then with
// the dispersion of demand added.
type steps struct {
	n    int
	step [maxSteps]fragility
	beta [maxSteps]float64
}

func newSteps(table []Step) steps {
	s := steps{n: len(table)}
	for i, t := range table {
		s.step[i] = newFragility(math.Log(t.Median), t.Dispersion, t.Loss)
		s.beta[i] = t.Dispersion
	}
	return s
}

// widen sets s to the steps of c with the dispersion of demand added.
func (s *steps) widen(c *steps, demand float64) {
	s.n = c.n
	for i := range c.n {
		s.step[i] = newFragility(c.step[i].lnMedian, math.Sqrt(c.beta[i]*c.beta[i]+demand*demand),
			c.step[i].weight)
	}
}

// ratio returns the mean loss over the value of a component at the logarithm of demand.
//
//	sum of loss_s x P(step s is exceeded)
func (s *steps) ratio(ln float64) float64 {
	var r float64
	for i := range s.step[:s.n] {
		r += s.step[i].weight * s.step[i].at(ln)
	}
	return r
}

// lnGroups are Groups with logarithms of demand.
type lnGroups struct{ high, low, highShare float64 }

func (g *Groups) ln() lnGroups {
	l := lnGroups{high: lnDemand(g.High), highShare: g.HighShare}
	if g.HighShare < 1 {
		l.low = lnDemand(g.Low)
	}
	return l
}

// shift multiplies the demands by a factor, given as its logarithm.
func (g *lnGroups) shift(ln float64) {
	g.high += ln
	g.low += ln
}

// over returns the mean loss ratio over both groups.
func (s *steps) over(g *lnGroups) float64 {
	r := g.highShare * s.ratio(g.high)
	if g.highShare < 1 {
		r += (1 - g.highShare) * s.ratio(g.low)
	}
	return r
}

// building is an Exposure combined with the tables: every fragility with its total dispersion,
// on the stack of one call.
type building struct {
	limit                          [NumLimitStates]fragility
	collapse, irreparable          fragility
	isolated                       bool
	isolator                       fragility
	lnContact                      float64
	drift, infill, accel, contents steps
	factor                         float64 // on casualty rates of a building that stands
	people                         float64 // mean number inside
}

func (m *Model) prepare(e *Exposure, b *building) {
	o := &m.options
	for i, d := range e.Limits {
		b.limit[i] = newFragility(lnDemand(d), e.Spread.Drift, 1)
	}
	b.collapse = newFragility(lnDemand(e.Collapse), e.Spread.Drift, 1)
	b.irreparable = newFragility(lnDemand(e.Irreparable), Dispersion(o.ResidualDispersion, e.Spread.FitOut), 1)
	b.isolated = e.Displacement > 0
	if b.isolated {
		b.isolator = newFragility(lnDemand(e.Displacement), e.Spread.Displacement, 1)
		b.lnContact = lnDemand(o.ContactFactor)
	}
	b.drift.widen(&m.drift, e.Spread.FitOut)
	if e.Infilled {
		b.infill.widen(&m.infill, e.Spread.FitOut)
	}
	b.accel.widen(&m.accel, e.Spread.Accel)
	b.contents.widen(&m.contents[e.Contents], e.Spread.Accel)
	b.factor = 1
	if e.Light {
		b.factor = o.LightCasualtyFactor
	}
	b.people = m.MeanOccupants(e.OccupantsDay, e.OccupantsNight)
}
