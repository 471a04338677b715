package confidence

import (
	"crypto/sha256"
	"encoding/binary"
	"math"
	"math/rand/v2"

	"plinth/retrofit/consequence"
)

// Settings state the number of draws and the size of the errors.
type Settings struct {
	Draws int
	Seed  uint64

	HazardCommon   float64 // ln sd of the hazard, the same for all buildings of a draw
	HazardLocal    float64 // ln sd of the hazard, each building's own
	StrengthCommon float64 // ln sd of the strength of all buildings together, part of each one's own
	CostCommon     float64 // share of the variance of a measure's cost that all buildings have in common
}

// A Score is the score that an objective gives a measure. asIs and with are the annual values
// without and with it. Doing nothing scores 0: the objective's own score for it is subtracted.
type Score func(asIs, with *consequence.Annual, cost float64) float64

// Draws are the errors that all buildings share. They do not change once they are made.
type Draws struct {
	Settings
	hazard, strength []float64 // standard normal, one a draw
}

// NewDraws returns the shared errors of a run.
func NewDraws(s Settings) *Draws {
	d := &Draws{Settings: s}
	rng := stream(s.Seed, "common")
	for range s.Draws {
		d.hazard = append(d.hazard, rng.NormFloat64())
		d.strength = append(d.strength, rng.NormFloat64())
	}
	return d
}

// price returns the shared price errors of a measure, one for each draw.
func (d *Draws) price(measure string) []float64 {
	rng := stream(d.Seed, "price "+measure)
	z := make([]float64, d.Draws)
	for i := range z {
		z[i] = rng.NormFloat64()
	}
	return z
}

// stream returns the random numbers that belong to a seed and a name.
func stream(seed uint64, name string) *rand.Rand {
	b := binary.BigEndian.AppendUint64(nil, seed)
	return rand.New(rand.NewChaCha8(sha256.Sum256(append(b, name...))))
}

// A Sampler draws building after building for one goroutine.
type Sampler struct {
	// Exact, if set, gives the states at a draw instead of the response. x holds the standard
	// deviations of each input, value the value of each field. It is slow. The response is compared
	// with it.
	Exact func(x [NumInputs]float64, value []int, out []State)

	draws  *Draws
	prices map[string][]float64
	point  point
	states []State
	asIs   consequence.Annual
	with   consequence.Annual
}

// NewSampler returns a Sampler for one goroutine.
func NewSampler(d *Draws) *Sampler { return &Sampler{draws: d, prices: make(map[string][]float64)} }

// A Sample holds what the draws give for one building. It reuses its storage.
type Sample struct {
	Order []float32 // of each draw, larger comes first; see order
	Loss  []float32 // annual loss as it stands in each draw
	Best  []uint8   // state that is best in each draw, 0 for doing nothing
}

// Draw fills out for the building called id. measures names the states after the first.
func (s *Sampler) Draw(id string, r *Response, measures []string, score Score, out *Sample) {
	n := len(r.Centre)
	if cap(s.states) < n {
		s.states = make([]State, n)
	}
	s.states = s.states[:n]
	out.Order, out.Loss, out.Best = out.Order[:0], out.Loss[:0], out.Best[:0]
	rng := stream(s.draws.Seed, "building "+id)
	for k := range s.draws.Draws {
		own := s.scatter(r, rng, k)
		if s.Exact != nil {
			s.Exact(s.point.x, s.point.value, s.states)
		} else {
			r.at(&s.point, s.states)
		}
		best, most := s.choose(r, measures, score, own, k)
		out.Order = append(out.Order, order(most, s.asIs.Total))
		out.Loss = append(out.Loss, float32(s.asIs.Total))
		out.Best = append(out.Best, uint8(best))
	}
}

// choose returns the state that is best in draw k (0 for doing nothing) and its score. own is the
// building's part of the cost error.
func (s *Sampler) choose(r *Response, measures []string, score Score, own float64, k int,
) (best int, most float64) {
	s.states[0].annual(&s.asIs)
	for m := 1; m < len(s.states); m++ {
		st := &s.states[m]
		if st.Barred {
			continue
		}
		st.annual(&s.with)
		c := s.draws.CostCommon
		z := math.Sqrt(c)*s.price(measures[m-1])[k] + math.Sqrt(1-c)*own
		if v := score(&s.asIs, &s.with, math.Exp(st.lnCost+r.CostSD[m]*z)); v > most {
			best, most = m, v
		}
	}
	return best, most
}

// scatter moves the point to draw k of a building and returns the building's own part of the cost
// error. It takes the same number of random numbers for every building.
func (s *Sampler) scatter(r *Response, rng *rand.Rand, k int) (cost float64) {
	d := s.draws
	x := &s.point.x
	x[Hazard] = mix(d.HazardCommon, d.HazardLocal, d.hazard[k], rng.NormFloat64())
	x[Period] = rng.NormFloat64()
	common := min(d.StrengthCommon, r.SD[Strength])
	x[Strength] = mix(common, math.Sqrt(r.SD[Strength]*r.SD[Strength]-common*common), d.strength[k],
		rng.NormFloat64())
	x[Capacity] = rng.NormFloat64()
	for i := range x {
		x[i] = max(-farthest, min(farthest, x[i]))
	}
	cost = rng.NormFloat64()
	s.point.value = r.pick(rng, s.point.value[:0])
	return cost
}

// pick appends the value that each field takes in a draw.
func (r *Response) pick(rng *rand.Rand, to []int) []int {
	for f := range r.Fields {
		u := rng.Float64()
		values := r.Fields[f].Values
		v := 0
		for v < len(values)-1 && u >= values[v].Probability {
			u -= values[v].Probability
			v++
		}
		to = append(to, v)
	}
	return to
}

// HazardSD returns the total standard deviation of ln of the hazard at a site.
func (s *Settings) HazardSD() float64 { return math.Hypot(s.HazardCommon, s.HazardLocal) }

// mix returns the sum of two independent normal errors as a standard normal one.
func mix(a, b, za, zb float64) float64 {
	sd := math.Hypot(a, b)
	if sd == 0 {
		return 0
	}
	return (a*za + b*zb) / sd
}

func (s *Sampler) price(measure string) []float64 {
	p, ok := s.prices[measure]
	if !ok {
		p = s.draws.price(measure)
		s.prices[measure] = p
	}
	return p
}

// order returns the number by which a building is ranked. It is the score above doing nothing. If
// nothing is worth doing, it is the loss as the building stands, placed below every score.
func order(score, loss float64) float32 {
	if score > 0 {
		return float32(score)
	}
	return float32(-1 / (1 + max(loss, 0)))
}
