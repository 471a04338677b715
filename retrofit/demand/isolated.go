package demand

import (
	"math"

	"plinth/archetypes"
	"plinth/hazard"
)

// IsolatorKind is the kind of isolator.
type IsolatorKind uint8

// The kinds of isolator.
const (
	LeadRubber IsolatorKind = iota // elastomeric bearings with a lead core
	Slider                         // curved-surface sliders
)

// Isolation is a plane of isolators below a frame. Its force is bilinear: K1 up
// to the yield displacement Dy = Qd/(K1 - K2), then Qd + K2 D.
type Isolation struct {
	Kind      IsolatorKind
	Qd        float64          // N, characteristic strength of all isolators
	K1        float64          // N/m, stiffness before yield or breakaway, above K2
	K2        float64          // N/m, stiffness after
	BaseMass  float64          // kg, of the slab above the isolators
	Reduction hazard.Reduction // B(damping), such as that of ASCE 7-16 Table 17.5-1
	Upper     Bound            // forces are taken with it; zero for nominal properties
	Lower     Bound            // displacement is taken with it; zero for nominal properties
}

// A Bound is a pair of property modification factors (ASCE 7-16 17.2.8.4). The
// zero value is nominal.
type Bound struct {
	Qd float64 `toml:"strength" min:"0.1" max:"10" doc:"factor on characteristic strength"`
	Kd float64 `toml:"stiffness" min:"0.1" max:"10" doc:"factor on stiffness past yield"`
}

// IsolatedTrace is what Isolated computed on its way.
type IsolatedTrace struct {
	System      System // at the upper bound
	Equilibrium Equilibrium
	Lower       Equilibrium // at the lower bound; that of System without bounds
	Mass        float64     // kg, above the isolators [M]
	Shear       float64     // N, through the isolators [Vb]
	FrameShear  float64     // N, above the base slab [Vst]
	Exponent    float64     // of height in the distribution of force [k]
	StoreyShear []float64   // N
	Worst       int         // storey of the largest demand over strength [m]
	DCR         float64
	Separation  float64                   // (Tf/Te)2 [eps]
	First       []float64                 // m/s2, base slab first [a_1i]
	Kick        [fitIsolatedModes]float64 // m/s2 [A_j]
	Cap         float64                   // m/s2 [a_fixed]
}

// Isolated fills out with the demand on st above the isolators d under sp, by an
// equivalent linear solution (SolveDisplacement) and the distribution of ASCE
// 7-16 17.5. fixed is the response AsIs gave for the same st and sp; it is read,
// not written, and must not be out.
//
// Isolators that do not yield at this level leave a fixed-base building: out is
// then fixed with the status Stuck. A frame that yields above the isolators has
// the status RankingOnly and its Ductility is the demand over strength of its
// worst storey. With bounds, forces come from the upper and the displacement from
// the lower.
//
// K1 not above K2, or a number that is not finite and positive, is NotApplicable;
// so is a fixed that is. An effective period below twice
// the fixed-base period is OutOfDomain: that is no isolation.
func (w *Work) Isolated(st *archetypes.Stick, sp *hazard.Spectrum, d Isolation, fixed, out *Response) {
	if d.Reduction == nil || fixed == nil || fixed == out {
		panic("demand: isolation needs a damping reduction and a response as it stands")
	}
	if !w.load(st, out) {
		return
	}
	n := st.N()
	if !positive(d.Qd) || !positive(d.K2) || !positive(d.K1) || !(d.K1 > d.K2) || !positive(d.BaseMass) ||
		len(fixed.Drift) != n || fixed.Status&NotApplicable != 0 {
		out.void(n)
		return
	}
	t := &w.Trace.Isolated
	t.Mass = d.BaseMass
	for _, m := range st.Mass {
		t.Mass += m
	}
	t.System = d.system(t.Mass, d.Upper)
	t.Equilibrium = w.solve(t.System, sp, d.Reduction)
	t.Lower = t.Equilibrium
	if d.Lower != d.Upper {
		t.Lower = w.solve(d.system(t.Mass, d.Lower), sp, d.Reduction)
	}
	if t.Equilibrium.Status&Stuck != 0 {
		out.copyFrom(fixed)
	} else {
		w.aboveIsolators(st, d.BaseMass, fixed, out)
		w.isolatedFloors(st, sp, d.Kind, d.BaseMass, out)
	}
	out.Displacement = 0
	if t.Lower.Status&Stuck == 0 {
		out.Displacement = t.Lower.Displacement
	}
	out.Status |= w.status | t.Equilibrium.Status | t.Lower.Status
}

// system returns the isolators with a bound applied. The yield displacement is
// held: it is geometry for lead-rubber and play for sliders.
func (d *Isolation) system(mass float64, b Bound) System {
	s := System{Mass: mass, Qd: d.Qd, Kd: d.K2, Dy: d.Qd / (d.K1 - d.K2)}
	if b.Qd > 0 {
		s.Qd *= b.Qd
	}
	if b.Kd > 0 {
		s.Kd *= b.Kd
	}
	return s
}

// solve returns the equilibrium of s under sp.
func (w *Work) solve(s System, sp *hazard.Spectrum, b hazard.Reduction) Equilibrium {
	e := SolveDisplacement(s, func(t float64) float64 {
		return displacementOf(sp.Sa(t)*hazard.Gravity, t)
	}, b)
	if !sp.Covers(e.Period) {
		w.status |= Extrapolated
	}
	return e
}

// aboveIsolators fills shears, drifts and what they were read at.
//
//	Vb  = Ke D
//	Vst = Vb (Ws/W)^(1 - 2.5 b)                     ASCE 7-16 equation 17.5-7
//	F_i = Vst w_i h_i^k/sum w h^k,  k = 14 b Tf     equations 17.5-9, 17.5-11
//
// A storey whose shear exceeds its strength drifts
//
//	max(shear/k, V/k + 0.4 [fit] (shear - V)/(K2 + r k))
//
// and never more than the fixed-base building.
func (w *Work) aboveIsolators(st *archetypes.Stick, baseMass float64, fixed, out *Response) {
	t := &w.Trace.Isolated
	n := st.N()
	e := &t.Equilibrium
	t.Shear = e.Stiffness * e.Displacement
	t.FrameShear = FrameShear(t.Shear, 1-baseMass/t.Mass, e.Damping)
	t.Exponent = 14 * e.Damping * st.Modes.Period[0]
	t.StoreyShear = resize(t.StoreyShear, n)
	height, sum := 0.0, 0.0
	for i, m := range st.Mass {
		height += st.Height[i]
		t.StoreyShear[i] = m * pow(height, t.Exponent)
		sum += t.StoreyShear[i]
	}
	above := 0.0
	t.Worst, t.DCR = 0, 0
	out.Drift = resize(out.Drift, n)
	for i := n - 1; i >= 0; i-- {
		above += t.FrameShear * t.StoreyShear[i] / sum
		t.StoreyShear[i] = above
		out.Drift[i] = above / st.Stiffness[i]
		if r := above / st.Strength[i]; r > t.DCR {
			t.Worst, t.DCR = i, r
		}
	}
	if t.DCR > 1 {
		m := t.Worst
		k, v := st.Stiffness[m], st.Strength[m]
		yielded := v/k + fitIsolatedYield*(t.StoreyShear[m]-v)/(t.System.Kd+st.PostYield*k)
		out.Drift[m] = min(fixed.Drift[m], max(out.Drift[m], yielded))
		w.status |= RankingOnly
	}
	out.Roof = 0
	for _, d := range out.Drift {
		out.Roof += d
	}
	out.DriftRatio = largestRatio(out.Drift, st.Height)
	out.BaseShear = t.Shear
	out.Period, out.Damping, out.Ductility = e.Period, e.Damping, t.DCR
	out.Status = 0
	if e.Period < 2*st.Modes.Period[0] {
		w.status |= OutOfDomain
	}
}

// isolatedFloors fills the accelerations of the slab above the isolators and of
// the floors. Isolators that yield or break away kick the frame into its
// free-free modes j, which a rigid block on isolators misses: it would be two to
// three times too low.
//
//	a_i   = min(a_fixed, sqrt(a_1i2 + sum over j <= min(4, N) of 2 (A_j cos(j pi i/N))2))
//	a_1i  = Vb F_i/sum m F,  F_0 = 1,  F_i = 1 + eps G1 phi_i1,  eps = (Tf/Te)2
//	A_j2  = (c (2 Qd/M)(1 - Dy/D)(Vb/2 Qd)^p)2/(1 + (0.5 pi tr/Tj)2) + 0.5 (cE eps/(2 j2) Sa(Tj)/0.8)2
//	Tj    = Tf/(2 j),  tr = 2 sqrt(Dy M/Vb)
//	a_fixed = sqrt(sum over j of (G_j Sa_j/0.8)2)
//
// Lead-rubber: c = 1.8, p = 0, cE = 0; sliders: c = 1.3, p = 0.25, cE = 1.5 [all
// fit]. 0.8 is B at 2 % damping (ASCE 7-16 Table 17.5-1).
func (w *Work) isolatedFloors(st *archetypes.Stick, sp *hazard.Spectrum, kind IsolatorKind, baseMass float64, out *Response) {
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
		x := st.Modes.Gamma[j] * sp.Sa(st.Modes.Period[j]) * hazard.Gravity / 0.8
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
		for j := range min(fitIsolatedModes, n) {
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
	kick := fitLeadKick * 2 * s.Qd / t.Mass * (1 - s.Dy/e.Displacement)
	elastic := 0.0
	if kind == Slider {
		kick *= fitSlideKick / fitLeadKick * pow(t.Shear/(2*s.Qd), fitSlidePower)
		elastic = fitSlideElastic
	}
	rise := 2 * math.Sqrt(s.Dy*t.Mass/t.Shear)
	t.Kick = [fitIsolatedModes]float64{}
	for j := range min(fitIsolatedModes, n) {
		order := float64(j + 1)
		period := tf / (2 * order)
		x := 0.5 * math.Pi * rise / period
		sum := kick * kick / (1 + x*x)
		if elastic > 0 {
			y := elastic * t.Separation / (2 * order * order) * sp.Sa(period) * hazard.Gravity / 0.8
			sum += 0.5 * y * y
		}
		t.Kick[j] = math.Sqrt(sum)
	}
}
