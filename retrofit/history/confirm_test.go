package history

import (
	"fmt"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/archetypes"
	"plinth/hazard"
	"plinth/hazard/motion"
)

// suiteOf returns a small suite for a ground type at ag in g.
func suiteOf(t testing.TB, records, iterations int) *motion.Suite {
	t.Helper()
	set := motion.DefaultSettings()
	set.Records, set.Iterations = records, iterations
	library, err := motion.NewLibrary(set, 1)
	require.NoError(t, err)
	s, err := library.Suite(spectrumOf(t, 'B', 0.3))
	require.NoError(t, err)
	return s
}

var order = []string{"as is", "strengthen", "yielding", "viscous linear", "viscous nonlinear", "tuned mass",
	"lead-rubber", "slider"}

// TestConfirm compares both methods for one frame with every device. The bands are those of
// docs/methods/demand.md. One building of one suite may differ by three bands, and none is
// flagged whose ratio is within both errors.
func TestConfirm(t *testing.T) {
	st := frameOf(t, 4, 0.6, 0.15, 1)
	made := devicesOf(st)
	devices := make([]Device, len(order))
	for i, name := range order {
		devices[i] = made[name]
	}
	s := suiteOf(t, 7, 12)
	var c Confirmer
	checks := c.Confirm(st, s, devices, Options{}, nil)
	for i, name := range order {
		k := &checks[i]
		require.NoError(t, k.Err, name)
		assert.Equal(t, 7, k.History.Runs)
		assert.Zero(t, k.History.Flawed, "%s: %v", name, k.History.Status.Words())
		for q := range Quantities {
			x := &k.Compared[q]
			t.Logf("%-18s %-22s spectral %9.4g history %9.4g ratio %.2f se %.3f band %.2f out %v", name, q,
				x.Spectral, x.Median, x.Ratio, x.Error, x.Band, x.Outside)
			if x.Band > 0 {
				assert.InDelta(t, 1, x.Ratio, 3*x.Band+3*x.Error, "%s, %s", name, q)
			}
		}
	}
}

// TestDampingInLongShaking compares both methods under records of D5-95 14 s. The spectral method
// knows how long they are and stays within 15 % for linear dampers and lead-rubber; without it drift
// and movement were a fifth to a half too large.
func TestDampingInLongShaking(t *testing.T) {
	set := motion.DefaultSettings()
	set.Records, set.Iterations, set.Step, set.Envelope = 5, 8, 0.01, motion.EnvelopeFor(14)
	library, err := motion.NewLibrary(set, 1)
	require.NoError(t, err)
	s, err := library.Suite(spectrumOf(t, 'B', 0.3))
	require.NoError(t, err)
	forgetful := *s
	forgetful.Mean = &hazard.Spectrum{}
	forgetful.Mean.CopyFrom(s.Mean)
	forgetful.Mean.Shaking = hazard.Shaking{}
	st := frameOf(t, 4, 0.6, 0.6, 1)
	made := devicesOf(st)
	var c Confirmer
	for name, q := range map[string]Quantity{"viscous linear": RoofDrift, "lead-rubber": Displacement} {
		knows := c.Confirm(st, s, []Device{made[name]}, Options{}, nil)[0].Compared[q].Ratio
		not := c.Confirm(st, &forgetful, []Device{made[name]}, Options{}, nil)[0].Compared[q].Ratio
		assert.InDelta(t, 1, knows, 0.15, name)
		assert.Greater(t, not, 1.1*knows, name)
	}
}

// TestConfirmIsDeterministic checks that a used Confirmer, alone or with others in parallel,
// gives the result of a new one, to the bit.
func TestConfirmIsDeterministic(t *testing.T) {
	st := frameOf(t, 3, 0.5, 0.15, 1)
	s := suiteOf(t, 2, 2)
	made := devicesOf(st)
	devices := []Device{nil, made["slider"], made["viscous nonlinear"]}
	var used Confirmer
	used.Confirm(st, s, []Device{made["tuned mass"], nil}, Options{}, nil)
	print := func(c *Confirmer) string { // NaN equals NaN in print; %v prints floats in full
		return fmt.Sprintf("%+v", c.Confirm(st, s, devices, Options{}, nil))
	}
	want := print(&Confirmer{})
	var wg sync.WaitGroup
	for range 3 {
		wg.Go(func() {
			assert.True(t, want == print(&Confirmer{}))
		})
	}
	wg.Wait()
	assert.True(t, want == print(&used))
}

// TestMethodHoldsAtLessDamping: the constants of spectral demand were fitted to buildings of 5 %
// damping. At the damping of their height, 3.9 to 2.5 % for 8 to 20 storeys, floors and base shear err
// against time histories as they do at 5 %, to 10 %, and elastic drift does. Drift that has yielded is
// up to a quarter more by the spectrum at that damping: docs/methods/demand.md. Taller and softer
// frames, whose weight takes the hardening away, are not judged.
func TestMethodHoldsAtLessDamping(t *testing.T) {
	s := suiteOf(t, 7, 12)
	var c Confirmer
	for _, b := range []struct {
		n                int
		period, strength float64
		drift            float64
	}{
		{8, 1.2, 5, 0.10}, {8, 1.2, 0.09, 0.20}, {12, 1.8, 5, 0.10}, {12, 1.8, 0.06, 0.20}, {20, 1.8, 0.08, 0.25},
	} {
		var ratio [2][Quantities]float64
		for i, damping := range []float64{archetypes.CodeDamping, archetypes.BuildingDamping(3.2 * float64(b.n))} {
			st := frameOf(t, b.n, b.period, b.strength, 1)
			st.Damping = damping
			check := c.Confirm(st, s, []Device{nil}, Options{}, nil)[0]
			require.NoError(t, check.Err)
			for q := range Quantities {
				ratio[i][q] = check.Compared[q].Ratio
			}
		}
		for q, most := range map[Quantity]float64{StoreyDrift: b.drift, FloorAccel: 0.10, BaseShear: 0.10} {
			t.Logf("%d storeys, %g s, %g W: %v %.3f at 5 %%, %.3f at its own", b.n, b.period, b.strength, q,
				ratio[0][q], ratio[1][q])
			assert.InEpsilon(t, ratio[0][q], ratio[1][q], most, "%v", q)
		}
	}
}
