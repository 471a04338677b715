package demand

import (
	"math"

	"plinth/archetypes"
	"plinth/hazard"
	"plinth/hazard/elementary"
)

// isolatedFrameDamping is the damping of the first mode of a frame above isolators, which hold
// back nothing: less than the 5 % of a frame on its foundations (judgement). That of a free mode
// is proportional to its frequency, as stiffness-proportional damping is.
const isolatedFrameDamping = 0.02

// A FreeMode is one mode of a frame above isolators other than the lowest, in which the isolators
// hardly hold it: the slab moves by 1.
type FreeMode struct {
	Period  float64   // s [Tj]
	Mass    float64   // kg, of the mode for a slab ordinate of 1 [mu]
	Damping float64   // fraction of critical [z]
	Elastic float64   // m/s2, of the slab, by the shaking that the isolators pass on
	Kick    float64   // m/s2, by their reversals
	Accel   float64   // m/s2, together with dampers [A]
	Shape   []float64 // of the floors [psi]
}

// freeModes fills the free modes and their accelerations. A rigid block on isolators lacks these
// modes; its accelerations would be two to three times too low.
//
// The isolators hold the modes with their stiffness before yield, Kc = K1, until they yield; then
// with its mean over a cycle, in which they have K1 on the way back over 2 Dy from each reversal:
//
//	Kc = K2 + (K1 - K2) th/pi,  th = acos(1 - 2 Dy/D),  tr = th Te/(2 pi)
//
// For a slider D + Dy stands for D, since it slides by D, and Kc is at least Ke. With the first modes
// of the frame on a fixed base and their effective masses Me_j, and the rest of its mass with the
// slab in M0, the frequencies are the roots of
//
//	F(x) = Kc - x (M0 + sum Me_j w_j2/(w_j2 - x)),  x = w2,  mu = -F'(x)
//
// one between each two of the w_j2 and one above the last (dynamic stiffness at the slab; Clough and
// Penzien, Dynamics of Structures, from memory). Shaking enters mode j with Kc/(mu w2), which for a
// uniform beam is eps/(2 j2), and each reversal with a step of force of 2 Qd (1 - Dy/D) that takes tr
// to rise:
//
//	E_j = Kc/(mu w2) Sa(Tj)/B(z),  K_j = 2 Qd (1 - Dy/D)/mu/sqrt((1 + (w tr/4)2)(1 - exp(-z w Te)))
//	A_j2 = E_j2 + K_j2 + (C/(mu w) Sa(Tj)/B(z + C/(2 mu w)))2
//
// The exponential counts what is left of the reversals before, at random phase, Te/2 apart. The
// factor of the rise is the envelope of a force that rises with the square of time over tr/2: the
// vibrations turn the slab back sooner than its slow movement would. The last term is due to parallel
// viscous dampers of constant C: above the isolated frequency the slab stands still and the ground
// moves, so that they push the slab with C times the ground velocity (mechanics; no time history was
// run).
func (w *Work) freeModes(st *archetypes.Stick, sp *hazard.Spectrum, d Isolation) {
	t := &w.Trace.Isolated
	s, e := &t.System, &t.Equilibrium
	amplitude := e.Displacement
	if d.Kind == Slider {
		amplitude += t.Play
	}
	ratio := min(1, t.Play/amplitude)
	angle := math.Acos(1 - 2*ratio) // of the way back over 2 Dy
	step, rise := 2*s.Qd*(1-ratio), angle*e.Period/(2*math.Pi)
	t.Stiff = s.Kd + s.Qd/t.Play*angle/math.Pi
	if d.Kind == Slider {
		t.Stiff = max(t.Stiff, e.Stiffness)
	}
	w.freePeriods(st, t.Mass-w.restrained(), t.Stiff)
	q := balance{*s, sp, d.Reduction}
	free := t.Free[:w.Trace.Count]
	for j := range free {
		f := &free[j]
		omega := 2 * math.Pi / f.Period
		f.Damping = isolatedFrameDamping * st.Modes.Period[0] / f.Period
		f.Elastic = t.Stiff / (f.Mass * omega * omega) * q.ordinate(f.Period, f.Damping)
		x := omega * rise / 4
		f.Kick = step / f.Mass / math.Sqrt((1+x*x)*(1-elementary.Exp(-f.Damping*omega*e.Period)))
		sum := f.Elastic*f.Elastic + f.Kick*f.Kick
		if s.C > 0 {
			x := s.C / (f.Mass * omega)
			y := x * q.ordinate(f.Period, f.Damping+x/2)
			sum += y * y
		}
		f.Accel = math.Sqrt(sum)
	}
}

// restrained returns the sum of the effective masses in use.
func (w *Work) restrained() (sum float64) {
	for _, m := range w.effective[:w.Trace.Count] {
		sum += m
	}
	return sum
}

// freePeriods fills the periods, masses and shapes of the free modes above isolators of stiffness kc
// in N/m, with m0 in kg moving with the slab.
func (w *Work) freePeriods(st *archetypes.Stick, m0, kc float64) {
	t := &w.Trace.Isolated
	var poles, weight [archetypes.MaxModes]float64
	count := w.Trace.Count
	constant := kc
	for j := range count {
		x := 2 * math.Pi / st.Modes.Period[j]
		poles[j] = x * x
		constant += w.effective[j] * poles[j]
		weight[j] = w.effective[j] * poles[j] * poles[j]
	}
	for j := range count {
		f := &t.Free[j]
		x, mass := root(poles[:count], weight[:count], constant, m0, j)
		f.Period, f.Mass = 2*math.Pi/math.Sqrt(x), mass
		f.Shape = resize(f.Shape, st.N())
		for i := range f.Shape {
			f.Shape[i] = 1
		}
		for l := range count {
			part := st.Modes.Gamma[l] * x / (poles[l] - x)
			for i, phi := range st.Modes.Shape[l] {
				f.Shape[i] += part * phi
			}
		}
	}
}

// freeTolerance is the last step of root over the distance to the pole below; the error is its square.
const freeTolerance = 1e-4

// root returns the root above pole j of
//
//	F(x) = constant - x m0 + sum of weight/(x - pole)
//
// and -F' there. F falls between poles, and weights are positive, so there is one below the next pole
// or anywhere above the last. Each step solves a quadratic that has both poles and the value and slope
// of the rest (the secular equation; Golub and Van Loan, Matrix Computations, from memory).
func root(poles, weight []float64, constant, m0 float64, j int) (x, slope float64) {
	low, last := poles[j], j+1 == len(poles)
	span, y := 0.0, math.Sqrt(weight[j]/m0)
	if !last {
		span = poles[j+1] - low
		y = span / 2
	}
	for range maxSteps {
		x = low + y
		rest, fall := constant-x*m0, m0 // of F without the poles beside x, and its fall
		for l, pole := range poles {
			if l != j && l != j+1 {
				part := weight[l] / (x - pole)
				rest += part
				fall += part / (x - pole)
			}
		}
		near, before := weight[j], y
		if last {
			c := rest + fall*y
			y = (c + math.Sqrt(c*c+4*fall*near)) / (2 * fall)
		} else {
			far := weight[j+1] + fall*(span-y)*(span-y)
			c := rest + fall*(span-y)
			b := c*span - near - far
			y = 2 * near * span / (math.Sqrt(b*b+4*c*near*span) - b)
		}
		if math.Abs(y-before) <= freeTolerance*min(y, before) {
			break
		}
	}
	x, slope = low+y, m0+weight[j]/(y*y)
	for l, pole := range poles {
		if l != j {
			slope += weight[l] / ((x - pole) * (x - pole))
		}
	}
	return x, slope
}

// isolatedFloors fills the accelerations of the slab above the isolators and of the floors.
//
//	a_i2 = (p_i a_1i)2 + sum over j of (p_i A_j psi_ij)2,  p_0 = 1, psi_0j = 1
//
// p_i is what the storeys below floor i let through.
func (w *Work) isolatedFloors(st *archetypes.Stick, out *Response) {
	t := &w.Trace.Isolated
	free := t.Free[:w.Trace.Count]
	sum := t.Slow[0] * t.Slow[0]
	for j := range free {
		sum += free[j].Accel * free[j].Accel
	}
	out.BaseAccel = math.Sqrt(sum)
	out.PeakAccel = out.BaseAccel
	out.Accel = resize(out.Accel, st.N())
	for i := range out.Accel {
		sum := t.Slow[i+1] * t.Slow[i+1]
		for j := range free {
			x := free[j].Accel * free[j].Shape[i]
			sum += x * x
		}
		out.Accel[i] = t.Passed[i] * math.Sqrt(sum)
		out.PeakAccel = max(out.PeakAccel, out.Accel[i])
	}
}
