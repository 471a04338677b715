package motion

import (
	"math"

	"plinth/hazard"
)

// Record is one horizontal ground acceleration at even steps from time 0, linear between
// samples and zero after the last.
type Record struct {
	Name  string
	Step  float64   // s
	Accel []float64 // g, before Scale; may be shared with other records, never written
	Scale float64   // factor on Accel
}

// Duration returns the time of the last sample in s.
func (r *Record) Duration() float64 { return float64(max(0, len(r.Accel)-1)) * r.Step }

// PGA returns the peak ground acceleration in g.
func (r *Record) PGA() float64 {
	most := 0.0
	for _, a := range r.Accel {
		most = max(most, math.Abs(a))
	}
	return most * math.Abs(r.Scale)
}

// Times returns r with its accelerations multiplied by factor; the samples are shared.
func (r *Record) Times(factor float64) Record {
	out := *r
	out.Scale *= factor
	return out
}

// Arias returns the Arias intensity in m/s.
//
//	Ia = pi/(2 g) integral of a2 dt
//
// Arias 1970, A measure of earthquake intensity (from memory).
func (r *Record) Arias() float64 {
	sum := 0.0
	for i := 1; i < len(r.Accel); i++ {
		sum += squareOfLine(r.Accel[i-1], r.Accel[i])
	}
	return math.Pi / 2 * hazard.Gravity * r.Scale * r.Scale * sum * r.Step
}

// squareOfLine returns the mean of the square of a line from a to b.
func squareOfLine(a, b float64) float64 { return (a*a + a*b + b*b) / 3 }

// Significant returns the significant duration in s: the time between the shares from and to of
// the final Arias intensity, 0.05 and 0.95 for D5-95, 0.05 and 0.75 for D5-75 (Trifunac and
// Brady 1975, Bulletin of the Seismological Society of America 65:581). Growth within a step is
// taken as linear.
func (r *Record) Significant(from, to float64) float64 {
	total := 0.0
	for i := 1; i < len(r.Accel); i++ {
		total += squareOfLine(r.Accel[i-1], r.Accel[i])
	}
	at := func(share float64) float64 {
		sum := 0.0
		for i := 1; i < len(r.Accel); i++ {
			part := squareOfLine(r.Accel[i-1], r.Accel[i])
			if sum+part >= share*total && part > 0 {
				return (float64(i-1) + (share*total-sum)/part) * r.Step
			}
			sum += part
		}
		return r.Duration()
	}
	return at(to) - at(from)
}
