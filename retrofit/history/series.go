package history

// A Series is the motion of one run at the samples of its record, for plots and
// comparisons. It keeps its storage.
type Series struct {
	Storey int // whose hysteresis is kept, 0 the lowest

	Time      []float64 // s
	Ground    []float64 // m/s2
	Roof      []float64 // m, relative to the base of the frame
	RoofAccel []float64 // m/s2, absolute
	Drift     []float64 // m, of Storey
	Shear     []float64 // N, of its springs and devices
	Isolator  []float64 // m, across the isolators; empty without
	Through   []float64 // N, through the isolators; empty without
}

func (s *Series) start(w *Work, m *Model) {
	*s = Series{
		Storey: min(max(s.Storey, 0), m.floors-1), Time: s.Time[:0], Ground: s.Ground[:0], Roof: s.Roof[:0], RoofAccel: s.RoofAccel[:0],
		Drift: s.Drift[:0], Shear: s.Shear[:0], Isolator: s.Isolator[:0], Through: s.Through[:0],
	}
	s.add(w, m, 0)
}

// add appends the state of w. The accelerations of the explicit integrator are those
// of the step before, as are its forces.
func (s *Series) add(w *Work, m *Model, time float64) {
	roof, c := &w.cells[m.first+m.floors-1], &w.cells[m.first+s.Storey]
	u := roof.u
	if m.first == 1 {
		u -= w.cells[0].u
		s.Isolator = append(s.Isolator, w.cells[0].main.x)
		s.Through = append(s.Through, w.cells[0].main.f)
	}
	s.Time, s.Ground, s.Roof = append(s.Time, time), append(s.Ground, w.ground), append(s.Roof, u)
	s.RoofAccel = append(s.RoofAccel, roof.a+w.ground)
	s.Drift, s.Shear = append(s.Drift, c.main.x), append(s.Shear, c.main.f+c.device.f)
}
