package history

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/archetypes"
	"plinth/retrofit/demand"
)

// perStep runs a model once and again and reports the time for one degree of freedom
// and step.
func perStep(b *testing.B, st *archetypes.Stick, d Device) {
	m, err := New(st, d, Options{})
	require.NoError(b, err)
	r := shaking(0.005, 0.4)
	var w Work
	var out Result
	w.once(m, r, 1, &out, nil)
	steps := len(r.Accel) + int(tailPeriods*m.period/r.Step)
	b.ReportAllocs()
	for b.Loop() {
		w.once(m, r, 1, &out, nil)
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*steps*len(m.links)), "ns/dof-step")
}

func BenchmarkStep(b *testing.B) {
	for _, n := range []int{3, 8, 20} {
		for _, c := range []struct {
			name      string
			degrading float64
			device    Device
		}{
			{"explicit-bilinear", 0, nil},
			{"explicit-degrading", 1, nil},
			{"newmark-linear", 0, demand.Viscous{Alpha: 1, Damping: 0.15}},
			{"newmark-nonlinear", 1, demand.Viscous{Alpha: 0.5, Damping: 0.15, ReferenceRoof: 0.1}},
			{"newmark-nonlinear-0.3", 1, demand.Viscous{Alpha: 0.3, Damping: 0.15, ReferenceRoof: 0.1}},
			{"newmark-tuned-mass", 1, demand.TunedMass{Mass: 1e5}},
		} {
			b.Run(fmt.Sprintf("%s/%d", c.name, n), func(b *testing.B) {
				perStep(b, frameOf(b, n, 0.12*float64(n), 0.15, c.degrading), c.device)
			})
		}
	}
}

func TestNothingIsAllocatedPerRun(t *testing.T) {
	r := shaking(0.005, 0.4)
	r.Accel = r.Accel[:400]
	for _, d := range []Device{nil, demand.Viscous{Alpha: 0.5, Damping: 0.15, ReferenceRoof: 0.1}} {
		m, err := New(frameOf(t, 5, 0.6, 0.15, 1), d, Options{PDelta: true})
		require.NoError(t, err)
		var w Work
		var out Result
		w.Run(m, r, &out)
		assert.Zero(t, testing.AllocsPerRun(3, func() { w.Run(m, r, &out) }))
	}
}

// BenchmarkShortlist measures one building of a shortlist: 3 measures and as it stands, 11
// records, 3 levels. 100 buildings should take less than 60 s on two processors, so 1.2 s for
// one.
func BenchmarkShortlist(b *testing.B) {
	st := frameOf(b, 8, 0.96, 0.15, 1)
	made := devicesOf(st)
	devices := []Device{nil, made["lead-rubber"], made["viscous linear"], made["strengthen"]}
	s := suiteOf(b, 11, 2)
	var c Confirmer
	var checks []Check
	b.ReportAllocs()
	for b.Loop() {
		for range 3 {
			checks = c.Confirm(st, s, devices, Options{}, checks)
		}
	}
}
