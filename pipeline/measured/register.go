package measured

import (
	"io/fs"
	"math"

	"plinth/hazard/motion"
)

// isolated reports whether the structure stands on isolators, so that what was measured
// is to be compared with the measure.
func (s *structure) isolated() bool { return s.device == "lead-rubber" || s.device == "slider" }

// register returns the row an owner would write of a structure: what is known of it.
func register(s *structure) []cell {
	var out []cell
	for _, c := range []struct{ column, from string }{
		{"id", "id"}, {"system", "system"}, {"year", "year"}, {"storeys", "storeys"}, {"height", "height_m"},
		{"width", "width_m"}, {"length", "length_m"}, {"floor_area", "floor_area_m2"},
		{"use", "use"}, {"profile", "profile"}, {"site_class", "soil_class"},
	} {
		if v := s.text(c.from); v != "" {
			out = append(out, cell{c.column, v})
		}
	}
	if !s.planKnown() {
		out = append(out, cell{"floor_area", number(float64(unknownFloor * s.storeys))})
	}
	if s.isolated() {
		out = append(out, cell{"isolation_plane", "yes"})
	}
	return out
}

// planKnown reports whether the floor area follows from what was known.
func (s *structure) planKnown() bool {
	return s.text("floor_area_m2") != "" || s.text("width_m") != "" && s.text("length_m") != ""
}

// unknownFloor is the floor in m2 of a building whose plan is not known: that of the 20 m
// square which the period of the codes of 1961 to 1987 takes for it. Nothing else that is
// compared depends on it.
const unknownFloor = 400

// silent is the foot motion in g of a case that is asked for its period alone.
const silent = 0.1

// foot returns the motion at the foot of a structure: that of its record, or the generic
// shape at its peak.
func foot(fsys fs.FS, s *structure) (spectrum, *motion.Record, error) {
	if s.record != "" {
		r, err := readRecord(fsys, s.record)
		if err != nil {
			return spectrum{}, nil, err
		}
		return of(r), r, nil
	}
	if math.IsNaN(s.pga) {
		return firm(silent), nil, nil
	}
	return firm(s.pga), nil, nil
}
