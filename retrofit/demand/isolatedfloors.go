package demand

import (
	"math"

	"plinth/archetypes"
	"plinth/hazard"
	"plinth/hazard/elementary"
)

// lightDamping is B at the 2 % damping of a frame above isolators (ASCE 7-16 Table
// 17.5-1).
const lightDamping = 0.8

// isolatedFloors fills the accelerations of the slab above the isolators and of the floors.
// Isolators that yield or break away excite the free-free modes j of the frame. A rigid block
// on isolators lacks these modes; its accelerations would be two to three times too low.
//
//	a_i   = min(a_fixed, sqrt(a_1i2 + sum over j <= min(4, N) of 2 (A_j cos(j pi i/N))2))
//	a_1i  = Vb F_i/sum m F,  F_0 = 1,  F_i = 1 + eps G1 phi_i1,  eps = (Tf/Te)2
//	A_j2  = (c (2 Qd/M)(1 - Dy/D)(Vb/2 Qd)^p)2/(1 + (0.5 pi tr/Tj)2) + 0.5 (cE eps/(2 j2) Sa(Tj)/0.8)2
//	        + 0.5 (x_j Sa(Tj)/B(0.02 + x_j/2))2
//	Tj    = Tf/(2 j),  tr = 2 sqrt(Dy M/Vb),  x_j = (2 C/M)(Tj/2 pi)
//	a_fixed = sqrt(sum over j of (G_j Sa_j/0.8)2)
//
// Lead-rubber: c = 1.8, p = 0, cE = 0; sliders: c = 1.47, p = -0.04, cE = 2.65 [all fit]. 0.8
// is B at 2 % damping (ASCE 7-16 Table 17.5-1). The term in x_j is due to parallel viscous
// dampers of constant C: above the isolated frequency the slab stands still and the ground
// moves, so that the dampers push the slab with C times the ground velocity. Mode j of mass M/2
// responds as to a ground acceleration x_j times as large (mechanics; no time history was run).
func (w *Work) isolatedFloors(st *archetypes.Stick, sp *hazard.Spectrum, kind IsolatorKind, baseMass float64,
	out *Response) {
	t := &w.Trace.Isolated
	n := st.N()
	tf := st.Modes.Period[0]
	t.Separation = tf / t.Equilibrium.Period
	t.Separation *= t.Separation
	phi, gain := st.Modes.Shape[0], t.Separation*st.Modes.Gamma[0]
	t.First = resize(t.First, n+1)
	t.First[0] = 1
	sum := baseMass
	for i, m := range st.Mass {
		t.First[i+1] = 1 + gain*phi[i]
		sum += m * t.First[i+1]
	}
	w.kicks(sp, kind, tf, n)
	t.Cap = 0
	for j := range w.Trace.Count {
		x := st.Modes.Gamma[j] * sp.Sa(st.Modes.Period[j]) * hazard.Gravity / lightDamping
		t.Cap += x * x
	}
	t.Cap = math.Sqrt(t.Cap)

	out.Accel = resize(out.Accel, n)
	out.PeakAccel = 0
	step := math.Cos(math.Pi / float64(n))
	before, cos := step, 1.0 // cos(pi (i - 1)/N) and cos(pi i/N)
	for i := range t.First {
		t.First[i] *= t.Shear / sum
		a := t.First[i] * t.First[i]
		older, c := cos, 1.0 // cos((j - 1) x) and cos(j x) by recurrence, x = pi i/N
		for j := range min(isolatedModes, n) {
			c, older = 2*cos*c-older, c
			a += 2 * t.Kick[j] * t.Kick[j] * c * c
		}
		a = min(t.Cap, math.Sqrt(a))
		if i == 0 {
			out.BaseAccel = a
		} else {
			out.Accel[i-1] = a
		}
		out.PeakAccel = max(out.PeakAccel, a)
		before, cos = cos, 2*step*cos-before
	}
}

// kicks fills the accelerations of the free-free modes.
func (w *Work) kicks(sp *hazard.Spectrum, kind IsolatorKind, tf float64, n int) {
	t := &w.Trace.Isolated
	s, e := &t.System, &t.Equilibrium
	kick := w.fit.LeadKick * 2 * s.Qd / t.Mass * (1 - s.Dy/e.Displacement)
	elastic := 0.0
	if kind == Slider {
		kick *= w.fit.SlideKick / w.fit.LeadKick * elementary.Pow(t.Shear/(2*s.Qd), w.fit.SlidePower)
		elastic = w.fit.SlideElastic
	}
	rise := 2 * math.Sqrt(s.Dy*t.Mass/t.Shear)
	t.Kick = [isolatedModes]float64{}
	for j := range min(isolatedModes, n) {
		order := float64(j + 1)
		period := tf / (2 * order)
		x := 0.5 * math.Pi * rise / period
		sum := kick * kick / (1 + x*x)
		if elastic > 0 {
			y := elastic * t.Separation / (2 * order * order) * sp.Sa(period) * hazard.Gravity / lightDamping
			sum += 0.5 * y * y
		}
		if s.C > 0 {
			x := 2 * s.C / t.Mass * period / (2 * math.Pi)
			y := x * sp.Sa(period) * hazard.Gravity / reduction(sp.Worth(0.02+x/2, period))
			sum += 0.5 * y * y
		}
		t.Kick[j] = math.Sqrt(sum)
	}
}
