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
	options      Options
	drift, accel steps
	contents     [3]steps
}

// New returns the Model of o for buildings as they stand and with the measures called slugs, or
// an error for invalid tables.
func New(o Options, slugs ...string) (*Model, error) {
	if err := errors.Join(o.check(), o.cover(slugs)); err != nil {
		return nil, err
	}
	m := &Model{options: o, drift: newSteps(o.DriftFitOut), accel: newSteps(o.AccelFitOut)}
	for i, c := range o.Contents {
		m.contents[i] = newSteps(c)
	}
	return m, nil
}

// Loss is the expected loss of one level of shaking, or of one year; then money is in currency
// a year, persons are persons a year and probabilities are annual frequencies.
type Loss struct {
	Structure, DriftFitOut, AccelFitOut, Contents float64 // currency, repair
	Downtime                                      float64 // currency, Days x the value of a day
	Total                                         float64 // currency, sum of the five
	Days                                          float64 // closed
	Dead, Serious, Minor                          float64 // persons, of the mean number inside over the week

	DeathRisk  float64                 // probability that a person who is always inside dies
	LimitState [NumLimitStates]float64 // probability of exceedance
	Collapse   float64                 // probability
}

// add adds weight x b to a in every field.
func (a *Loss) add(weight float64, b *Loss) {
	a.Structure += weight * b.Structure
	a.DriftFitOut += weight * b.DriftFitOut
	a.AccelFitOut += weight * b.AccelFitOut
	a.Contents += weight * b.Contents
	a.Downtime += weight * b.Downtime
	a.Total += weight * b.Total
	a.Days += weight * b.Days
	a.Dead += weight * b.Dead
	a.Serious += weight * b.Serious
	a.Minor += weight * b.Minor
	a.DeathRisk += weight * b.DeathRisk
	for i := range a.LimitState {
		a.LimitState[i] += weight * b.LimitState[i]
	}
	a.Collapse += weight * b.Collapse
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
	limit                  [NumLimitStates]fragility
	isolated               bool
	isolator               fragility
	drift, accel, contents steps
	factor                 float64 // on casualty rates
	people                 float64 // mean number inside, times factor
}

func (m *Model) prepare(e *Exposure, b *building) {
	for i, d := range e.Limits {
		b.limit[i] = newFragility(lnDemand(d), e.Spread.Drift, 1)
	}
	b.isolated = e.Displacement > 0
	if b.isolated {
		b.isolator = newFragility(math.Log(e.Displacement), e.Spread.Displacement, 1)
	}
	b.drift.widen(&m.drift, e.Spread.FitOut)
	b.accel.widen(&m.accel, e.Spread.Accel)
	b.contents.widen(&m.contents[e.Contents], e.Spread.Accel)
	b.factor = 1
	if e.Light {
		b.factor = m.options.LightCasualtyFactor
	}
	b.people = b.factor * m.MeanOccupants(e.OccupantsDay, e.OccupantsNight)
}

// At fills out with the expected loss of one level of shaking.
func (m *Model) At(e *Exposure, l *Level, out *Loss) {
	var b building
	m.prepare(e, &b)
	m.at(e, &b, l, out)
}

// at computes the mean loss at one level.
//
// Limit states follow the largest drift. If isolators exceed their capacity the building counts
// as beyond all three, independently of drift:
//
//	P_s = 1 - (1 - P(drift > limit_s)) (1 - P(displacement > capacity))
//
// Collapse is a separate outcome, p = collapse_share x P_CP, that destroys the whole building
// and its contents. Otherwise the structure loses by its state and the other components by
// their own demand:
//
//	structure = sum_s ratio_s P(state s);  component = p + (1 - p) ratio(demand)
//	days      = sum_s days_s P(state s) + (1 - P_IO) fit_out_days max(drift ratio, acceleration ratio)
//	persons   = inside x sum_s rate_s P(state s)
func (m *Model) at(e *Exposure, b *building, l *Level, out *Loss) {
	o := &m.options
	lnDrift := lnDemand(l.DriftRatio)
	hold := 1.0 // probability that the isolators, if any, do not exceed their capacity
	if b.isolated {
		hold -= b.isolator.at(lnDemand(l.Displacement))
	}
	for i := range b.limit {
		out.LimitState[i] = 1 - (1-b.limit[i].at(lnDrift))*hold
	}
	p := out.LimitState
	collapse := o.CollapseShare * p[CollapsePrevention]
	state := [NumStates]float64{p[0] - p[1], p[1] - p[2], p[2] - collapse, collapse}
	var mean State
	for i := range state {
		s, w := &o.States[i], state[i]
		mean.LossRatio += w * s.LossRatio
		mean.Days += w * s.Days
		mean.Dead += w * s.Dead
		mean.Serious += w * s.Serious
		mean.Minor += w * s.Minor
	}
	storeys, floors := l.Drift.ln(), l.Accel.ln()
	drift, accel, contents := b.drift.over(&storeys), b.accel.over(&floors), b.contents.over(&floors)

	out.Structure = e.Value * e.Split.Structure * mean.LossRatio
	out.DriftFitOut = e.Value * e.Split.DriftFitOut * (collapse + (1-collapse)*drift)
	out.AccelFitOut = e.Value * e.Split.AccelFitOut * (collapse + (1-collapse)*accel)
	out.Contents = e.Value * e.Split.Contents * (collapse + (1-collapse)*contents)
	out.Days = mean.Days + (1-p[ImmediateOccupancy])*o.FitOutDays*max(drift, accel)
	out.Downtime = out.Days * e.DowntimeValue
	out.Total = out.Structure + out.DriftFitOut + out.AccelFitOut + out.Contents + out.Downtime
	out.Dead, out.Serious, out.Minor = b.people*mean.Dead, b.people*mean.Serious, b.people*mean.Minor
	out.DeathRisk = b.factor * mean.Dead
	out.Collapse = collapse
}
