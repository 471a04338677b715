package history

import (
	"math"
	"sort"

	"plinth/hazard/motion"
)

// Spread is the distribution of one quantity over the records of a suite.
type Spread struct {
	Median float64 // geometric mean; with collapses the counted median, where they count as infinite
	// standard deviation of ln over runs without collapse; NaN for fewer than two, or a zero
	Dispersion float64
	Error      float64 // standard error of ln Median: Dispersion/sqrt(runs)
	Largest    float64 // of the runs without collapse
}

// Statistics are the results of a suite. They are filled in place and keep their
// storage.
type Statistics struct {
	Runs      int
	Collapsed int       // runs that collapsed
	Flawed    int       // runs with another status
	Status    RunStatus // of all runs combined
	Typical   int       // run whose largest storey drift ratio is nearest the median

	Roof         Spread   // m
	DriftRatio   Spread   // largest storey drift over height, of each run
	PeakAccel    Spread   // m/s2, largest of each run
	BaseAccel    Spread   // m/s2, ground floor
	BaseShear    Spread   // N
	Displacement Spread   // m, across the isolators
	Residual     Spread   // largest residual drift over height
	Stroke       Spread   // m, of a tuned mass
	Drift        []Spread // m, of each storey
	Accel        []Spread // m/s2, of each floor

	// over height, of the storey with the largest median: the counterpart of a spectral drift
	WorstDrift Spread
	WorstAccel Spread // m/s2, of the floor (ground floor included) with the largest median

	Share     Energy  // mean share of each part in the input; Input is 1
	StepError float64 // largest of all runs
	Shortest  float64 // s, shortest step used
}

// Suite runs m through every record of s and fills out. Collapses are counted, not left out.
// The result does not depend on earlier calls of w.
func (w *Work) Suite(m *Model, s *motion.Suite, out *Statistics) {
	n := len(s.Records)
	for len(w.results) < n {
		w.results = append(w.results, Result{})
	}
	w.runs = w.results[:n]
	for i := range w.runs {
		w.Run(m, &s.Records[i], &w.runs[i])
	}
	w.summarize(m, w.runs, out)
}

// Half fills out from every second run of the last Suite, that of m, beginning with run start,
// 0 or 1: the statistics of one half of the records.
func (w *Work) Half(m *Model, start int, out *Statistics) {
	w.half = w.half[:0]
	for i := start; i < len(w.runs); i += 2 {
		w.half = append(w.half, w.runs[i])
	}
	w.summarize(m, w.half, out)
}

// summarize fills out from runs of m.
func (w *Work) summarize(m *Model, runs []Result, out *Statistics) {
	*out = Statistics{Runs: len(runs), Drift: out.Drift[:0], Accel: out.Accel[:0]}
	for i := range runs {
		r := &runs[i]
		out.Status |= r.Status
		if r.Status&Collapsed != 0 {
			out.Collapsed++
		} else if r.Status != 0 {
			out.Flawed++
		}
		out.StepError = max(out.StepError, r.StepError)
		if out.Shortest == 0 || r.Step < out.Shortest {
			out.Shortest = r.Step
		}
	}
	out.Share = shares(runs)
	spread := func(f func(*Result) float64) Spread { return w.spread(runs, f) }
	out.Roof = spread(func(r *Result) float64 { return r.Roof })
	out.DriftRatio = spread(func(r *Result) float64 { return r.DriftRatio })
	out.Typical = typical(runs, out.DriftRatio.Median)
	out.PeakAccel = spread(func(r *Result) float64 { return r.PeakAccel })
	out.BaseAccel = spread(func(r *Result) float64 { return r.BaseAccel })
	out.BaseShear = spread(func(r *Result) float64 { return r.BaseShear })
	out.Displacement = spread(func(r *Result) float64 { return r.Displacement })
	out.Residual = spread(func(r *Result) float64 { return r.ResidualRatio })
	out.Stroke = spread(func(r *Result) float64 { return r.Stroke })
	for i := range m.floors {
		out.Drift = append(out.Drift, spread(func(r *Result) float64 { return r.Drift[i] }))
		out.Accel = append(out.Accel, spread(func(r *Result) float64 { return r.Accel[i] }))
	}
	out.WorstAccel = out.BaseAccel
	for i, h := range m.height {
		if d := out.Drift[i].over(h); !(d.Median <= out.WorstDrift.Median) {
			out.WorstDrift = d
		}
		if a := out.Accel[i]; !(a.Median <= out.WorstAccel.Median) {
			out.WorstAccel = a
		}
	}
}

// over returns s divided by x.
func (s Spread) over(x float64) Spread {
	s.Median /= x
	s.Largest /= x
	return s
}

// sameDistance is the difference of two distances from the median, in ln, that counts as a tie.
// Two runs alone are always equally far but for rounding, and the choice must not depend on
// rounding.
const sameDistance = 1e-9

// typical returns the index of the run whose largest storey drift over height is nearest the
// median in ln, the first of several; the first collapse if the median is a collapse.
func typical(runs []Result, median float64) int {
	best, least := 0, math.Inf(1)
	for i := range runs {
		collapsed := runs[i].Status&Collapsed != 0
		if math.IsInf(median, 1) && collapsed {
			return i
		}
		if d := math.Abs(math.Log(runs[i].DriftRatio / median)); !collapsed && d < least-sameDistance {
			best, least = i, d
		}
	}
	return best
}

// spread returns the spread of f over the runs.
func (w *Work) spread(runs []Result, f func(*Result) float64) Spread {
	w.values = w.values[:0]
	for i := range runs {
		if runs[i].Status&Collapsed == 0 {
			w.values = append(w.values, f(&runs[i]))
		}
	}
	return spreadOf(w.values, len(runs)-len(w.values))
}

// spreadOf returns the spread of values and of a number of infinite ones. It sorts values.
func spreadOf(values []float64, endless int) Spread {
	n := len(values)
	out := Spread{Median: math.NaN(), Dispersion: math.NaN(), Error: math.NaN()}
	if n+endless == 0 {
		return out
	}
	sort.Float64s(values)
	at := func(i int) float64 {
		if i < n {
			return values[i]
		}
		return math.Inf(1)
	}
	all := n + endless
	low, high := at((all-1)/2), at(all/2)
	out.Median = (low + high) / 2
	if n > 0 {
		out.Largest = values[n-1]
	}
	if n == 0 || !(values[0] > 0) {
		return out
	}
	mean, squares := 0.0, 0.0
	for _, v := range values {
		mean += math.Log(v) / float64(n)
	}
	for _, v := range values {
		d := math.Log(v) - mean
		squares += d * d
	}
	if endless == 0 {
		out.Median = math.Exp(mean)
	}
	if n > 1 {
		out.Dispersion = math.Sqrt(squares / float64(n-1))
		out.Error = out.Dispersion / math.Sqrt(float64(n))
	}
	return out
}

// shares returns the mean share of each part in the input, over the runs without collapse.
func shares(runs []Result) Energy {
	var out Energy
	count := 0.0
	for i := range runs {
		e := &runs[i].Energy
		if runs[i].Status&Collapsed != 0 || !(e.Input > 0) {
			continue
		}
		count++
		out.Frame += e.Frame / e.Input
		out.Devices += e.Devices / e.Input
		out.Dampers += e.Dampers / e.Input
		out.Isolators += e.Isolators / e.Input
		out.Inherent += e.Inherent / e.Input
		out.Kinetic += e.Kinetic / e.Input
		out.Error = max(out.Error, e.Error)
	}
	if count == 0 {
		return out
	}
	for _, p := range []*float64{&out.Frame, &out.Devices, &out.Dampers, &out.Isolators, &out.Inherent,
		&out.Kinetic} {
		*p /= count
	}
	out.Input = 1
	return out
}
