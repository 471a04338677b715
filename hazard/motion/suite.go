package motion

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"

	"plinth/hazard"
)

// Settings tell how a suite is made.
type Settings struct {
	Records    int      // number; 7 for a first look, 11 for a decision on isolation
	Seed       uint64   // equal seeds give equal records
	Envelope   Envelope // duration of shaking; zero for that of the spectrum the records are for
	Step       float64  // s
	Iterations int      // of matching
}

// DefaultSettings returns 11 short records at 0.005 s, matched 12 times.
func DefaultSettings() Settings {
	return Settings{Records: 11, Seed: 1, Envelope: Short, Step: 0.005, Iterations: 12}
}

// mostRecords is the most records of a suite, a bound on memory.
const mostRecords = 200

// Validate returns all invalid settings, joined.
func (s *Settings) Validate() error {
	var faults []error
	fault := func(ok bool, format string, args ...any) {
		if !ok {
			faults = append(faults, fmt.Errorf("motion: "+format, args...))
		}
	}
	fault(s.Records >= 1 && s.Records <= mostRecords, "%d records: from 1 to %d", s.Records, mostRecords)
	fault(s.Envelope == Envelope{} || s.Envelope.valid(),
		"envelope of %g, %g and %g s: the times must be positive and ascend, up to %d s", s.Envelope.Rise,
		s.Envelope.Level, s.Envelope.Decay, longest)
	fault(s.Step >= 0.001 && s.Step <= 0.01, "step of %g s: from 0.001 to 0.01 s", s.Step)
	fault(s.Iterations >= 0 && s.Iterations <= 100, "%d iterations: from 0 to 100", s.Iterations)
	return errors.Join(faults...)
}

// Suite is a set of records for one spectrum. It is read only.
type Suite struct {
	Records []Record
	Target  *hazard.Spectrum // spectrum it represents
	// geometric mean spectrum of the records, with the duration in which damping is worth as much as in
	// them: what a method reads that is compared with their time histories
	Mean *hazard.Spectrum
}

// grain is the step in ln Sa to which shapes are rounded, so that spectra of one shape at many
// levels share one suite. The error is at most half of it, 0.25 %.
const grain = 0.005

// shapeOf returns the shape of a spectrum at a mean level of 1 g and that level in g,
// the geometric mean over the match periods.
func shapeOf(sp *hazard.Spectrum) (sh shape, level float64, err error) {
	mean := 0.0
	for i, t := range matchPeriods {
		sa := sp.Sa(t)
		if !(sa > 0) || math.IsInf(sa, 1) {
			return sh, 0, fmt.Errorf("motion: spectrum of %g g at %g s: it must be positive and finite to "+
				"make records for", sa, t)
		}
		sh.sa[i] = math.Log(sa)
		mean += sh.sa[i] / matched
	}
	for i := range sh.sa {
		sh.sa[i] = grain * math.Round((sh.sa[i]-mean)/grain)
	}
	sh.pga = grain * math.Round((math.Log(sp.PGA)-mean)/grain)
	return sh, math.Exp(mean), nil
}

// generate returns the records for a shape under an envelope.
func generate(target *shape, e Envelope, s Settings) []Record {
	n := even(int(math.Ceil(e.length()/s.Step)) + 1)
	weight := make([]float64, n)
	for i := range weight {
		weight[i] = e.at(float64(i) * s.Step)
	}
	m := newMaker(s.Step, weight)
	out := make([]Record, s.Records)
	for i := range out {
		out[i] = Record{Name: fmt.Sprintf("artificial %d", i+1), Step: s.Step, Accel: make([]float64, n),
			Scale: 1}
		m.shake(out[i].Accel, m.noise(rand.New(rand.NewPCG(s.Seed, uint64(i))), target))
	}
	m.match(out, target, s.Iterations)
	return out
}
