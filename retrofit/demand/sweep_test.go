package demand

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"plinth/archetypes"
	"plinth/hazard"
)

// largestStep is the most by which a demand may grow in a step of 4 % of shaking, leastStep the least.
const (
	largestStep = 1.20
	leastStep   = 0.995
)

// Nothing falls as shaking grows by steps of 4 % from 0.3 to 3 times, and nothing grows by more
// than 20 % in one of them (16 % but for tall frames at first yield), with devices of any size on
// buildings of 1 to 30 storeys. A building
// whose own demand has steeper steps may keep them with a device. Drift is that of the first mode
// with its plastic part: where the higher modes first make a storey yield, drift of any building
// steps, with and without devices. Beyond a strength ratio of 8
// nothing is claimed, nor where the weight takes half of the hardening or more, as of weak towers on their
// way to collapse, and nothing of steps below a period of 0.2 s, where the displacement of a
// yielding building rises with a high power of shaking and devices suit none (rule short-period).
func TestDevicesAreSmoothInShaking(t *testing.T) {
	heights := []int{1, 2, 3, 5, 8, 12, 20, 30}
	if testing.Short() {
		heights = []int{1, 3, 8, 20}
	}
	for _, n := range heights {
		for _, pace := range []float64{0.8, 1, 2} { // periods of 0.1, 0.12 and 0.24 s a storey
			for _, strength := range []float64{0.06, 0.12, 0.25, 0.5} {
				for _, degrading := range []float64{0, 1} {
					st := plainStick(t, n, strength)
					st.Degrading = degrading
					for i := range st.Stiffness {
						st.Stiffness[i] /= pace * pace
					}
					for j := range st.Modes.Count {
						st.Modes.Period[j] *= pace
					}
					checkDevices(t, fmt.Sprintf("%d storeys, period %.2f s, strength %g, degrading %g", n,
						st.Modes.Period[0], strength, degrading), st)
				}
			}
		}
	}
}

// checkDevices takes every device of sweptDevices through the steps of shaking.
func checkDevices(t *testing.T, name string, st *archetypes.Stick) {
	t.Helper()
	var w Work
	var asIs, last, out Response
	steps := func(visit func(sp *hazard.Spectrum, first bool)) {
		for scale := 0.3; scale < 3; scale *= 1.04 {
			visit(workedSpectrum(scale), scale == 0.3)
		}
	}
	most := largestStep
	steps(func(sp *hazard.Spectrum, first bool) {
		w.AsIs(st, sp, &out)
		out.DriftRatio = largestRatio(w.Trace.Yielded, st.Height)
		if !first {
			most = max(most, grows(&last, &out))
		}
		last.CopyFrom(&out)
	})
	for _, d := range sweptDevices(st) {
		steps(func(sp *hazard.Spectrum, first bool) {
			w.AsIs(st, sp, &asIs)
			d.Demand(&w, st, sp, &asIs, &out)
			out.DriftRatio = largestRatio(w.Trace.Yielded, st.Height)
			upright := w.Trace.Sway < st.PostYield/2
			if !first && upright && asIs.Ductility <= domainRatio && st.Modes.Period[0] >= 0.2 {
				require.Zero(t, out.Status&(Capped|NotApplicable), "%s, %s", name, sizeOf(d))
				require.GreaterOrEqual(t, falls(&last, &out), leastStep, "%s, %s, mu %g", name, sizeOf(d),
					asIs.Ductility)
				require.LessOrEqual(t, grows(&last, &out), most, "%s, %s, mu %g", name, sizeOf(d),
					asIs.Ductility)
			}
			last.CopyFrom(&out)
		})
	}
}

// sizeOf names a device in a failure.
func sizeOf(d Device) string {
	if y, ok := d.(Yielding); ok {
		return fmt.Sprintf("yielding %.3g, %.3g", y.Stiffness[0], y.Force[0])
	}
	return fmt.Sprintf("%T %+v", d, d)
}

// sweptDevices returns devices of many sizes for st.
func sweptDevices(st *archetypes.Stick) (out []Device) {
	sp := workedSpectrum(1)
	roof := st.Modes.Gamma[0] * displacementOf(ordinate(sp, st.Modes.Period[0], 0.05), st.Modes.Period[0])
	for _, damping := range []float64{0.05, 0.15, 0.3} {
		out = append(out, Viscous{Alpha: 1, Damping: damping})
		for _, alpha := range []float64{0.2, 0.35, 0.5, 0.8} {
			out = append(out, Viscous{Alpha: alpha, Damping: damping, ReferenceRoof: roof})
		}
	}
	for _, stiffness := range []float64{0.25, 1, 2} {
		for _, force := range []float64{0.05, 0.2, 0.5, 0.8} {
			out = append(out, Yielding{Stiffness: scaled(st.Stiffness, stiffness),
				Force: scaled(st.Strength, force)})
		}
	}
	for _, share := range []float64{0.01, 0.03, 0.08} {
		out = append(out, TunedMass{Mass: share * st.ModalMass()})
	}
	return out
}

// demands returns the demands that a step of shaking may not move far.
func demands(r *Response) [4]float64 {
	return [...]float64{r.Roof, r.DriftRatio, r.PeakAccel, r.BaseShear}
}

// grows returns the largest ratio of a demand of b over that of a, falls the least.
func grows(a, b *Response) float64 {
	x, y, most := demands(a), demands(b), 0.0
	for i := range x {
		most = max(most, y[i]/x[i])
	}
	return most
}

func falls(a, b *Response) float64 {
	x, y, least := demands(a), demands(b), math.Inf(1)
	for i := range x {
		least = min(least, y[i]/x[i])
	}
	return least
}
