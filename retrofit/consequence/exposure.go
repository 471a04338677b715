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

	Limits   [NumLimitStates]float64 // median drift ratio at each limit state, ascending
	Collapse float64                 // median drift ratio at collapse, not below the last limit
	// median largest drift ratio that leaves a building too far out of plumb to repair, see
	// Model.Irreparable
	Irreparable float64
	Infilled    bool    // masonry infill in place of part of the drift-sensitive fit-out
	Volume      float64 // share of the building's volume lost in a collapse, 0 to 1
	Fatality    float64 // share of the people in the lost volume who die, 0 to 1
	Frontage    float64 // m of street beside walls that fall outward; 0 for none

	// m, median capacity of isolators or moat, above the design value; 0 without isolators
	Displacement float64
	Spread       Spread
}

// Spread is the dispersion (ln sd) of each kind of demand against its limit.
type Spread struct {
	Drift        float64 // of the limit states and of collapse: the whole budget
	FitOut       float64 // of drift alone; each fit-out step adds its own
	Accel        float64 // of floor acceleration alone
	Displacement float64 // of isolators, capacity included
}

// Budget is what is not known of a building, in parts that are independent and counted once
// (ln sd). What is sampled elsewhere is left at 0 here.
type Budget struct {
	Capacity  float64 // of the drift at a limit state
	Knowledge float64 // of drift, from period, strength, ground and assumed fields
	Known     bool    // strength or period by the owner, not by the class
	// growth of ln drift with ln shaking: 1 for equal displacement, above 1 for short periods
	Steepness float64
}

// Spread returns the dispersions of a measure, from its slug in the table of bands and the
// budget of the building.
//
//	method       sqrt(band^2 + damping^2)
//	fit-out      sqrt((steepness x record)^2 + method^2 + knowledge^2)
//	drift        sqrt(capacity^2 + (steepness x class)^2 + fit-out^2)
//	acceleration sqrt(record^2 + band^2 + knowledge^2)
//	displacement sqrt(isolator^2 + isolator record^2 + band^2)
//
// Dispersions of records and of the class, what a name does not say of detailing, irregularity
// and workmanship, are published for spectral acceleration, and drift grows faster
// than that where the period is short; a frame above isolators, which stays elastic, has
// steepness 1. ok is false if the table does not have the measure.
func (m *Model) Spread(measure string, b Budget) (s Spread, ok bool) {
	o := &m.options
	band, ok := o.Bands[measure]
	if !ok {
		return Spread{}, false
	}
	if band.Displacement > 0 {
		b.Steepness = 1
	}
	class := o.ClassDispersion
	if b.Known {
		class = o.KnownDispersion
	}
	fitOut := Dispersion(b.Steepness*o.RecordDispersion, band.Drift, o.DampingDispersion, b.Knowledge)
	return Spread{
		Drift:        Dispersion(b.Capacity, b.Steepness*class, fitOut),
		FitOut:       fitOut,
		Accel:        Dispersion(o.RecordDispersion, band.Accel, b.Knowledge),
		Displacement: Dispersion(o.IsolatorDispersion, o.IsolatorRecordDispersion, band.Displacement),
	}, true
}

// Irreparable returns the median largest drift ratio that leaves the residual drift beyond which
// a building is pulled down, for a storey that yields at the drift ratio yield.
//
//	residual(d) = 0             d <= yield
//	              0.3 (d - yield)     yield < d < 4 yield
//	              d - 3 yield         d >= 4 yield
//
// FEMA P-58-1 section 5.4, from memory. It is solved for residual = residual_drift of the
// constants; in the step at 4 yield the drift is 4 yield. yield is 0 or more; NaN gives NaN.
func (m *Model) Irreparable(yield float64) float64 {
	r := m.options.ResidualDrift
	if d := yield + r/0.3; d < 4*yield {
		return d
	}
	return max(4*yield, r+3*yield)
}

// Split returns the division of a building's value for a use, and whether the table has the
// use; if not, the split is that of "other".
func (m *Model) Split(use string) (s Split, ok bool) {
	if s, ok = m.options.Splits[use]; !ok {
		s = m.options.Splits["other"]
	}
	return s, ok
}

// A Worth says what a use makes a building worth, over what the plan says of all: its value a floor
// area, and a year of its use over its value.
type Worth struct{ Value, Downtime float64 }

// Worth returns that of a use; for uses that have no row that of other uses.
func (m *Model) Worth(use string) Worth {
	w, ok := m.options.Worths[use]
	if !ok {
		w = m.options.Worths["other"]
	}
	return w
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

// Crowded returns the share of the hours of a week in which at least so many people are inside.
func (m *Model) Crowded(day, night, people float64) (share float64) {
	for i, h := range m.options.Hours {
		if m.Occupants(i, day, night) >= people {
			share += h.Share
		}
	}
	return share
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
	case !(e.Collapse >= limits[2]):
		return fmt.Errorf("drift ratio at collapse %g must not be below that of collapse prevention, %g",
			e.Collapse, limits[2])
	case !(e.Irreparable > 0):
		return fmt.Errorf("irreparable drift ratio %g must be positive", e.Irreparable)
	case !(e.Volume >= 0 && e.Volume <= 1) || !(e.Fatality >= 0 && e.Fatality <= 1):
		return fmt.Errorf("volume lost %g and fatality %g in a collapse must lie from 0 to 1", e.Volume,
			e.Fatality)
	case !(e.Frontage >= 0):
		return fmt.Errorf("frontage %g m must be 0 (none) or more", e.Frontage)
	case !(e.Displacement >= 0):
		return fmt.Errorf("isolator displacement %g m must be 0 (none) or more", e.Displacement)
	case !(e.Spread.Drift >= 0 && e.Spread.FitOut >= 0 && e.Spread.Accel >= 0 && e.Spread.Displacement >= 0):
		return fmt.Errorf("dispersions %+v must be 0 or more", e.Spread)
	}
	return nil
}
