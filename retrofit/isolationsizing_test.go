package retrofit

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A little more shaking changes the design a little: 7 % moves displacement and base shear by less
// than 25 %, where the measure fits the building, but where two designs far apart are equally good, in
// at most one step of fifty. Designs that are barred anyway show which bar is missed by the least.
func TestNeighboursHaveNeighbouringDesigns(t *testing.T) {
	lead, slide := NewLeadRubber(DefaultLeadRubberOptions()), NewSlider(DefaultSliderOptions())
	compared, changed := 0, 0
	for _, s := range []sketch{teachingHospital, concreteFrame, steelFrame, {2, 0.2, 0.4, 0}, {3, 0.3, 0.2, 0},
		{10, 0.9, 0.2, 0}} {
		for _, m := range []Measure{lead, slide} {
			before, beforeV := math.NaN(), 0.0
			for ag := 0.1; ag < 0.8; ag *= 1.07 {
				s.ag = ag
				o := run(m, s.build(t))
				if o.Verdict == Bar {
					before = math.NaN()
					continue
				}
				d, v := o.sized(t, "total displacement"), o.Levels[designLevel].BaseShear
				if before > 0 {
					compared++
					if most := math.Log(1.25); math.Abs(math.Log(d/before)) > most || math.Abs(math.Log(v/beforeV)) > most {
						changed++
						t.Logf("%s %+v: movement %.3f to %.3f m, base shear %.3g to %.3g N", m.Slug(), s, before, d,
							beforeV, v)
					}
				}
				before, beforeV = d, v
			}
		}
	}
	require.Greater(t, compared, 100)
	assert.LessOrEqual(t, changed, compared/50, "of %d", compared)
}

// Isolators are sized at the return period of the plan: at a level of the run, between two by straight
// lines in ln-ln, at the rarest where none is as rare.
func TestSizingReturnPeriod(t *testing.T) {
	c := teachingHospital.build(t)
	var s sizing
	s.read(c.Site, 2475, 2.5)
	assert.Same(t, &c.Site.Spectra[7], s.spectrum)
	s.read(c.Site, 5000, 2.5)
	assert.Equal(t, 2475.0, s.years)
	s.read(c.Site, 20, 2.5)
	assert.Equal(t, 43.0, s.years)
	s.read(c.Site, 1250, 2.5)
	low, high := &c.Site.Spectra[5], &c.Site.Spectra[6] // 975 and 1600 yr, H ~ a^-3
	want := low.Sa(2.5) * math.Pow(1250.0/975, math.Log(high.Sa(2.5)/low.Sa(2.5))/math.Log(1600.0/975))
	assert.InEpsilon(t, want, s.spectrum.Sa(2.5), 1e-9)
	assert.Equal(t, 1250.0, s.years)

	// The movement, the bearing and the price grow with the return period; the design level does not.
	opt := DefaultLeadRubberOptions()
	opt.YieldRatio, opt.Period = [2]float64{0.06, 0.06}, [2]float64{2.5, 2.5}
	opt.Sizing = 475
	low475 := run(NewLeadRubber(opt), c)
	opt.Sizing = 2475
	rare := run(NewLeadRubber(opt), c)
	require.Equal(t, low475.Levels, rare.Levels)
	for _, name := range []string{"total displacement", "bearing diameter",
		"displacement at which they give out"} {
		assert.Greater(t, rare.sized(t, name), 1.2*low475.sized(t, name), name)
	}
	assert.Greater(t, rare.Cost.Likely, low475.Cost.Likely)
	assert.Greater(t, rare.finding(t, "uplift").Value, low475.finding(t, "uplift").Value)

	// The rubber is strained by 2.5 at most, and the bearing is wider than it moves.
	d := rare.sized(t, "total displacement")
	assert.LessOrEqual(t, d/rare.sized(t, "rubber thickness"), 2.5*(1+1e-9))
	assert.Less(t, d, rare.sized(t, "bearing diameter"))
}

// Isolators give out at the movement they are sized for times the reserve, or where a corner closes
// the gap.
func TestTravel(t *testing.T) {
	c := sketch{4, 0.3, 0.5, 0.30}.build(t)
	o := run(NewLeadRubber(DefaultLeadRubberOptions()), c)
	v := &o.Travel
	assert.InEpsilon(t, o.sized(t, "total displacement"), v.Sized*v.Corner, 1e-4)
	assert.Equal(t, 1.5, v.Reserve)
	assert.InEpsilon(t, 1.5*v.Sized, v.Capacity(math.NaN()), 1e-12)
	assert.InEpsilon(t, 0.2/v.Corner, v.Capacity(0.2), 1e-12)
	none := run(NewStrengthen(DefaultStrengthenOptions()), c)
	assert.Zero(t, none.Travel.Capacity(0.5))
}

// Tension at the outer row of equal bearings: M x_max/sum x2 = W/n (statics, row by row).
func TestKern(t *testing.T) {
	for _, n := range []float64{2, 3, 4, 6, 11} {
		sum := 0.0
		for i := range int(n) {
			x := float64(i)/(n-1) - 0.5
			sum += x * x
		}
		moment := kern(n) // for W B = 1
		assert.InEpsilon(t, 1/n, moment*0.5/sum, 1e-12, "%g rows", n)
	}
	assert.InEpsilon(t, 0.5, kern(2), 1e-12)
	assert.Equal(t, 5.0, rows(25.4, 6))
}
