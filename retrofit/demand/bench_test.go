package demand

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"

	"plinth/archetypes"
	"plinth/hazard"
)

// A measureCase is one call on a stick of any height.
type measureCase struct {
	name string
	call func(w *Work, st *archetypes.Stick, sp *hazard.Spectrum, fixed, out *Response)
}

// measureCases returns every call of the package with a design that fits n storeys of
// plainStick.
func measureCases(st *archetypes.Stick) []measureCase {
	n := st.N()
	weight := sum(st.Mass) * hazard.Gravity
	devices := Yielding{Stiffness: append([]float64(nil), st.Stiffness...), Force: make([]float64, n)}
	strong := Strengthening{Stiffness: make([]float64, n), Strength: make([]float64, n)}
	for i := range n {
		devices.Force[i] = 0.4 * st.Strength[i]
		factor := 1.2 + 0.5*float64(i%2)
		strong.Strength[i] = st.Strength[i] * factor
		strong.Stiffness[i] = st.Stiffness[i] * StiffnessFactor(factor)
	}
	base := st.Mass[0]
	mass := weight/hazard.Gravity + base
	lead := Isolation{Kind: LeadRubber, Qd: 0.06 * weight, K2: mass * 5, K1: mass * 50, BaseMass: base,
		Reduction: hazard.ReductionIsolation}
	slide := Isolation{Kind: Slider, Qd: 0.06 * weight, K2: mass * 4.4, K1: mass*4.4 + 0.06*weight/0.001,
		BaseMass: base, Reduction: hazard.ReductionIsolation}
	return []measureCase{
		{"as-is", func(w *Work, st *archetypes.Stick, sp *hazard.Spectrum, _,
			out *Response) {
			w.AsIs(st, sp, out)
		}},
		{"viscous-linear", func(w *Work, st *archetypes.Stick, sp *hazard.Spectrum, _, out *Response) {
			w.Viscous(st, sp, Viscous{Alpha: 1, Damping: 0.15}, out)
		}},
		{"viscous-nonlinear", func(w *Work, st *archetypes.Stick, sp *hazard.Spectrum, _, out *Response) {
			w.Viscous(st, sp, Viscous{Alpha: 0.5, Damping: 0.15, ReferenceRoof: 0.1}, out)
		}},
		{"yielding", func(w *Work, st *archetypes.Stick, sp *hazard.Spectrum, _, out *Response) {
			w.Yielding(st, sp, devices, out)
		}},
		{"tuned-mass", func(w *Work, st *archetypes.Stick, sp *hazard.Spectrum, _, out *Response) {
			w.TunedMass(st, sp, TunedMass{Mass: 0.02 * mass}, out)
		}},
		{"lead-rubber", func(w *Work, st *archetypes.Stick, sp *hazard.Spectrum, fixed, out *Response) {
			w.Isolated(st, sp, lead, fixed, out)
		}},
		{"slider", func(w *Work, st *archetypes.Stick, sp *hazard.Spectrum, fixed, out *Response) {
			w.Isolated(st, sp, slide, fixed, out)
		}},
		{"strengthen", func(w *Work, st *archetypes.Stick, sp *hazard.Spectrum, _, out *Response) {
			w.Strengthened(st, sp, strong, out)
		}},
	}
}

func BenchmarkMeasures(b *testing.B) {
	sp := workedSpectrum(1)
	for _, n := range []int{3, 8, 20} {
		st := plainStick(b, n, 0.12)
		for _, c := range measureCases(st) {
			b.Run(fmt.Sprintf("%s/%d", c.name, n), func(b *testing.B) {
				var w Work
				var fixed, out Response
				w.AsIs(st, sp, &fixed)
				b.ReportAllocs()
				for b.Loop() {
					c.call(&w, st, sp, &fixed, &out)
				}
			})
		}
	}
}

func TestNothingIsAllocated(t *testing.T) {
	sp := workedSpectrum(1)
	st := plainStick(t, 8, 0.12)
	for _, c := range measureCases(st) {
		var w Work
		var fixed, out Response
		w.AsIs(st, sp, &fixed)
		c.call(&w, st, sp, &fixed, &out)
		allocs := testing.AllocsPerRun(100, func() { c.call(&w, st, sp, &fixed, &out) })
		assert.Zero(t, allocs, c.name)
	}
}
