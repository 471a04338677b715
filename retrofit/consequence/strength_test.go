package consequence_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/archetypes"
	"plinth/hazard"
	"plinth/retrofit/consequence"
	"plinth/retrofit/demand"
)

// A frame of one period and many strengths, shaken at eight levels up to 1.6 g.
type strengthSweep struct {
	model    *consequence.Model
	spectra  []*hazard.Spectrum
	exposure consequence.Exposure
	arch     archetypes.Archetype
	work     demand.Work
	stick    archetypes.Stick
}

func newStrengthSweep(t *testing.T, system archetypes.System, storeys int, period float64) *strengthSweep {
	m, err := consequence.New(consequence.DefaultOptions())
	require.NoError(t, err)
	s := &strengthSweep{model: m}
	for pga := 0.1; pga < 1.7; pga += 0.2 {
		sp := new(hazard.Spectrum)
		sp.SetFourBranch(pga, 2.5*pga, 0.12, 0.6, 4, 10)
		s.spectra = append(s.spectra, sp)
	}
	d := archetypes.Unknown()
	d.System, d.Storeys, d.Year, d.PeriodGiven, d.FloorArea = system, storeys, 1965, period, 1000
	require.NoError(t, archetypes.Default().Assign(&d, &s.arch))
	l := s.arch.Limits
	e := &s.exposure
	*e = consequence.Exposure{Value: 1, OccupantsDay: 1, OccupantsNight: 1, DowntimeValue: 0.1 / 365,
		Limits:   [3]float64{l.ImmediateOccupancy, l.LifeSafety, l.CollapsePrevention},
		Collapse: l.Collapse, Infilled: s.arch.Infilled, Volume: s.arch.CollapseVolume,
		Fatality: s.arch.CollapseFatality, Frontage: 20}
	e.Split, _ = m.Split("office")
	e.Spread, _ = m.Spread("none",
		consequence.Budget{Capacity: s.arch.LimitsBeta, Knowledge: 0.3, Steepness: 1.3})
	return s
}

// at returns the losses at every level with a strength over weight.
func (s *strengthSweep) at(strength float64) (out []consequence.Loss) {
	s.arch.StrengthRatio = strength
	s.arch.Build(&s.stick)
	yield := math.Inf(1)
	for i, v := range s.stick.Strength {
		yield = min(yield, v/(s.stick.Stiffness[i]*s.stick.Height[i]))
	}
	s.exposure.Irreparable = s.model.Irreparable(yield)
	for _, sp := range s.spectra {
		var r demand.Response
		var l consequence.Level
		var loss consequence.Loss
		s.work.AsIs(&s.stick, sp, &r)
		l.Read(r.Drift, s.stick.Height, r.BaseAccel, r.Accel, r.Displacement)
		s.model.At(&s.exposure, &l, &loss)
		out = append(out, loss)
	}
	return out
}

// Weaker is never cheaper: at one period and one shaking the loss of structure and drift-sensitive
// fit-out, the casualties and the chance of being pulled down only fall as strength grows. The
// total may rise with strength by what floor acceleration does to the rest, and only where the
// weaker building stands. tolerance is the scatter of spectral demand from one strength to the
// next (equal displacement holds in the mean of a fit).
func TestWeakerIsNeverCheaper(t *testing.T) {
	const tolerance = 0.02
	for _, c := range []struct {
		system  archetypes.System
		storeys int
		period  float64
	}{
		{archetypes.SteelMomentFrame, 8, 0.6}, {archetypes.ConcreteFrame, 4, 0.6},
		{archetypes.ConcreteFrame, 1, 0.2},
		{archetypes.ConcreteFrameInfilled, 4, 0.4}, {archetypes.MasonryUnreinforced, 2, 0.25},
		{archetypes.ConcreteWall, 8, 0.6}, {archetypes.TimberFrame, 2, 0.3}, {archetypes.SteelMomentFrame, 15, 2.2},
	} {
		s := newStrengthSweep(t, c.system, c.storeys, c.period)
		weak := s.at(0.03)
		for v := 0.04; v < 1.3; v *= 1.25 {
			strong := s.at(v)
			for i := range weak {
				a, b := &weak[i], &strong[i]
				what := fmt.Sprintf("%s of %d storeys, level %d, Vy/W %.3f", c.system, c.storeys, i, v)
				for name, f := range map[string][2]float64{
					"structure": {a.Structure, b.Structure}, "fit-out": {a.DriftFitOut, b.DriftFitOut},
					"dead": {a.Dead, b.Dead}, "serious": {a.Serious, b.Serious}, "street": {a.Street, b.Street},
					"replaced": {a.Replaced, b.Replaced}, "collapse": {a.Collapse, b.Collapse},
				} {
					assert.LessOrEqual(t, f[1], f[0]*(1+tolerance)+1e-6, "%s: %s", what, name)
				}
				if b.Total > a.Total*(1+tolerance) {
					shaken := b.AccelFitOut + b.Contents - a.AccelFitOut - a.Contents
					assert.GreaterOrEqual(t, shaken+max(0, b.Downtime-a.Downtime), b.Total-a.Total, what)
					assert.Less(t, a.Replaced, 0.5, what)
				}
			}
			weak = strong
		}
	}
}
