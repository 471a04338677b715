package confidence

import (
	"math/rand/v2"
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"

	"plinth/retrofit/consequence"
)

// invented returns the response of an invented building: a loss that falls with
// strength and capacity, two measures, one unknown field.
func invented(rng *rand.Rand) *Response {
	r := &Response{SD: [NumInputs]float64{0.3, 0.3, 0.4, 0.3}, CostSD: []float64{0, 0.3, 0.4}}
	base := []State{{}, {}, {}}
	loss := 10 + 1.2*rng.NormFloat64()
	base[0].ln[total], base[1].ln[total], base[2].ln[total] = loss, loss-1, loss-2
	base[1].lnCost, base[2].lnCost = 12.5+rng.NormFloat64(), 13+rng.NormFloat64()
	moved := func(by float64) []State {
		s := slices.Clone(base)
		for i := range s {
			s[i].ln[total] += by
		}
		return s
	}
	r.Centre = base
	for i, slope := range [NumInputs]float64{1, -0.3, -1.2, -0.8} {
		r.Low[i], r.High[i] = moved(-slope*r.SD[i]*Node-0.05), moved(slope*r.SD[i]*Node)
	}
	r.Fields = []Field{{Values: []Value{{Probability: 0.7}, {Probability: 0.3, States: moved(0.6)}}}}
	return r
}

func benefit(asIs, with *consequence.Annual, cost float64) float64 {
	return 20*(asIs.Total-with.Total) - cost
}

var inventedMeasures = []string{"one", "two"}

// A truth from where the draws come from is held by the 90 % interval in 87 to 93 %
// of buildings, over truths.
func TestIntervalsAreCalibrated(t *testing.T) {
	const buildings, truths = 150, 80
	set := Settings{Draws: 199, Seed: 5, HazardCommon: 0.25, HazardLocal: 0.15, StrengthCommon: 0.2, CostCommon: 0.5}
	other := set
	other.Draws, other.Seed = truths, 6
	rng := rand.New(rand.NewPCG(1, 1))
	drawn, truth := NewStock(set.Draws), NewStock(truths)
	a, b := NewSampler(NewDraws(set)), NewSampler(NewDraws(other))
	var s Sample
	for i := range buildings {
		r, id := invented(rng), strconv.Itoa(i)
		a.Draw(id, r, inventedMeasures, benefit, &s)
		drawn.Add(id, s.Order)
		b.Draw(id, r, inventedMeasures, benefit, &s)
		truth.Add(id, s.Order)
	}
	drawn.Rank()
	truth.Rank()
	held := 0
	for i := range buildings {
		in, ok := drawn.Interval(strconv.Itoa(i), 10)
		assert.True(t, ok)
		for _, rank := range truth.Ranks(strconv.Itoa(i)) {
			if int64(rank) >= in.Low && int64(rank) <= in.High {
				held++
			}
		}
	}
	share := float64(held) / (buildings * truths)
	t.Logf("%.1f %%", 100*share)
	assert.InDelta(t, 0.90, share, 0.03)
}

// Errors that all buildings share move all alike: drawn for each building alone, as
// much uncertainty spreads the ranks further.
func TestCommonErrorsDoNotSpreadRanks(t *testing.T) {
	width := func(set Settings) (sum int64) {
		rng := rand.New(rand.NewPCG(1, 1))
		stock, sampler := NewStock(set.Draws), NewSampler(NewDraws(set))
		var s Sample
		for i := range 60 {
			sampler.Draw(strconv.Itoa(i), invented(rng), inventedMeasures, benefit, &s)
			stock.Add(strconv.Itoa(i), s.Loss)
		}
		stock.Rank()
		for i := range 60 {
			in, _ := stock.Interval(strconv.Itoa(i), 1)
			sum += in.High - in.Low
		}
		return sum
	}
	common := width(Settings{Draws: 199, HazardCommon: 0.29, StrengthCommon: 0.4})
	own := width(Settings{Draws: 199, HazardLocal: 0.29})
	assert.Less(t, float64(common), 0.9*float64(own))
}

// The order in which buildings are added, or drawn, does not change anything.
func TestOrderOfAddingDoesNotMatter(t *testing.T) {
	set := Settings{Draws: 19, Seed: 3, HazardCommon: 0.2}
	build := func(order []int) *Stock {
		stock, sampler := NewStock(set.Draws), NewSampler(NewDraws(set))
		var s Sample
		for _, i := range order {
			sampler.Draw(strconv.Itoa(i), invented(rand.New(rand.NewPCG(1, uint64(i)))), inventedMeasures, benefit, &s)
			stock.Add(strconv.Itoa(i), s.Order)
		}
		stock.Rank()
		return stock
	}
	order := rand.New(rand.NewPCG(2, 2)).Perm(30)
	a, b := build(order), build([]int{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23, 24, 25, 26, 27, 28, 29})
	for i := range order {
		assert.Equal(t, b.Ranks(strconv.Itoa(i)), a.Ranks(strconv.Itoa(i)))
	}
}

// Order statistics, counted by hand: 19 draws, so the interval is from the least
// to the largest; ranks are 1 or 2 as the draw says.
func TestInterval(t *testing.T) {
	s := NewStock(19)
	a, b := make([]float32, 19), make([]float32, 19)
	for d := range a {
		a[d], b[d] = 1, 0
		if d < 4 {
			b[d] = 2
		}
	}
	s.Add("a", a)
	s.Add("b", b)
	s.Rank()
	in, ok := s.Interval("a", 1)
	assert.True(t, ok)
	assert.Equal(t, Interval{Low: 1, Median: 1, High: 2, Top: 15. / 19}, in)
	_, ok = s.Interval("c", 1)
	assert.False(t, ok)
	g := s.Groups()
	first, _ := g.Next("a")
	second, _ := g.Next("b")
	assert.Equal(t, []int64{1, 1}, []int64{first, second}, "15 of 19 draws are not 90 %")
}

// At its nodes a response is what was learned there; a measure that does not fit at
// a node is barred from half way on.
func TestResponseAtItsNodes(t *testing.T) {
	r := invented(rand.New(rand.NewPCG(1, 1)))
	out := make([]State, 3)
	for i := range NumInputs {
		var p point
		p.value = []int{0}
		p.x[i] = -Node
		r.at(&p, out)
		assert.InDelta(t, r.Low[i][1].ln[total], out[1].ln[total], 1e-12)
		p.x[i] = Node
		r.at(&p, out)
		assert.InDelta(t, r.High[i][2].ln[total], out[2].ln[total], 1e-12)
	}
	r.Low[Strength][2] = State{Barred: true}
	p := point{value: []int{0}}
	p.x[Strength] = -Node/2 - 0.01
	r.at(&p, out)
	assert.True(t, out[2].Barred)
	p.x[Strength] = -Node/2 + 0.01
	r.at(&p, out)
	assert.False(t, out[2].Barred)
	assert.Greater(t, out[2].ln[total], r.Centre[2].ln[total], "the line from the other node goes on")
}
