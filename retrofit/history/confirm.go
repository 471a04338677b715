package history

import (
	"math"

	"plinth/archetypes"
	"plinth/hazard"
	"plinth/hazard/motion"
	"plinth/retrofit/demand"
)

// Check holds the results of both methods for one device of one building. It is filled in place
// and keeps its storage.
type Check struct {
	Kind     Kind
	Spectral demand.Response
	History  Statistics
	Compared [Quantities]Comparison
	Err      error // reason for a missing result: ErrDevice
}

// Comparison is one quantity by both methods.
type Comparison struct {
	Spectral, Median float64
	Ratio            float64 // Spectral over Median; NaN where one of them is not a number
	Band             float64 // stated ln standard deviation; 0 if none
	Error            float64 // standard error of ln Median
	Outside          bool    // |ln Ratio| exceeds twice the two combined
}

// Stated returns the band, NaN if none is stated.
func (c *Comparison) Stated() float64 {
	if c.Band == 0 {
		return math.NaN()
	}
	return c.Band
}

// outsideAt is the number of standard deviations, of band and standard error combined, by which
// a spectral value may differ from the median before it is flagged. About one in twenty does by
// chance (judgement).
const outsideAt = 2

// Confirmer is the scratch space of one goroutine for Confirm. The zero value is ready.
type Confirmer struct {
	History Work

	spectral demand.Work
	asIs     demand.Response
	model    *Model // of the last check
}

// Confirm compares spectral demand with time histories for a building with each of its devices.
// It fills checks, one for each device, growing it if needed. Isolators have nominal properties
// in both methods, and both have the shaking of the records: the spectral method reads their mean
// spectrum, so that the two differ as methods. The band is that of the strength ratio of the building
// as it stands.
//
// Storey drift and floor acceleration are those of the storey and the floor with the largest
// median, since the spectral method gives medians storey by storey. The median of the largest
// value in each run would be larger.
//
// The result depends on the arguments alone.
func (c *Confirmer) Confirm(st *archetypes.Stick, s *motion.Suite, devices []Device, o Options,
	checks []Check) []Check {
	for cap(checks) < len(devices) {
		checks = append(checks[:cap(checks)], Check{})
	}
	checks = checks[:len(devices)]
	c.spectral.AsIs(st, s.Mean, &c.asIs)
	for i, d := range devices {
		c.check(st, s, d, o, &checks[i])
	}
	return checks
}

// check fills out for one device.
func (c *Confirmer) check(st *archetypes.Stick, s *motion.Suite, d Device, o Options, out *Check) {
	out.Compared = [Quantities]Comparison{}
	m, err := New(st, d, o)
	if out.Err = err; err != nil {
		out.Spectral.Status, out.History = demand.NotApplicable, Statistics{}
		return
	}
	out.Kind, c.model = m.kind, m
	Spectral(&c.spectral, st, s.Mean, d, &c.asIs, &out.Spectral)
	c.History.Suite(m, s, &out.History)
	for q := range Quantities {
		out.Compared[q] = compare(&out.Spectral, &out.History, out.Kind, q, c.asIs.Ductility)
	}
}

// Half fills out with the statistics of every second record, from record start, 0 or 1, for the
// last device of Confirm: see Work.Half. That device must have no Err.
func (c *Confirmer) Half(start int, out *Statistics) { c.History.Half(c.model, start, out) }

// pair returns a quantity by both methods.
func pair(r *demand.Response, h *Statistics, q Quantity) (spectral float64, timed *Spread) {
	switch q {
	case RoofDrift:
		return r.Roof, &h.Roof
	case StoreyDrift:
		return r.DriftRatio, &h.WorstDrift
	case FloorAccel:
		return r.PeakAccel, &h.WorstAccel
	case BaseShear:
		return r.BaseShear, &h.BaseShear
	}
	return r.Displacement, &h.Displacement
}

// Of returns the median of a quantity; for drift and acceleration, that of the storey or floor
// where it is largest.
func (h *Statistics) Of(q Quantity) float64 {
	_, s := pair(&demand.Response{}, h, q)
	return s.Median
}

// Ratio returns a spectral value over the median of the time histories; NaN if one of them is
// not a positive number, 0 for a building that collapses.
func Ratio(r *demand.Response, h *Statistics, q Quantity) float64 {
	s, t := pair(r, h, q)
	if s > 0 && t.Median > 0 {
		return s / t.Median
	}
	return math.NaN()
}

// compare fills a comparison from a spectral value and a spread.
func compare(r *demand.Response, t *Statistics, k Kind, q Quantity, strengthRatio float64) Comparison {
	spectral, h := pair(r, t, q)
	out := Comparison{Spectral: spectral, Median: h.Median, Ratio: Ratio(r, t, q), Error: h.Error}
	out.Band, _ = Band(k, q, strengthRatio)
	if out.Band > 0 && !math.IsNaN(out.Ratio) {
		out.Outside = math.Abs(math.Log(out.Ratio)) > outsideAt*math.Hypot(out.Band, h.Error)
	}
	return out
}

// Spectral fills out with the spectral demand on st with a device under sp, by the device's
// method in package demand. asIs is the demand as it stands. Isolators have nominal properties.
func Spectral(w *demand.Work, st *archetypes.Stick, sp *hazard.Spectrum, d Device, asIs,
	out *demand.Response) {
	if d == nil {
		w.AsIs(st, sp, out)
		return
	}
	d.Demand(w, st, sp, asIs, out)
}
