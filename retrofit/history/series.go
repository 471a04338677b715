package history

// Series is the motion of one run at the samples of its record, for pictures and comparisons.
// It ends where the run collapses. It keeps its storage.
type Series struct {
	Time   []float64 // s
	Ground []float64 // m/s2
	Roof   []float64 // m, relative to the base of the frame

	links         []Trace
	first, floors int
}

// Trace is the motion of one degree of freedom and of the link below it.
type Trace struct {
	Move   []float64 // m, relative to the ground
	Accel  []float64 // m/s2, absolute
	Drift  []float64 // m, across the link
	Spring []float64 // N, of the storey, of the isolators or of the spring of a tuned mass
	Device []float64 // N, of devices and dampers in parallel with Spring
}

// Floors returns the floors with the storeys below them, lowest first.
func (s *Series) Floors() []Trace { return s.links[s.first : s.first+s.floors] }

// Isolators returns the slab and the isolators below it, nil if there are none.
func (s *Series) Isolators() *Trace {
	if s.first == 0 {
		return nil
	}
	return &s.links[0]
}

// TunedMass returns the mass above the roof, nil if there is none.
func (s *Series) TunedMass() *Trace {
	if n := s.first + s.floors; n < len(s.links) {
		return &s.links[n]
	}
	return nil
}

// start empties s for a run of m and adds the state of rest.
func (s *Series) start(w *Work, m *Model) {
	s.Time, s.Ground, s.Roof = s.Time[:0], s.Ground[:0], s.Roof[:0]
	s.first, s.floors = m.first, m.floors
	for cap(s.links) < len(m.links) {
		s.links = append(s.links[:cap(s.links)], Trace{})
	}
	s.links = s.links[:len(m.links)]
	for i := range s.links {
		t := &s.links[i]
		t.Move, t.Accel, t.Drift, t.Spring, t.Device = t.Move[:0], t.Accel[:0], t.Drift[:0], t.Spring[:0],
			t.Device[:0]
	}
	s.add(w, m, 0, w.ground)
}

// add appends the state of w; ground is the ground acceleration in m/s2 to which those of w are
// relative. With the explicit integrator, drifts, accelerations and forces are those at the
// start of the last step, displacements those at its end.
func (s *Series) add(w *Work, m *Model, time, ground float64) {
	s.Time, s.Ground = append(s.Time, time), append(s.Ground, w.ground)
	for i := range w.cells {
		c, t := &w.cells[i], &s.links[i]
		t.Move, t.Accel = append(t.Move, c.u), append(t.Accel, c.a+ground)
		t.Drift = append(t.Drift, c.main.x)
		t.Spring, t.Device = append(t.Spring, c.main.f), append(t.Device, c.device.f+c.fluid)
	}
	roof := w.cells[m.first+m.floors-1].u
	if m.first == 1 {
		roof -= w.cells[0].u
	}
	s.Roof = append(s.Roof, roof)
}
