package demand

import (
	"math"

	"plinth/archetypes"
)

// The modes of a stick after a change of stiffness, by inverse iteration from the earlier
// modes.

// modeTolerance is the relative change of a period at which iteration stops. The error of the
// shape is then about its square root.
const (
	modeTolerance = 1e-8
	maxModeSteps  = 400
)

// modes sets the modes of the trace to those of the masses of st on the storey stiffnesses k in
// N/m. If all stiffnesses change by one factor the shapes stay. Otherwise inverse iteration
// finds each mode from its earlier shape, orthogonal to the modes below (Clough and Penzien
// 2003, Dynamics of Structures).
func (w *Work) modes(st *archetypes.Stick, k []float64) {
	t := &w.Trace
	if factor := k[0] / st.Stiffness[0]; proportional(k, st.Stiffness, factor) {
		for j := range t.Count {
			t.Modes[j].Period /= math.Sqrt(factor)
		}
		return
	}
	for j := range t.Count {
		w.shapes[j] = append(w.shapes[j][:0], st.Modes.Shape[j][:st.N()]...)
		m := &t.Modes[j]
		m.Shape = w.shapes[j]
		last := 0.0
		for i := 0; math.Abs(m.Period-last) > modeTolerance*m.Period; i++ {
			if i == maxModeSteps {
				w.status |= Capped
				break
			}
			last = m.Period
			for below := range j {
				remove(st.Mass, m.Shape, w.shapes[below])
			}
			m.Period = inverseStep(st.Mass, k, m.Shape)
		}
		m.Gamma = toRoof(st.Mass, m.Shape)
	}
}

// proportional reports whether a is b times factor, to rounding.
func proportional(a, b []float64, factor float64) bool {
	for i, v := range b {
		if math.Abs(a[i]-factor*v) > rounding*a[i] {
			return false
		}
	}
	return true
}

// inverseStep replaces shape by the displacements of the chain under the loads
// m phi, scaled to a largest ordinate near 1, and returns the period in s of its
// Rayleigh quotient.
//
// The shear of a storey is the sum of the loads above it and its drift the shear
// over its stiffness.
func inverseStep(mass, stiffness, shape []float64) (period float64) {
	shear := 0.0
	for i := len(shape) - 1; i >= 0; i-- { // first the storey drifts
		shear += mass[i] * shape[i]
		shape[i] = shear / stiffness[i]
	}
	energy, kinetic, x, most := 0.0, 0.0, 0.0, 0.0
	for i, drift := range shape { // then the sum of the drifts
		energy += stiffness[i] * drift * drift
		x += drift
		shape[i] = x
		kinetic += mass[i] * x * x
		most = max(most, math.Abs(x))
	}
	scale := 1 / most
	for i := range shape {
		shape[i] *= scale
	}
	return 2 * math.Pi * math.Sqrt(kinetic/energy)
}

// remove makes shape orthogonal to mode.
func remove(mass, shape, mode []float64) {
	num, den := 0.0, 0.0
	for i, m := range mass {
		num += m * shape[i] * mode[i]
		den += m * mode[i] * mode[i]
	}
	for i := range shape {
		shape[i] -= num / den * mode[i]
	}
}

// toRoof scales shape to 1 at the roof and returns its participation factor.
func toRoof(mass, shape []float64) (gamma float64) {
	roof := shape[len(shape)-1]
	num, den := 0.0, 0.0
	for i := range shape {
		shape[i] /= roof
		num += mass[i] * shape[i]
		den += mass[i] * shape[i] * shape[i]
	}
	return num / den
}
