package demand

import (
	"math"

	"plinth/archetypes"
	"plinth/hazard"
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

// Yielding fills out with the demand on st with yielding devices d under sp. Each storey has three
// lines: both elastic, the device yielding at dyd_i = Fd_i/kd_i, the frame yielding at dy_i.
//
// Frame and devices together are replaced by an elastic frame. Its stiffness is the secant at the
// roof amplitude u or, past it, where the frame yields: what follows is in the displacement ratio. Its
// damping is that of the pair averaged over the amplitudes up to u, since few swings of a shaking
// reach u (average damping as of Newmark and Rosenblueth 1971, Fundamentals of Earthquake Engineering;
// from memory). With x_i = u |dphi_i1|, a = x_i/dyd_i and kappa = kd_i/k_i, where a > 1:
//
//	K_i = k_i + Fd_i/min(x_i, dy_i)
//	b_i = 1/x_i integral to x_i of 2/pi Fd_i (x - dyd_i)/(x (k_i x + Fd_i)) dx
//	    = 2/(pi a) ((1 + kappa) ln((a + kappa)/(1 + kappa)) - ln a)
//
// else k_i + kd_i and 0. The damping of the frame is the mean of the b_i with the energies
// (k_i + kd_i/a) x_i2.
// Yield of the frame, at dy_i, has the displacement ratio C of displacement.go, for the share of
// the stiffness that yields with it; devices that have not yielded before go on:
//
//	p_i = (min(Fd_i, kd_i x_i) - min(Fd_i, kd_i dy_i))/(x_i - dy_i)
//	u   = (1 + (C - 1) sum k/sum (k + p)) G1 Sd1
//
// The roof amplitude is the root of this equation. Forces are those of the lines:
//
//	V'_i = V_i + min(Fd_i, kd_i dy_i),  kr_i = r k_i + p_i
//	cl'  = cl (1 - y),  y = 1 - sum V/sum V'
//
// Shapes and damping above the first mode stay those of the frame, since devices that the first mode
// holds at yield do not turn back with the others; their periods shorten with the first. Plastic
// drift decreases faster with height, 1/l growing by 49.4 y [fit]. As the force of the devices
// goes to 0, whatever their stiffness, K and b go to k and 0, and the result to AsIs; without
// devices it is AsIs.
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

// addDevices sets strength and degradation of frame and devices together. ok is false for an
// invalid device.
func (w *Work) addDevices(st *archetypes.Stick, d *Yielding) (devices int, ok bool) {
	t := &w.Trace
	n := st.N()
	w.k, w.v = resize(w.k, n), resize(w.v, n)
	w.amplitude = resize(w.amplitude, n)
	for i := range n {
		if !(d.Stiffness[i] >= 0) || !(d.Force[i] >= 0) || math.IsInf(d.Stiffness[i]+d.Force[i], 0) {
			return 0, false
		}
		kd, fd := d.device(i)
		if fd > 0 {
			devices++
		}
		w.v[i] = st.Strength[i] + min(fd, kd*st.Strength[i]/st.Stiffness[i])
	}
	frame := sum(st.Strength) / sum(w.v)
	t.Degrading *= frame
	t.DeviceShare = 1 - frame
	return devices, true
}

// rounding is the relative difference below which two numbers count as equal.
const rounding = 1e-12

// inverseSteps is the number of inverse iterations from the shape of the frame. They give the
// first mode with devices: the error of its period is the square of that of its shape.
const inverseSteps = 2

// shapeSteps is the number of substitutions that find how the drifts spread over the storeys
// before the roof amplitude is sought: devices that yield soften their storeys.
const shapeSteps = 2

// yield finds the roof amplitude; the modes are those at its last trial.
func (w *Work) yield(st *archetypes.Stick, sp *hazard.Spectrum, d *Yielding) {
	t := &w.Trace
	t.Strength, t.Stiffness = w.v, w.k
	first := &t.Modes[0]
	bare := *first
	w.shapes[0] = append(w.shapes[0][:0], bare.Shape[:st.N()]...)
	first.Shape = w.shapes[0]
	u := math.Abs(bare.Gamma) * displacementOf(ordinate(sp, bare.Period, t.Damping), bare.Period)
	for range shapeSteps {
		w.spread()
		u = w.sway(st, sp, d, u)
	}
	w.spread()
	q := startAt(u, math.Inf(1))
	for q.more() && q.x > 0 {
		u = q.x
		q.take(w.sway(st, sp, d, u))
		t.record(q.steps, Pass{Amplitude: u, Added: first.Damping - t.Damping, Period: first.Period,
			YieldFraction: t.YieldFraction, FrameShare: w.share, C: t.C, Roof: t.Roof})
	}
	if q.x > 0 && !q.found {
		w.status |= Capped
	}
	w.harden(st, d, t.Roof)
	for j := 1; j < t.Count; j++ {
		m := &t.Modes[j]
		m.Period = st.Modes.Period[j] * first.Period / bare.Period
		m.read(sp)
	}
	if !sp.Covers(first.Period) {
		w.status |= Extrapolated
	}
}

// spread keeps the storey drifts of the present first shape.
func (w *Work) spread() {
	below := 0.0
	for i, phi := range w.Trace.Modes[0].Shape {
		w.amplitude[i], below = math.Abs(phi-below), phi
	}
}

// sway returns the roof displacement in m of the frame softened at roof amplitude u in m.
func (w *Work) sway(st *archetypes.Stick, sp *hazard.Spectrum, d *Yielding, u float64) float64 {
	t := &w.Trace
	first := &t.Modes[0]
	w.soften(st, d, u)
	first.read(sp)
	w.displace(sp)
	t.C = 1 + (t.C-1)*w.share
	t.Roof = t.C * math.Abs(first.Gamma) * first.Sd
	return t.Roof
}

// soften sets the storeys and the first mode at roof amplitude u in m, and the share of the
// stiffness that yields with the frame.
func (w *Work) soften(st *archetypes.Stick, d *Yielding, u float64) {
	first := &w.Trace.Modes[0]
	lost, stored, frame, all := 0.0, 0.0, 0.0, 0.0
	for i, k := range st.Stiffness {
		x := u * w.amplitude[i]
		kd, fd := d.device(i)
		dy := st.Strength[i] / k
		w.k[i] = k + min(kd, fd/min(x, dy))
		energy := (k + min(kd, fd/x)) * x * x
		stored += energy
		lost += energy * averaged(k, kd, fd, x)
		frame += k
		all += k + past(kd, fd, dy, x)
	}
	for range inverseSteps {
		first.Period = inverseStep(st.Mass, w.k, first.Shape)
	}
	first.Gamma = toRoof(st.Mass, first.Shape)
	first.Damping = w.Trace.Damping
	if stored > 0 {
		first.Damping += lost / stored
	}
	w.share = frame / all
}

// sum returns the sum of x.
func sum(x []float64) float64 {
	total := 0.0
	for _, v := range x {
		total += v
	}
	return total
}
