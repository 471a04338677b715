package consequence

import "math"

// Loss is the expected loss of one level of shaking, or of one year; then money is in currency
// a year, persons are persons a year and probabilities are annual frequencies.
type Loss struct {
	Structure, DriftFitOut, AccelFitOut, Contents float64 // currency, repair; Structure with demolition
	Downtime                                      float64 // currency, Days x the value of a day
	Total                                         float64 // currency, sum of the five
	Days                                          float64 // closed
	Dead, Serious, Minor                          float64 // persons, of the mean number inside over the week
	Street                                        float64 // persons outside killed by falling walls

	DeathRisk  float64                 // probability that a person who is always inside dies
	LimitState [NumLimitStates]float64 // probability of exceedance
	Replaced   float64                 // probability that the building is pulled down or collapses
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
	a.Street += weight * b.Street
	a.DeathRisk += weight * b.DeathRisk
	for i := range a.LimitState {
		a.LimitState[i] += weight * b.LimitState[i]
	}
	a.Replaced += weight * b.Replaced
	a.Collapse += weight * b.Collapse
}

// At fills out with the expected loss of one level of shaking.
func (m *Model) At(e *Exposure, l *Level, out *Loss) {
	var b building
	m.prepare(e, &b)
	m.at(e, &b, l, out)
}

// at computes the mean loss at one level: the states, then what each costs.
func (m *Model) at(e *Exposure, b *building, l *Level, out *Loss) {
	contact := b.states(l, out)
	drift := m.components(e, b, l, contact, out)
	m.repair(e, out)
	m.closure(e, drift, out)
	m.casualties(e, b, out)
	out.Total = out.Structure + out.DriftFitOut + out.AccelFitOut + out.Contents + out.Downtime
}

// states fills the probabilities of out and returns that of isolators having run out of travel.
// Limit states and collapse follow the largest drift and share one dispersion. Isolators that
// reach their moat jolt the building, which counts as beyond life safety and not as collapse:
//
//	P_s       = 1 - (1 - P(drift > limit_s)) (1 - P(displacement > capacity)),  s to life safety
//	P_CP      = P(drift > limit_CP);  P_collapse = P(drift > collapse)
//	P_replaced = max(P_CP, P(drift > irreparable))
//
// Where the demand found no balance the drift counts as twice that of collapse at the least.
func (b *building) states(l *Level, out *Loss) (contact float64) {
	ln := lnDemand(l.DriftRatio)
	if l.Collapsed {
		ln = max(ln, b.collapse.lnMedian+math.Ln2)
	}
	if b.isolated {
		contact = b.isolator.at(lnDemand(l.Displacement))
	}
	for i := range b.limit {
		out.LimitState[i] = b.limit[i].at(ln)
		if LimitState(i) <= LifeSafety {
			out.LimitState[i] = 1 - (1-out.LimitState[i])*(1-contact)
		}
	}
	out.Collapse = b.collapse.at(ln)
	out.Replaced = max(out.LimitState[CollapsePrevention], b.irreparable.at(ln))
	return contact
}

// components fills the loss of fit-out and contents, and returns the larger loss ratio of the
// fit-out. A building that is replaced loses its fit-out, and the contents that cannot be got
// out; after contact of the isolators accelerations are contact_factor as large:
//
//	fit-out  = r + (1 - r) P_replaced
//	contents = r + (1 - r) (P_collapse + contents_buried (P_replaced - P_collapse))
//	r        = sum of loss_i P(step i is exceeded), by the demand of the component
func (m *Model) components(e *Exposure, b *building, l *Level, contact float64, out *Loss) (ratio float64) {
	o := &m.options
	storeys, floors, stands := l.Drift.ln(), l.Accel.ln(), l.Contents.ln()
	drift := b.drift.over(&storeys)
	if e.Infilled {
		drift += o.InfillShare * (b.infill.over(&storeys) - drift)
	}
	accel, contents := b.accel.over(&floors), b.contents.over(&stands)
	if contact > 0 {
		floors.shift(b.lnContact)
		stands.shift(b.lnContact)
		accel += contact * (b.accel.over(&floors) - accel)
		contents += contact * (b.contents.over(&stands) - contents)
	}
	lost := func(ratio, p float64) float64 { return ratio + (1-ratio)*p }
	buried := out.Collapse + o.ContentsBuried*(out.Replaced-out.Collapse)
	out.DriftFitOut = e.Value * e.Split.DriftFitOut * lost(drift, out.Replaced)
	out.AccelFitOut = e.Value * e.Split.AccelFitOut * lost(accel, out.Replaced)
	out.Contents = e.Value * e.Split.Contents * lost(contents, buried)
	return max(drift, accel)
}

// repair fills the loss of the structure: repaired by its state, or replaced after the old one is
// cleared away.
//
//	value x (structure share x sum of ratio_s P(state s) + demolition_share P_replaced)
func (m *Model) repair(e *Exposure, out *Loss) {
	o, p := &m.options, out.standing()
	ratio := out.Replaced
	for s := range p {
		ratio += p[s] * o.States[s].LossRatio
	}
	out.Structure = e.Value * (e.Split.Structure*ratio + o.DemolitionShare*out.Replaced)
}

// standing returns the probabilities of the states in which a building is repaired: beyond
// immediate occupancy and beyond life safety.
func (out *Loss) standing() [2]float64 {
	serious := max(out.LimitState[LifeSafety], out.Replaced)
	return [2]float64{max(out.LimitState[ImmediateOccupancy], serious) - serious, serious - out.Replaced}
}

// closure fills the days closed and their cost. ratio is the loss ratio of the fit-out, which
// closes a sound structure.
//
//	days = sum of days_s P(state s) + (1 - P_IO) fit_out_days ratio
func (m *Model) closure(e *Exposure, ratio float64, out *Loss) {
	o, p := &m.options, out.standing()
	down := out.Replaced - out.Collapse
	out.Days = p[0]*o.States[BeyondIO].Days + p[1]*o.States[BeyondLS].Days + down*o.States[BeyondCP].Days +
		out.Collapse*o.States[Collapse].Days + (1-p[0]-p[1]-out.Replaced)*o.FitOutDays*ratio
	out.Downtime = out.Days * e.DowntimeValue
}
