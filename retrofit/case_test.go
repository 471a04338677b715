package retrofit

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"plinth/archetypes"
	"plinth/hazard"
	"plinth/retrofit/demand"
)

// sketch is a building made by hand for the tests: equal floors, storeys 3.2 m high, stiffness
// and strength by an inverted triangle of forces.
type sketch struct {
	storeys  int
	period   float64 // s
	strength float64 // base shear at yield over weight
	ag       float64 // g, EN 1998-1 type 1 spectrum on ground B at the design level
}

// The hand-made cases.
var (
	teachingHospital = sketch{6, 0.45, 0.25, 0.30} // stiff concrete walls
	concreteFrame    = sketch{5, 0.80, 0.12, 0.30}
	slenderTower     = sketch{14, 1.8, 0.10, 0.30}
	steelFrame       = sketch{8, 1.4, 0.15, 0.20}
)

// levels are factors on ag of eight return periods by H ~ a^-3 around 475 yr
// (EN 1998-1 2.1(4)).
var returnPeriods = []float64{43, 72, 108, 224, 475, 975, 1600, 2475}

const designLevel = 4 // 475 yr

// build returns the case of s on open ground with friendly facts: wide gap,
// basement, stiff soil, far from faults.
func (s sketch) build(t testing.TB) *Case {
	t.Helper()
	n := s.storeys
	const area = 600.0 // m2 a floor, 20 m by 30 m
	st := &archetypes.Stick{PostYield: 0.03, Degrading: 1}
	shear := make([]float64, n)
	above := 0.0
	for i := n - 1; i >= 0; i-- {
		above += float64(i + 1)
		shear[i] = above
	}
	mass := 10e3 * area / hazard.Gravity // 10 kPa
	for i := range n {
		st.Mass = append(st.Mass, mass)
		st.Height = append(st.Height, 3.2)
		st.Stiffness = append(st.Stiffness, mass*math.Pow(shear[i]/above, 0.7))
		st.Strength = append(st.Strength, s.strength*mass*hazard.Gravity*float64(n)*shear[i]/above)
	}
	modes, err := archetypes.ChainModes(st.Mass, st.Stiffness)
	require.NoError(t, err)
	scale := modes.Period[0] / s.period
	for i := range st.Stiffness {
		st.Stiffness[i] *= scale * scale
	}
	st.Modes, err = archetypes.ChainModes(st.Mass, st.Stiffness)
	require.NoError(t, err)

	c := &Case{
		Stick: st, Design: designLevel,
		Site: &hazard.Site{ReturnPeriod: returnPeriods, Spectra: make([]hazard.Spectrum, len(returnPeriods)),
			Class: 'B'},
		Facts: Facts{
			Storeys: n, StoreysBelow: 1, Height: 3.2 * float64(n), FloorArea: area * float64(n),
			Footprint: area, Length: 30, Width: 20, Gap: 3, Plane: Yes, Heritage: No, Light: No, Brittle: No,
			SiteClass: 'B', SitePeriod: 0.2, FaultDistance: 40,
		},
	}
	c.shake(t, s.ag)
	return c
}

// shake sets the spectra of c for ag in g at the design level and the demand as
// it stands.
func (c *Case) shake(t testing.TB, ag float64) {
	t.Helper()
	c.AsIs = make([]demand.Response, len(returnPeriods))
	var w Work
	for i, years := range returnPeriods {
		a := ag * math.Pow(years/returnPeriods[designLevel], 1.0/3)
		sp := &c.Site.Spectra[i]
		// EN 1998-1 Table 3.2 ground B: S 1.2, TB 0.15, TC 0.5, TD 2.0 s.
		require.NoError(t, sp.SetFourBranch(1.2*a, 2.5*1.2*a, 0.15, 0.5, 2, 4))
		w.Demand.AsIs(c.Stick, sp, &c.AsIs[i])
	}
}

// run evaluates a measure on a fresh Outcome.
func run(m Measure, c *Case) *Outcome {
	var w Work
	out := &Outcome{}
	m.Evaluate(&w, c, out)
	return out
}

// sized returns one number of the design.
func (o *Outcome) sized(t testing.TB, name string) float64 {
	t.Helper()
	for _, q := range o.Sized {
		if q.Name == name {
			return q.Value
		}
	}
	t.Fatalf("nothing sized is called %q: %v", name, o.Sized)
	return 0
}

// finding returns the finding of a rule.
func (o *Outcome) finding(t testing.TB, rule string) Finding {
	t.Helper()
	for _, f := range o.Findings {
		if f.Rule.Name == rule {
			return f
		}
	}
	t.Fatalf("no finding of %q", rule)
	return Finding{}
}

// every returns all measures with their defaults.
func every() []Measure {
	all := []Measure{asItStands{}}
	for _, k := range Kinds() {
		if k.Options != nil {
			all = append(all, byDefault(k.Slug))
		}
	}
	return all
}

// byDefault returns a measure with its defaults.
func byDefault(slug string) Measure {
	m, err := Defaults().Measure(slug)
	if err != nil {
		panic(err)
	}
	return m
}

// asItStands is leaving the building as it is: no rule, no design and no cost.
type asItStands struct{}

func (asItStands) Slug() string { return "none" }

func (n asItStands) Evaluate(w *Work, c *Case, out *Outcome) {
	out.reset(n)
	w.Built = Built{Stick: c.Stick}
	levels := out.levels(len(c.AsIs))
	for i := range levels {
		levels[i].CopyFrom(&c.AsIs[i])
	}
}
