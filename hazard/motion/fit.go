package motion

import (
	"errors"
	"fmt"
	"math"

	"plinth/hazard"
)

// Fitting is the way in which records of the user are adapted to a site.
type Fitting uint8

// The fittings.
const (
	Scaled  Fitting = iota // one factor for each record
	Matched                // frequency content changed to the target, as for artificial records
)

// ErrNoRecords is returned for a suite without records.
var ErrNoRecords = errors.New("motion: a suite needs at least one record")

// Fit returns a suite of the user's records for target. Scaled gives each record the factor
// that matches its spectrum to the target on average over periods between from and to in s:
//
//	ln factor = mean of ln(Sa,target/Sa) over periods evenly spaced in ln T
//
// ASCE 7-16 16.2.3.1 uses 0.2 T1 to 2 T1. Matched changes Fourier amplitudes iterations times,
// keeps phases and brings each record to rest. It keeps the record's sampling, so that its step
// limits the shortest period that can be changed.
func Fit(records []Record, target *hazard.Spectrum, how Fitting, from, to float64, iterations int) (*Suite,
	error) {
	if len(records) == 0 {
		return nil, ErrNoRecords
	}
	if !(from > 0 && to >= from) || math.IsInf(to, 1) {
		return nil, fmt.Errorf("motion: periods from %g to %g s: they must be positive and ascend", from, to)
	}
	sh, level, err := shapeOf(target)
	if err != nil {
		return nil, err
	}
	out := &Suite{Target: target}
	for _, r := range records {
		f, err := r.factor(target, from, to)
		if err != nil {
			return nil, err
		}
		r.Scale *= f
		if how == Matched {
			if r, err = matchOne(r, &sh, level, iterations); err != nil {
				return nil, err
			}
		}
		out.Records = append(out.Records, r)
	}
	out.Mean = meanOf(out.Records, target)
	out.Mean.Duration = out.significant()
	return out, nil
}

// factor returns the scale factor from r to target between two periods.
func (r *Record) factor(target *hazard.Spectrum, from, to float64) (float64, error) {
	const periods = 30
	sum := 0.0
	for i := range periods {
		t := from * math.Pow(to/from, float64(i)/(periods-1))
		sum += math.Log(target.Sa(t) / r.Sa(t, 0.05))
	}
	f := math.Exp(sum / periods)
	if !(f > 0) || math.IsInf(f, 1) {
		return 0, fmt.Errorf("motion: record %s has no response between %g and %g s to scale", r.Name, from,
			to)
	}
	return f, nil
}

// matchOne returns r matched to the shape at a level, with an even number of samples.
func matchOne(r Record, target *shape, level float64, iterations int) (Record, error) {
	n := even(len(r.Accel))
	weight := make([]float64, n)
	out := r
	out.Scale, out.Accel = level, make([]float64, n)
	for i, a := range r.Accel {
		out.Accel[i] = a * r.Scale / level
		weight[i] = 1
	}
	m := newMaker(r.Step, weight)
	one := []Record{out}
	one[0].Scale = 1
	m.match(one, target, iterations)
	out.Accel = one[0].Accel
	for _, a := range out.Accel {
		if math.IsNaN(a) || math.IsInf(a, 0) {
			return out, fmt.Errorf("motion: record %s cannot be matched to the spectrum; scale it instead",
				r.Name)
		}
	}
	return out, nil
}
