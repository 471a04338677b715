package retrofit

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"plinth/archetypes"
	"plinth/hazard"
	"plinth/retrofit/demand"
)

// The least sufficient damping is chosen: one hundredth less would miss the target.
func TestViscousTakesTheLeastDamping(t *testing.T) {
	c := concreteFrame.build(t)
	for _, alpha := range []float64{1, 0.5} {
		opt := DefaultViscousOptions()
		opt.Alpha, opt.MinDamping = alpha, 0
		o := run(NewViscous(opt), c)
		got := o.Levels[c.Design]
		require.LessOrEqual(t, got.DriftRatio, opt.TargetDriftRatio)
		assert.Equal(t, Clear, o.finding(t, "target-drift").Verdict)

		var w Work
		d := opt.find(&w, c.Stick, c, c.AsIs[c.Design].Roof)
		d.Damping -= 0.01
		var less demand.Response
		w.Demand.Viscous(c.Stick, &c.Site.Spectra[c.Design], d, &less)
		assert.Greater(t, less.DriftRatio, opt.TargetDriftRatio)
	}
}

// Few accessible storeys cap the damping (21-storey hotel with six of them open: 5.3 % from 56
// dampers, Guo and others 2014), and the rules say so.
func TestViscousIsCappedByAccess(t *testing.T) {
	c := concreteFrame.build(t)
	opt := DefaultViscousOptions()
	opt.Accessible = 0.2
	o := run(NewViscous(opt), c)
	assert.LessOrEqual(t, o.sized(t, "added damping"), opt.cap(opt.flexibility(&c.Facts, c.Stick))+1e-9)
	assert.Equal(t, Doubt, o.finding(t, "target-drift").Verdict)
}

// A damper and a brace in series give at most a quarter of kappa; a rigid brace
// loses nothing (Maxwell element, textbook).
func TestInstalledDamping(t *testing.T) {
	assert.InDelta(t, 0.2, installed(0.2, 1e6), 1e-6)
	assert.Zero(t, installed(0, 2))
	assert.Equal(t, 1.0, installed(0.5, 2))
	for _, d := range []float64{0.01, 0.1, 0.2, 0.4} {
		b := installed(d, 1.75)
		assert.InEpsilon(t, d, b/(1+math.Pow(2*b/1.75, 2)), 1e-9)
		assert.GreaterOrEqual(t, b, d)
	}
}

// The force of linear dampers at storey i is 2 b k drift for rigid braces, which for one storey is
// c omega u with c = 2 b m omega (textbook). Two dampers a direction stand at 35 degrees: each has half
// of it over the cosine, the cosine of the drift as stroke, and so half of c over its square.
func TestViscousForce(t *testing.T) {
	c := sketch{1, 1.0, 0.2, 0.2}.build(t)
	opt := DefaultViscousOptions()
	opt.BraceArea, opt.AreaPerBrace, opt.BraceFactor, opt.DeviceForce = 0.5, 1, 1, 1e12
	for _, alpha := range []float64{1, 0.5} {
		opt.Alpha = alpha
		o := run(NewViscous(opt), c)
		omega := 2 * math.Pi / c.Stick.Modes.Period[0]
		b, drift := o.Levels[c.Design].Damping-0.05, o.Levels[c.Design].Drift[0]
		cos := math.Cos(35 * math.Pi / 180)
		peak := 2 * math.Pi * b / demand.Lambda(alpha) * c.Stick.Mass[0] * omega * omega * drift
		assert.InEpsilon(t, peak/2/cos/1e3, o.sized(t, "damper force along the brace"), 1e-4)
		assert.Equal(t, 4.0, o.sized(t, "dampers"))
		assert.InEpsilon(t, drift*cos, o.sized(t, "damper stroke along the brace"), 1e-12)
		assert.InEpsilon(t, o.sized(t, "damper force along the brace"),
			o.sized(t, "damper constant")*math.Pow(omega*drift*cos, alpha), 1e-4)
		if alpha == 1 {
			assert.InEpsilon(t, 2*b*c.Stick.Mass[0]*omega/2/cos/cos/1e3, o.sized(t, "damper constant"), 1e-4)
		}
		assert.Equal(t, alpha, o.sized(t, "velocity exponent alpha"))
	}
}

// Ten braces of 8000 mm2 at 35 degrees in a storey of 3.2 m, by hand: each is 5.579 m long and has
// E A/L cos2 = 192.4 kN/mm.
func TestBracesOfAStorey(t *testing.T) {
	c := teachingHospital.build(t)
	b := defaultBracing()
	assert.InEpsilon(t, 10*192.4e6/c.Stick.Stiffness[0], b.ratio(&c.Facts, c.Stick), 1e-3)
	c.Facts.Footprint, c.Facts.Length, c.Facts.FloorArea = math.NaN(), math.NaN(), math.NaN()
	assert.InEpsilon(t, 10*192.4e6/c.Stick.Stiffness[0], b.ratio(&c.Facts, c.Stick), 1e-3,
		"from a mass of 10 kPa on 600 m2")
}

// Braces are nothing to a building of stiff walls and much to a flexible frame. Bearing walls have no
// frame for them at all, and an unknown system may have none.
func TestWhereBracesFit(t *testing.T) {
	stiff, frame := sketch{4, 0.2, 0.3, 0.3}.build(t), steelFrame.build(t)
	for _, slug := range []string{"viscous", "strengthen-viscous"} {
		assert.Equal(t, Bar, run(byDefault(slug), stiff).finding(t, "brace-damping").Verdict, slug)
		frame.Facts.System = archetypes.SteelMomentFrame
		o := run(byDefault(slug), frame)
		assert.Equal(t, Clear, o.finding(t, "brace-damping").Verdict, slug)
		assert.LessOrEqual(t, o.sized(t, "added damping"), o.sized(t, "most damping the braces pass on"), slug)
	}
	for _, slug := range []string{"viscous", "strengthen-viscous", "yielding"} {
		for _, s := range archetypes.Systems() {
			frame.Facts.System = s
			want := Clear
			switch s {
			case archetypes.UnknownMix:
				want = Missing
			case archetypes.TimberFrame, archetypes.MasonryUnreinforced, archetypes.MasonryReinforced,
				archetypes.PrecastPanel:
				want = Bar
			}
			assert.Equal(t, want, run(byDefault(slug), frame).finding(t, "no-frame").Verdict, "%s in %s", slug, s)
		}
	}
}

// Dampers stronger than the storey are barred, and footings feel those of a weak frame.
func TestDampersStrongerThanTheStorey(t *testing.T) {
	c := sketch{3, 0.9, 0.03, 0.5}.build(t)
	o := run(NewViscous(DefaultViscousOptions()), c)
	assert.Equal(t, Bar, o.finding(t, "damper-force").Verdict)
	assert.Equal(t, Doubt, o.finding(t, "foundations").Verdict)
}

// Strengthening reaches its target with the least step that does, shortens the
// period by the root of the stiffness factor, and shakes the floors harder (8 to
// 50 % in time histories; here more, for a threefold strength).
func TestStrengthen(t *testing.T) {
	c := teachingHospital.build(t)
	opt := DefaultStrengthenOptions()
	o := run(NewStrengthen(opt), c)
	f := o.sized(t, "strength factor")
	assert.LessOrEqual(t, o.Levels[c.Design].Ductility, opt.TargetStrengthRatio)
	assert.InEpsilon(t, c.Stick.Modes.Period[0]/math.Pow(f, 0.35), o.sized(t, "new period"), 1e-9)
	assert.Greater(t, o.Levels[c.Design].PeakAccel, c.AsIs[c.Design].PeakAccel)
	assert.Equal(t, Note, o.finding(t, "acceleration-ordinary").Verdict)

	opt.MaxFactor = f - 0.05
	less := run(NewStrengthen(opt), c)
	assert.Equal(t, Doubt, less.finding(t, "target-strength").Verdict)
}

// Added strength 0 leaves the demand as it stands.
func TestStrengthenNothing(t *testing.T) {
	c := steelFrame.build(t)
	opt := DefaultStrengthenOptions()
	opt.TargetStrengthRatio = 100
	o := run(NewStrengthen(opt), c)
	assert.Equal(t, 1.0, o.sized(t, "strength factor"))
	assert.Equal(t, c.AsIs, o.Levels)
	assert.Equal(t, Bar, o.finding(t, "nothing-to-strengthen").Verdict)
	assert.Equal(t, Doubt, o.finding(t, "little-gain").Verdict)
}

// The stick strengthened here and the demand package's own strengthening agree.
func TestStrengthenedStickAgreesWithDemand(t *testing.T) {
	c := concreteFrame.build(t)
	var w Work
	w.strengthen(c.Stick, 1.8)
	var d demand.Strengthening
	d.Scale(c.Stick, 1.8)
	var a, b demand.Response
	w.Demand.AsIs(&w.stick, &c.Site.Spectra[0], &a)
	w.Demand.Strengthened(c.Stick, &c.Site.Spectra[0], d, &b)
	assert.InEpsilon(t, b.DriftRatio, a.DriftRatio, 1e-9)
	assert.InEpsilon(t, b.PeakAccel, a.PeakAccel, 1e-9)
	modes, err := archetypes.ChainModes(w.stick.Mass, w.stick.Stiffness)
	require.NoError(t, err)
	assert.InEpsilon(t, modes.Period[0], w.stick.Modes.Period[0], 1e-9)
}

// Dampers on a strengthened frame keep its floors calmer than strengthening does.
func TestStrengthenViscous(t *testing.T) {
	c := concreteFrame.build(t)
	both := run(byDefault("strengthen-viscous"), c)
	alone := run(NewStrengthen(DefaultStrengthenOptions()), c)
	assert.Less(t, both.Levels[c.Design].PeakAccel, alone.Levels[c.Design].PeakAccel)
	assert.Less(t, both.Levels[c.Design].DriftRatio, c.AsIs[c.Design].DriftRatio)
}

// The roof carries no more than it is allowed, and a yielding frame bars the mass.
func TestTunedMass(t *testing.T) {
	c := steelFrame.build(t)
	opt := DefaultTunedMassOptions()
	opt.RoofAllowance = 500
	o := run(NewTunedMass(opt), c)
	assert.InDelta(t, 0.5, o.sized(t, "load on the roof"), 1e-9)
	assert.InEpsilon(t, 500*600/hazard.Gravity/1e3, o.sized(t, "tuned mass"), 1e-9)
	assert.Equal(t, Bar, run(NewTunedMass(opt), concreteFrame.build(t)).finding(t, "yields").Verdict)
}

// Every tuning is offered. Only that for earthquakes is within the range of the comparison, and
// it keeps most of its damping when the period is misjudged. A larger mass is less sensitive.
func TestTunedMassTunings(t *testing.T) {
	c := steelFrame.build(t)
	left := map[string]float64{}
	for _, word := range excitationWords {
		opt := DefaultTunedMassOptions()
		opt.Tuning = word
		require.NoError(t, opt.Validate())
		o := run(NewTunedMass(opt), c)
		left[word] = o.sized(t, "added damping left at 15 % mistuning")
		assert.Equal(t, word != "earthquake", o.Levels[c.Design].Status&demand.OutOfDomain != 0, word)
	}
	for word, x := range left {
		assert.GreaterOrEqual(t, left["earthquake"], x, word)
	}
	opt := DefaultTunedMassOptions()
	opt.MassRatio = 0.005
	assert.Less(t, run(NewTunedMass(opt), c).sized(t, "added damping left at 15 % mistuning"),
		left["earthquake"])
	opt.Tuning = "by ear"
	assert.ErrorContains(t, opt.Validate(), "tuning must be one of")
}

// Brittle columns are flagged wherever devices or braces push them.
func TestBrittleColumns(t *testing.T) {
	c := concreteFrame.build(t)
	c.Facts.Brittle = Yes
	for _, m := range []Measure{
		NewViscous(DefaultViscousOptions()), NewYielding(DefaultYieldingOptions()),
		NewStrengthen(DefaultStrengthenOptions()),
		byDefault("strengthen-viscous"), byDefault("lead-rubber-strengthen"),
	} {
		assert.Equal(t, Note, run(m, c).finding(t, "brittle-columns").Verdict, m.Slug())
	}
}

// Yielding devices reach the drift target with the least force that does.
func TestYielding(t *testing.T) {
	c := concreteFrame.build(t)
	opt := DefaultYieldingOptions()
	opt.TargetDriftRatio = 0.5 * c.AsIs[c.Design].DriftRatio
	o := run(NewYielding(opt), c)
	assert.LessOrEqual(t, o.Levels[c.Design].DriftRatio, opt.TargetDriftRatio)
	assert.Equal(t, Clear, o.finding(t, "target-drift").Verdict)
	assert.LessOrEqual(t, o.sized(t, "device yield force along the brace"), 500.0)

	var w Work
	kd := o.sized(t, "stiffness of devices over storey")
	fd := o.sized(t, "yield force of devices over storey strength")
	require.Greater(t, fd, opt.ForceRatio[0])
	var less demand.Response
	w.Demand.Yielding(c.Stick, &c.Site.Spectra[c.Design], w.devices(c.Stick, kd, fd-forceStep), &less)
	assert.Greater(t, less.DriftRatio, opt.TargetDriftRatio)
}

// No measure that makes drift worse is possible.
func TestMoreDriftIsBarred(t *testing.T) {
	worse := 0
	rapid.Check(t, func(r *rapid.T) {
		c := drawSketch(r).build(t)
		c.Facts.System = archetypes.ConcreteFrame
		for _, slug := range []string{"viscous", "yielding", "tuned-mass", "strengthen-viscous"} {
			o := run(byDefault(slug), c)
			if len(o.Levels) == 0 || o.Levels[c.Design].DriftRatio <= c.AsIs[c.Design].DriftRatio {
				continue
			}
			worse++
			require.Equal(r, Bar, o.Verdict, slug)
		}
	})
	t.Logf("%d designs had more drift", worse)
}

// Every measure: more shaking, more drift and more isolator movement, level by
// level; findings of all rules; cost low to high; the same answer from used and
// fresh scratch space.
func TestEveryMeasure(t *testing.T) {
	var w Work
	used := map[string]*Outcome{}
	for _, s := range []sketch{teachingHospital, concreteFrame, slenderTower, steelFrame} {
		c := s.build(t)
		for _, m := range every() {
			if used[m.Slug()] == nil {
				used[m.Slug()] = &Outcome{}
			}
			o := used[m.Slug()]
			m.Evaluate(&w, c, o)
			fresh := run(m, c)
			assert.Equal(t, fresh.Reason(), o.Reason())
			assert.Equal(t, fresh.Sized, o.Sized)
			if len(o.Levels) == 0 {
				assert.Equal(t, Bar, o.Verdict)
				continue
			}
			assert.Equal(t, fresh.Levels, o.Levels)
			require.Len(t, o.Levels, len(returnPeriods))
			assert.Len(t, o.Findings, len(rulesOf(m.Slug())))
			assert.LessOrEqual(t, o.Cost.Low, o.Cost.Likely)
			assert.LessOrEqual(t, o.Cost.Likely, o.Cost.High)
			for i := 1; i < len(o.Levels); i++ {
				a, b := &o.Levels[i-1], &o.Levels[i]
				least := 1.0
				if b.Displacement > 0 { // while sliders break away: demand.TestIsolatedDemandOverShaking
					least = 0.9
				}
				assert.GreaterOrEqual(t, b.DriftRatio, least*a.DriftRatio, "%s level %d", m.Slug(), i)
				assert.GreaterOrEqual(t, b.Displacement, a.Displacement, "%s level %d", m.Slug(), i)
			}
		}
	}
}

// A building of which nothing but its structure is known bars nothing for want of
// facts, has no reason without words, and an unknown cost is not zero.
func TestUnknownFactsAreMissing(t *testing.T) {
	c := teachingHospital.build(t)
	nan := math.NaN()
	c.Facts = Facts{
		Storeys: 6, StoreysBelow: -1, Height: nan, FloorArea: nan, Footprint: nan, Length: nan, Width: nan,
		Gap: nan, SitePeriod: nan, FaultDistance: nan,
	}
	for _, m := range every()[1:] {
		o := run(m, c)
		assert.NotEqual(t, Clear, o.Verdict, m.Slug())
		for _, f := range o.Findings {
			if f.Verdict == Missing {
				assert.Regexp(t, `^.{8,} is not known$`, string(f.AppendText(nil)))
			}
		}
		if len(o.Levels) > 0 {
			assert.True(t, math.IsNaN(o.Cost.Likely), m.Slug())
		}
	}
}

func TestOptionsAreValidated(t *testing.T) {
	o := DefaultLeadRubberOptions()
	o.Period = [2]float64{3, 2}
	o.Steps, o.Price.LowRatio = 0, 2
	err := o.Validate()
	require.Error(t, err)
	for _, part := range []string{"lead-rubber: period", "steps", "low ratio"} {
		assert.ErrorContains(t, err, part)
	}
	s := Defaults()
	s["strengthen"].(*StrengthenOptions).MaxFactor = 0.5
	_, err = s.Measure("strengthen-viscous")
	assert.ErrorContains(t, err, "strengthen: max factor", "a combination needs its parts")
	_, err = s.Measure("viscous")
	assert.NoError(t, err)
}
