package report

import (
	"plinth/pipeline/ranking"
	"plinth/retrofit"
	"plinth/retrofit/history"
)

// A Subject is one building as the pictures of a confirmation show it: as it stands and with its
// best measures, over all records and under one of them.
type Subject struct {
	Rank     int64
	ID, Name string
	Height   []float64 // m, of each storey
	Weight   float64   // N
	Record   string    // name of the record that is shown
	Object   retrofit.FreeStanding
	Stands   []Stand // the building as it stands, then with its measures
}

// A Stand is the building of a Subject with one measure.
type Stand struct {
	Measure string // slug
	Check   *history.Check
	Series  *history.Series // response to the record that is shown
	Peaks   *history.Result
}

// Collapsed reports whether the record brings the building down.
func (s *Stand) Collapsed() bool { return s.Peaks.Status&history.Collapsed != 0 }

// title returns the name of the building.
func (s *Subject) title() string {
	if s.Name != "" {
		return shown(s.Name)
	}
	return shown(s.ID)
}

// levels returns the height in m of every floor, the ground first.
func (s *Subject) levels() []float64 {
	out := []float64{0}
	for i, h := range s.Height {
		out = append(out, out[i]+h)
	}
	return out
}

// worst returns the storey of st with the largest drift over height.
func (s *Subject) worst(st *Stand) int {
	worst := 0
	for i, d := range st.Peaks.Drift {
		if d/s.Height[i] > st.Peaks.Drift[worst]/s.Height[worst] {
			worst = i
		}
	}
	return worst
}

// name returns what is done to the building, with a capital letter.
func (st *Stand) name() string {
	if st.Measure == ranking.NoMeasure {
		return "As it stands"
	}
	return upper(measureName(st.Measure))
}

// floorAccel returns the absolute acceleration of floor i in m/s2. Floor 0 is the ground floor, or
// the slab above isolators.
func (st *Stand) floorAccel(i int) []float64 {
	if i > 0 {
		return st.Series.Floors()[i-1].Accel
	}
	if slab := st.Series.Isolators(); slab != nil {
		return slab.Accel
	}
	return st.Series.Ground
}

// shakenFloor returns the floor below the roof with the largest acceleration as the building
// stands.
func (s *Subject) shakenFloor() int {
	p := s.Stands[0].Peaks
	floor, most := 0, p.BaseAccel
	for i, a := range p.Accel[:len(p.Accel)-1] {
		if a > most {
			floor, most = i+1, a
		}
	}
	return floor
}
