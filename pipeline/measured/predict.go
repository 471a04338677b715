package measured

import (
	"fmt"
	"io/fs"
	"math"
	"slices"
	"strconv"
	"strings"

	"plinth/hazard"
	"plinth/pipeline"
	"plinth/retrofit/demand"
)

// eventLevel carries a foot motion in the hazard table, codeLevel what buildings of
// today are designed for. The years only name the levels.
const (
	eventLevel = 475
	codeLevel  = 2475
)

// A prediction is what the program says of a structure.
type prediction struct {
	height, strength, weight float64    // m, share of the weight, kPa
	period, damping          [2]float64 // s and of critical, of the first two modes; of isolators one
	response                 demand.Response
	drift                    float64 // roof over height
	barred                   string  // why the measure that was built does not fit
	timed                    *timed  // by time histories, where there is a record
}

// predict takes a structure through the program.
func predict(fsys fs.FS, s *structure) (*prediction, error) {
	j := job{region: s.text("region"), zone: s.text("zone"), measure: "strengthen", design: eventLevel,
		periods: periods, building: register(s)}
	if s.isolated() {
		j.measure = s.device
	}
	shaking, rec, err := foot(fsys, s)
	if err != nil {
		return nil, err
	}
	j.levels = []level{{eventLevel, shaking}, {codeLevel, code()}}
	run, a, err := j.assess()
	if err != nil {
		return nil, fmt.Errorf("structure %s: %w", s.id, err)
	}
	out := &prediction{}
	out.fill(s, run, a)
	if rec != nil {
		out.timed, err = history(rec, run, a)
	}
	return out, err
}

// fill reads what the assessment says at the level of the event.
func (p *prediction) fill(s *structure, run *pipeline.Run, a *pipeline.Assessment) {
	d := run.Design()
	p.height, p.strength = a.Archetype.Height, a.Archetype.StrengthRatio
	p.weight, p.response = weight(a), a.AsIs[d]
	var w demand.Work // for the modes, which a response does not keep
	var again demand.Response
	w.AsIs(&a.Stick, &a.Site.Spectra[d], &again)
	for i := range min(len(p.period), w.Trace.Count) {
		p.period[i], p.damping[i] = w.Trace.Modes[i].Period, w.Trace.Modes[i].Damping
	}
	if s.isolated() {
		o := &a.Options[0]
		if len(o.Levels) == 0 || !o.Feasible() {
			p.barred = o.Reason()
			return
		}
		p.response, p.damping = o.Levels[d], [2]float64{o.Levels[d].Damping, math.NaN()}
		p.period = [2]float64{o.Levels[d].Period, math.NaN()}
	}
	p.drift = p.response.Roof / p.height
}

// second reports whether a level of measured.csv is of the second mode.
func second(level string) bool { return strings.HasPrefix(level, "second") }

// of returns what the program says of a value, and NaN with a sentence where it says
// nothing.
func (p *prediction) of(v *value) (float64, string) {
	mode := 0
	if second(v.level) {
		mode = 1
	}
	r := &p.response
	if p.barred != "" && v.quantity != "weight_kpa" {
		return math.NaN(), "the program bars the measure: " + p.barred
	}
	switch v.quantity {
	case smallPeriod, strongPeriod:
		return p.period[mode], ""
	case "damping_pct":
		return 100 * p.damping[mode], ""
	case "roof_accel_g":
		return r.Accel[len(r.Accel)-1] / hazard.Gravity, ""
	case "floor_accel_g":
		i, ok := floor(v, len(r.Accel))
		if !ok {
			return r.PeakAccel / hazard.Gravity, ""
		}
		return r.Accel[i] / hazard.Gravity, ""
	case "storey_drift_pct":
		return 100 * r.DriftRatio, ""
	case "roof_drift_pct":
		return 100 * p.drift, ""
	case "isolator_displacement_m":
		return r.Displacement, ""
	case "weight_kpa":
		return p.weight, ""
	}
	return math.NaN(), "a quantity that the program does not give"
}

// counted is how many levels the tower of the record counts, below ground and above.
const counted = 42

// floor returns the index of the floor of a measured level: by its share of the
// counted levels.
func floor(v *value, floors int) (int, bool) {
	n, err := strconv.Atoi(v.level)
	if err != nil {
		return 0, false
	}
	return max(0, int(math.Round(float64(n)/counted*float64(floors)))-1), true
}

// weight returns the seismic weight over the floors in kPa.
func weight(a *pipeline.Assessment) float64 {
	area := a.Building.FloorArea
	if !(area > 0) {
		area = a.Building.Footprint * float64(a.Building.Storeys)
	}
	return a.Archetype.Weight / 1000 / area
}

// largest returns the largest acceleration of the floors and the roof in g.
func (p *prediction) largest() float64 {
	return slices.Max(p.response.Accel) / hazard.Gravity
}
