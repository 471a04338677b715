package demand

import (
	"math"

	"plinth/archetypes"
	"plinth/hazard"
	"plinth/hazard/elementary"
)

// Yielding is a set of elastic-plastic devices (buckling-restrained braces, steel plates,
// friction panels), one in each storey, in parallel with the frame.
type Yielding struct {
	Stiffness []float64 // N/m, of the device and its brace in each storey [kd]
	Force     []float64 // N, yield force [Fd]; 0 for a storey without a device
}

// device returns the stiffness and force in storey i, both 0 if one of them is.
func (d *Yielding) device(i int) (stiffness, force float64) {
	if d.Stiffness[i] == 0 || d.Force[i] == 0 {
		return 0, 0
	}
	return d.Stiffness[i], d.Force[i]
}

// Yielding fills out with the demand on st with yielding devices d under sp. Secant stiffness
// and added damping are found in four passes on the storey amplitudes x, from x_i = 0.5 dy_i
// [fit].
//
//	dy_i = V_i/k_i,  V'_i = V_i + min(Fd_i, kd_i dy_i)
//	kr_i = r k_i (+ 0.64 kd_i [fit] if Fd_i > kd_i dy_i),  cl' = cl sum V/sum V'
//	de   = min(max(x_i, 1e-6), dy_i),  ks = k_i + min(kd_i de, Fd_i)/de
//	K_i  = ks ((k_i + kd_i)/ks)^0.2 [fit] where the device yields, else ks
//	ED   = sum over yielded devices of 4 Fd_i (de - Fd_i/kd_i),  ES = sum ks de2/2
//	b_h  = 0.87 [fit] ED/(4 pi ES) x s of the previous pass (1 in the first)
//	Sa1 x (1 + 0.55 [fit] y) once devices yield, y = 1 - sum V/sum V';  x_i <- 0.4 x_i + 0.6 C d_i [fit]
//
// The damping holds for all modes. Shapes above the first stay those of the frame, and their
// periods shorten with the first. Plastic drift decreases faster with height, 1/l growing by
// 3.9 y [fit]. Without devices the result is AsIs.
//
// A number that is negative or not finite is NotApplicable.
func (w *Work) Yielding(st *archetypes.Stick, sp *hazard.Spectrum, d Yielding, out *Response) {
	n := st.N()
	if len(d.Stiffness) != n || len(d.Force) != n {
		panic("demand: yielding devices need one value a storey")
	}
	if !w.load(st, out) {
		return
	}
	devices, ok := w.addDevices(st, &d)
	switch {
	case !ok:
		out.void(n)
	case devices == 0:
		w.AsIs(st, sp, out)
	default:
		w.yield(st, sp, &d)
		w.finish(st, sp, out)
	}
}

// addDevices sets strength, post-yield stiffness and degradation of frame and devices together,
// and the first amplitudes. ok is false for an invalid device.
func (w *Work) addDevices(st *archetypes.Stick, d *Yielding) (devices int, ok bool) {
	t := &w.Trace
	n := st.N()
	w.k, w.v = resize(w.k, n), resize(w.v, n)
	w.amplitude, w.held = resize(w.amplitude, n), resize(w.held, n)
	for i := range n {
		if !(d.Stiffness[i] >= 0) || !(d.Force[i] >= 0) || math.IsInf(d.Stiffness[i]+d.Force[i], 0) {
			return 0, false
		}
		kd, fd := d.device(i)
		if fd > 0 {
			devices++
		}
		v := st.Strength[i]
		dy := v / st.Stiffness[i]
		w.v[i] = v + min(fd, kd*dy)
		if fd > kd*dy {
			w.kr[i] += w.fit.DeviceHarden * kd
		}
		w.amplitude[i], w.held[i] = deviceStart*dy, 0
	}
	frame := sum(st.Strength) / sum(w.v)
	t.Degrading *= frame
	t.DeviceShare = 1 - frame
	t.Fall += w.fit.DeviceDecay * t.DeviceShare
	return devices, true
}

// leastAmplitude keeps the secant stiffness finite in a storey that hardly moves.
const leastAmplitude = 1e-6 // m

// rounding is the relative difference below which two numbers count as equal.
const rounding = 1e-12

// inverseSteps is the number of inverse iterations in a pass, from the shape of the previous
// pass. They give the first mode with devices: the error of its period is the square of that of
// its shape, which each pass reduces.
const inverseSteps = 2

// yield iterates the storey amplitudes; the modes are those of the last pass.
func (w *Work) yield(st *archetypes.Stick, sp *hazard.Spectrum, d *Yielding) {
	t := &w.Trace
	t.Strength, t.Stiffness = w.v, w.k
	w.shapes[0] = append(w.shapes[0][:0], st.Modes.Shape[0][:st.N()]...)
	first := &t.Modes[0]
	first.Shape = w.shapes[0]
	s := 1.0
	for pass := range Passes {
		dissipated, stored := w.secant(st, d)
		added := w.fit.DeviceDamp * dissipated / (4 * math.Pi * stored) * s
		for range inverseSteps {
			first.Period = inverseStep(st.Mass, w.k, first.Shape)
		}
		first.Gamma = toRoof(st.Mass, first.Shape)
		first.Damping = t.Damping + added
		first.read(sp)
		if dissipated > 0 {
			more := 1 + w.fit.DeviceFirst*t.DeviceShare
			first.Sa *= more
			first.Sd *= more
		}
		w.displace(sp)
		s = t.YieldFraction
		for i, drift := range t.First {
			w.amplitude[i] = (1-deviceMix)*w.amplitude[i] + deviceMix*t.C*drift
		}
		t.Passes[pass] = Pass{
			Added: added, Dissipated: dissipated, Stored: stored, Period: first.Period,
			YieldFraction: s, C: t.C, Roof: t.Roof,
		}
	}
	t.PassCount = Passes
	for j := 1; j < t.Count; j++ {
		m := &t.Modes[j]
		m.Period = st.Modes.Period[j] * first.Period / st.Modes.Period[0]
		m.Damping = first.Damping
		m.read(sp)
	}
	if !sp.Covers(first.Period) {
		w.status |= Extrapolated
	}
}

// secant sets the storey stiffnesses at the current amplitudes and returns the
// energies of a cycle in J.
func (w *Work) secant(st *archetypes.Stick, d *Yielding) (dissipated, stored float64) {
	ratio, stiffer := 1.0, 1.0 // of the previous storey, and its power: often equal to the next
	for i, k := range st.Stiffness {
		kd, fd := d.device(i)
		de := min(max(w.amplitude[i], leastAmplitude), st.Strength[i]/k)
		ks := k + min(kd*de, fd)/de
		stored += ks * de * de / 2
		if kd*de > fd {
			dissipated += 4 * fd * (de - fd/kd)
		}
		if de == w.held[i] { // K unchanged from the previous pass
			continue
		}
		w.held[i], w.k[i] = de, ks
		if kd*de > fd {
			if r := (k + kd) / ks; math.Abs(r-ratio) > rounding*r {
				ratio, stiffer = r, elementary.Pow(r, w.fit.DeviceSecant)
			}
			w.k[i] = ks * stiffer
		}
	}
	return dissipated, stored
}

// sum returns the sum of x.
func sum(x []float64) float64 {
	total := 0.0
	for _, v := range x {
		total += v
	}
	return total
}
