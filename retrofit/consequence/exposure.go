package consequence

import (
	"fmt"

	"plinth/retrofit"
)

// Exposure is the value, occupants and limits of one building, as it stands or with one
// measure.
type Exposure struct {
	Value float64 // replacement value of the building, currency; contents are extra
	Split Split

	OccupantsDay, OccupantsNight float64
	Light                        bool // light timber or light steel: casualty rates reduced

	DowntimeValue float64 // currency for a day closed
	Contents      retrofit.Contents

	Limits [NumLimitStates]float64 // median drift ratio at each limit state, ascending
	// m, median capacity of isolators or moat, above the design value; 0 without isolators
	Displacement float64
	Spread       Spread
}

// Spread is the dispersion (ln sd) of each kind of demand against its limit.
type Spread struct {
	Drift        float64 // of the limit states: capacity, record, method, damping model, knowledge
	FitOut       float64 // of drift alone; each fit-out step adds its own
	Accel        float64 // of floor acceleration alone
	Displacement float64 // of isolators, capacity included
}

// Spread returns the dispersions of a measure, from its slug in the table of bands and the
// dispersion of the knowledge of the building (period, strength).
//
//	drift        sqrt(capacity^2 + record^2 + band^2 + damping^2 + knowledge^2)
//	fit-out      sqrt(             record^2 + band^2 + damping^2 + knowledge^2)
//	acceleration sqrt(             record^2 + band^2 + knowledge^2)
//	displacement sqrt(isolator^2 + isolator record^2 + band^2)
//
// ok is false if the table does not have the measure.
func (m *Model) Spread(measure string, knowledge float64) (s Spread, ok bool) {
	o := &m.options
	b, ok := o.Bands[measure]
	if !ok {
		return Spread{}, false
	}
	fitOut := Dispersion(o.RecordDispersion, b.Drift, o.DampingDispersion, knowledge)
	return Spread{
		Drift:        Dispersion(o.CapacityDispersion, fitOut),
		FitOut:       fitOut,
		Accel:        Dispersion(o.RecordDispersion, b.Accel, knowledge),
		Displacement: Dispersion(o.IsolatorDispersion, o.IsolatorRecordDispersion, b.Displacement),
	}, true
}

// SpreadKnown returns the dispersions of a measure in a building whose period, strength and
// drift capacity are known. When those are sampled separately, this is the remaining
// dispersion, so that nothing counts twice.
//
//	drift, fit-out sqrt(record^2 + band^2 + damping^2), the rest as in Spread
func (m *Model) SpreadKnown(measure string) (s Spread, ok bool) {
	s, ok = m.Spread(measure, 0)
	s.Drift = s.FitOut
	return s, ok
}

// CapacityDispersion returns the dispersion of the drift at a limit state.
func (m *Model) CapacityDispersion() float64 { return m.options.CapacityDispersion }

// Split returns the division of a building's value for a use, and whether the table has the
// use; if not, the split is that of "other".
func (m *Model) Split(use string) (s Split, ok bool) {
	if s, ok = m.options.Splits[use]; !ok {
		s = m.options.Splits["other"]
	}
	return s, ok
}

// MeanOccupants returns the mean number of people inside over the week.
//
//	sum over parts of the week of share x (of_day x day + of_night x night)
func (m *Model) MeanOccupants(day, night float64) float64 {
	var n float64
	for _, h := range m.options.Hours {
		n += h.Share * (h.OfDay*day + h.OfNight*night)
	}
	return n
}

// Occupants returns the number of people inside in one part of the week (Day, Night or
// Transit).
func (m *Model) Occupants(period int, day, night float64) float64 {
	h := m.options.Hours[period]
	return h.OfDay*day + h.OfNight*night
}

// Check returns an error for an invalid exposure. Annual does not check.
func (e *Exposure) Check() error {
	limits := e.Limits
	switch {
	case !(e.Value >= 0):
		return fmt.Errorf("replacement value %g must be 0 or more; give a value or a value per floor area",
			e.Value)
	case !e.Split.whole():
		return fmt.Errorf("value split %+v: structure and fit-out must sum to 1", e.Split)
	case !(e.Split.Contents >= 0):
		return fmt.Errorf("contents share %g must be 0 or more", e.Split.Contents)
	case !(e.OccupantsDay >= 0) || !(e.OccupantsNight >= 0):
		return fmt.Errorf("occupants %g by day, %g by night must be 0 or more", e.OccupantsDay,
			e.OccupantsNight)
	case !(e.DowntimeValue >= 0):
		return fmt.Errorf("downtime value %g a day must be 0 or more", e.DowntimeValue)
	case !(limits[0] > 0 && limits[0] <= limits[1] && limits[1] <= limits[2]):
		return fmt.Errorf("limit drift ratios %v must be positive and not fall from immediate occupancy to "+
			"collapse prevention", limits)
	case !(e.Displacement >= 0):
		return fmt.Errorf("isolator displacement %g m must be 0 (none) or more", e.Displacement)
	case !(e.Spread.Drift >= 0 && e.Spread.FitOut >= 0 && e.Spread.Accel >= 0 && e.Spread.Displacement >= 0):
		return fmt.Errorf("dispersions %+v must be 0 or more", e.Spread)
	}
	return nil
}
