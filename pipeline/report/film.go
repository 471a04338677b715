package report

import (
	"bytes"
	"encoding/json"
	"math"
	"slices"

	"plinth/hazard"
	"plinth/pipeline/output"
)

// A film is the moving picture of one building under one record, or under a part of the record if
// the page has no room for more. It holds positions for each frame, as whole numbers of a stated
// unit.
type film struct {
	ID     string      `json:"id"`
	Title  string      `json:"title"`
	Record string      `json:"record"`
	Rate   float64     `json:"rate"`   // frames a second
	Start  float64     `json:"start"`  // s into the record
	Length float64     `json:"length"` // s, of the record
	Frames int         `json:"frames"` // of the film
	Still  int         `json:"still"`  // frame of the largest drift as it stands
	Factor float64     `json:"factor"` // movements are drawn this many times as large
	Levels []float64   `json:"levels"` // m, of every floor, the ground first
	Unit   float64     `json:"unit"`   // m, of Move
	Object filmObject  `json:"object"`
	Stands []filmStand `json:"stands"`
}

// A filmObject is an object that stands free on a floor.
type filmObject struct {
	Floor  int     `json:"floor"` // 0 the ground floor
	Width  float64 `json:"width"` // m
	Height float64 `json:"height"`
	First  string  `json:"first"` // slides or rocks
	At     float64 `json:"at"`    // g, from which it does
}

// A filmStand is the building with one measure. Its lists have one value for each frame, and fewer
// if the building comes down.
type filmStand struct {
	Name      string  `json:"name"`
	Kind      string  `json:"kind"`      // of the devices
	Isolated  bool    `json:"isolated"`  // Move begins with the slab above the isolators
	Collapsed bool    `json:"collapsed"` // it comes down at its last frame
	Move      [][]int `json:"move"`      // against the ground, lowest first
	Mass      []int   `json:"mass,omitempty"`
	// In 0.001 %: the largest drift of the storeys since the frame before. For the first frame it is
	// the largest since the record began.
	Drift []int `json:"drift"`
	Accel []int `json:"accel"` // 0.001 g, the same for the accelerations of the floors
	Slide []int `json:"slide"` // mm, of the object
	Tilt  []int `json:"tilt"`  // mrad
}

// Bounds of films (judgement).
const (
	filmRate  = 50             // frames a second, at the most
	filmSlow  = filmRate / 4.0 // the same, where room is short
	filmSteps = 2000           // of the largest movement
	filmBytes = 2 << 20        // of the page, for all films
	filmLeast = 5              // s, the shortest part of a record worth showing: a few swings
)

// film returns the moving picture of s for the given number of seconds around the largest drift as
// the building stands. It takes the samples of the record that are nearest to rate frames a second.
func (s *Subject) film(rate, seconds float64) film {
	first := s.Stands[0].Series
	step := first.Time[len(first.Time)-1] / float64(len(first.Time)-1)
	every := max(1, int(math.Round(1/(rate*step))))
	o := s.Object
	f := film{
		ID: shown(s.ID), Title: s.title(), Record: shown(s.Record), Rate: 1 / (step * float64(every)),
		Levels: s.levels(),
		Object: filmObject{Floor: s.shakenFloor(), Width: o.BaseOverHeight * o.Height, Height: o.Height},
	}
	move, at := o.First()
	f.Object.First, f.Object.At = move.String(), known(at/hazard.Gravity)
	most := s.mostMove()
	f.Unit, f.Factor = output.Round(max(most, 1e-6)/filmSteps, 6), factor(f.Levels[len(f.Levels)-1], most)
	samples := s.samples()
	f.Length = step * float64(samples-1)
	from, to := s.part(samples, int(min(seconds/step, float64(samples))))
	f.Start = step * float64(from)
	for i := range s.Stands {
		st := s.stand(i, every, from, to, &f)
		f.Frames = max(f.Frames, len(st.Drift))
		f.Stands = append(f.Stands, st)
	}
	now := f.Stands[0].Drift
	f.Still = slices.Index(now, slices.Max(now))
	return f
}

// samples returns the number of samples that every stand has that does not come down.
func (s *Subject) samples() int {
	least, most := math.MaxInt, 0
	for i := range s.Stands {
		n := len(s.Stands[i].Series.Time)
		most = max(most, n)
		if !s.Stands[i].Collapsed() {
			least = min(least, n)
		}
	}
	return min(least, most)
}

// part returns want samples around the largest drift as the building stands: the first, and the one
// after the last. samples is the number there are.
func (s *Subject) part(samples, want int) (from, to int) {
	drift := make([]float64, samples)
	for k, t := range s.Stands[0].Series.Floors() {
		raise(drift[:min(samples, len(t.Drift))], t.Drift, s.Height[k])
	}
	from = max(0, min(slices.Index(drift, slices.Max(drift))-want/2, samples-want))
	return from, min(samples, from+want)
}

// mostMove returns the largest movement of a floor against the ground in m.
func (s *Subject) mostMove() float64 {
	most := 0.0
	for i := range s.Stands {
		for _, t := range s.Stands[i].traces() {
			for _, u := range t {
				most = max(most, math.Abs(u))
			}
		}
	}
	return most
}

// traces returns the movements of slab, floors and roof against the ground.
func (st *Stand) traces() [][]float64 {
	var out [][]float64
	if slab := st.Series.Isolators(); slab != nil {
		out = append(out, slab.Move)
	}
	for _, t := range st.Series.Floors() {
		out = append(out, t.Move)
	}
	return out
}

// largestDrawn is the largest movement drawn, over the height of the building.
const largestDrawn = 0.25

// factor returns the enlargement at which movements are drawn: 1, 2 or 5 times a power of ten.
func factor(height, most float64) float64 {
	want := largestDrawn * height / max(most, 1e-9)
	if want < 1 {
		return 1
	}
	ten := math.Pow(10, math.Floor(math.Log10(want)))
	for _, k := range [...]float64{5, 2} {
		if k*ten <= want {
			return k * ten
		}
	}
	return ten
}

// stand returns stand i as frames. They are the samples from from to before to, of which each
// frame takes the next every. It returns the last frame alone if the building came down before.
func (s *Subject) stand(i, every, from, to int, f *film) filmStand {
	st := &s.Stands[i]
	samples := min(to, len(st.Series.Time))
	from = min(from, samples-1)
	out := filmStand{Name: st.name(), Kind: st.Check.Kind.String(), Isolated: st.Series.Isolators() != nil,
		Collapsed: st.Collapsed()}
	frames := func(v []float64, unit float64) []int {
		var list []int
		for j := from; j < samples; j += every {
			list = append(list, int(math.Round(v[j]/unit)))
		}
		return list
	}
	for _, t := range st.traces() {
		out.Move = append(out.Move, frames(t, f.Unit))
	}
	if t := st.Series.TunedMass(); t != nil {
		out.Mass = frames(t.Move, f.Unit)
	}
	drift, accel := make([]float64, samples), make([]float64, samples)
	for k, t := range st.Series.Floors() {
		raise(drift, t.Drift, s.Height[k])
		raise(accel, t.Accel, hazard.Gravity)
	}
	raise(accel, st.floorAccel(0), hazard.Gravity)
	out.Drift, out.Accel = frames(since(drift, from, every), 1e-5), frames(since(accel, from, every), 1e-3)
	slide, tilt := make([]float64, samples), make([]float64, samples)
	step := st.Series.Time[1]
	for j, p := range s.Object.Ride(st.floorAccel(f.Object.Floor)[:samples], step) {
		slide[j], tilt[j] = p.Slide, p.Tilt
	}
	out.Slide, out.Tilt = frames(slide, 1e-3), frames(tilt, 1e-3)
	return out
}

// raise raises the values of v to the sizes of those of t in a unit.
func raise(v, t []float64, unit float64) {
	for i := range v {
		v[i] = max(v[i], math.Abs(t[i])/unit)
	}
}

// since returns for each frame the largest value of its sample and of the samples since the frame
// before. For the first frame it takes all samples before it.
func since(v []float64, from, every int) []float64 {
	out := make([]float64, len(v))
	for i := range v {
		out[i] = slices.Max(v[max(0, i-every+1) : i+1])
	}
	out[from] = slices.Max(v[:from+1])
	return out
}

// films returns the data of the films for the script of the page. The package encoding/json escapes
// <, > and &, so that text of an owner cannot end the element that holds it.
func films(portraits []*Portrait) []byte {
	var all [][]byte
	for _, p := range portraits {
		if p.film != nil {
			all = append(all, p.film)
		}
	}
	return slices.Concat([]byte(`{"films":[`), bytes.Join(all, []byte(",\n")), []byte("]}"))
}

// reel returns the data of the film of s in at most the given number of bytes. To fit, it takes
// fewer frames a second, and then a part of the record. It returns nil if nothing fits.
func (s *Subject) reel(most int) ([]byte, error) {
	rate, seconds := float64(filmRate), math.Inf(1)
	for {
		f := s.film(rate, seconds)
		b, err := json.Marshal(f)
		if err != nil || len(b) <= most {
			return b, err
		}
		if rate > filmSlow {
			rate /= 2
			continue
		}
		seconds = 0.95 * float64(f.Frames) / f.Rate * float64(most) / float64(len(b))
		if seconds < filmLeast {
			return nil, nil
		}
	}
}
