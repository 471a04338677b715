package demand

import (
	"math"

	"plinth/archetypes"
	"plinth/hazard"
	"plinth/hazard/elementary"
)

// IsolatorKind is the kind of isolator.
type IsolatorKind uint8

// The kinds of isolator.
const (
	LeadRubber IsolatorKind = iota // elastomeric bearings with a lead core
	Slider                         // curved-surface sliders
)

// Isolation is a plane of isolators below a frame. Its force is bilinear: K1 up to the yield
// displacement Dy = Qd/(K1 - K2), then Qd + K2 D.
type Isolation struct {
	Kind IsolatorKind
	Qd   float64 // N, characteristic strength of all isolators
	K1   float64 // N/m, stiffness before yield or breakaway, above K2
	K2   float64 // N/m, stiffness after
	// damping of parallel linear viscous dampers, a fraction of critical at the period of K2; 0 for
	// none
	Dampers   float64
	BaseMass  float64          // kg, of the slab above the isolators
	Reduction hazard.Reduction // B(damping), such as that of ASCE 7-16 Table 17.5-1
	Upper     Bound            // properties for forces; zero for nominal
	Lower     Bound            // properties for displacement; zero for nominal
	Near      Starts           // first guesses of the displacements
}

// Starts are the first guesses for the upper and the lower bound.
type Starts struct{ Upper, Lower Start }

// A Bound is a pair of property modification factors (ASCE 7-16 17.2.8.4). The
// zero value is nominal.
type Bound struct {
	// factor on characteristic strength
	Qd float64 `toml:"strength" min:"0.1" max:"10"`
	// factor on stiffness past yield
	Kd float64 `toml:"stiffness" min:"0.1" max:"10"`
}

// IsolatedTrace holds the intermediate values of Isolated.
type IsolatedTrace struct {
	System      System // at the upper bound
	Equilibrium Equilibrium
	Lower       Equilibrium // at the lower bound; that of System without bounds
	Mass        float64     // kg, above the isolators [M]
	Shear       float64     // N, through the isolators [Vb]
	FrameShear  float64     // N, above the base slab [Vst]
	Exponent    float64     // of height in the distribution of force [k]
	ForceHeight float64     // m, of the resultant of the floor forces above the isolators
	StoreyShear []float64   // N
	Worst       int         // storey with the largest demand over strength [m]
	DCR         float64
	Separation  float64                // (Tf/Te)2 [eps]
	First       []float64              // m/s2, base slab first [a_1i]
	Kick        [isolatedModes]float64 // m/s2 [A_j]
	Cap         float64                // m/s2 [a_fixed]
}

// DamperForce returns the largest force in N of dampers parallel to the isolators, at their
// largest displacement.
func (t *IsolatedTrace) DamperForce() float64 {
	return t.System.C * math.Sqrt(t.Lower.Stiffness/t.Mass) * t.Lower.Displacement
}

// Isolated fills out with the demand on st above the isolators d under sp, by an equivalent
// linear solution (SolveDisplacement) and the distribution of ASCE 7-16 17.5. fixed is the
// response AsIs gave for the same st and sp; it is only read and must not be out.
//
// If the isolators do not yield at this level the building acts as fixed-base: out is then
// fixed with the status Stuck. A frame that yields above the isolators has the status
// RankingOnly, and its Ductility is the demand over strength of its worst storey. With bounds,
// forces come from the upper and the displacement from the lower.
//
// NotApplicable: K1 not above K2, a number that is not finite and positive, or a fixed that is
// NotApplicable. OutOfDomain: an effective period below twice the fixed-base period, by
// judgement, which is no isolation; and Dampers, for which the method was not compared with
// time histories: they lower displacement and, beyond a level, raise floor acceleration (Tsai
// and Kelly 1993, Earthquake Engineering and Structural Dynamics 22:633; Kelly 1999, EESD
// 28:3). Their constant is C = 2 Dampers sqrt(M K2).
func (w *Work) Isolated(st *archetypes.Stick, sp *hazard.Spectrum, d Isolation, fixed, out *Response) {
	if d.Reduction == nil || fixed == nil || fixed == out {
		panic("demand: isolation needs a damping reduction and a response as it stands")
	}
	if !w.load(st, out) {
		return
	}
	n := st.N()
	if !positive(d.Qd) || !positive(d.K2) || !positive(d.K1) || !(d.K1 > d.K2) || !positive(d.BaseMass) ||
		!(d.Dampers >= 0 && d.Dampers <= 1) ||
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
	t.Equilibrium = w.solve(t.System, sp, d.Reduction, d.Near.Upper)
	t.Lower = t.Equilibrium
	if d.Lower != d.Upper {
		t.Lower = w.solve(d.system(t.Mass, d.Lower), sp, d.Reduction, d.Near.Lower)
	}
	if t.Equilibrium.Status&Stuck != 0 {
		t.weigh(st, 14*fixed.Damping*st.Modes.Period[0])
		out.CopyFrom(fixed)
	} else {
		w.aboveIsolators(st, d.Kind, d.BaseMass, fixed, out)
		w.isolatedFloors(st, sp, d.Kind, d.BaseMass, out)
	}
	out.Displacement = 0
	if t.Lower.Status&Stuck == 0 {
		out.Displacement = t.Lower.Displacement
	}
	if d.Dampers > 0 {
		w.status |= OutOfDomain
	}
	out.Status |= w.status | t.Equilibrium.Status | t.Lower.Status
}

// system returns the isolators with a bound applied. The yield displacement does not change: it
// is geometry for lead-rubber and play for sliders.
func (d *Isolation) system(mass float64, b Bound) System {
	s := System{Mass: mass, Qd: d.Qd, Kd: d.K2, Dy: d.Qd / (d.K1 - d.K2),
		C: 2 * d.Dampers * math.Sqrt(mass*d.K2)}
	if b.Qd > 0 {
		s.Qd *= b.Qd
	}
	if b.Kd > 0 {
		s.Kd *= b.Kd
	}
	return s
}

// Starts returns first guesses for similar isolators or shaking.
func (t *IsolatedTrace) Starts() Starts { return Starts{t.Equilibrium.Start(), t.Lower.Start()} }

// solve returns the equilibrium of s under sp, with the first guess near.
func (w *Work) solve(s System, sp *hazard.Spectrum, b hazard.Reduction, near Start) Equilibrium {
	e := SolveDisplacement(s, sp, b, near)
	if !sp.Covers(e.Period) {
		w.status |= Extrapolated
	}
	return e
}

// weigh sets the exponent of height, w h^k of each floor in StoreyShear and the
// height of their resultant, and returns their sum.
func (t *IsolatedTrace) weigh(st *archetypes.Stick, k float64) (sum float64) {
	t.Exponent = k
	t.StoreyShear = resize(t.StoreyShear, st.N())
	height, moment := 0.0, 0.0
	for i, m := range st.Mass {
		height += st.Height[i]
		w := m * elementary.Pow(height, k)
		t.StoreyShear[i] = w
		sum += w
		moment += w * height
	}
	t.ForceHeight = moment / sum
	return sum
}

// aboveIsolators fills the shears and drifts of the frame and their intermediate values.
//
//	Vb  = Ke D                                      with dampers System.Shear
//	Vst = Vb (Ws/W)^(1 - 2.5 b)                     ASCE 7-16 equation 17.5-7; lead-rubber 0.97 [fit] for 2.5
//	F_i = Vst w_i h_i^k/sum w h^k,  k = 14 b Tf     equations 17.5-9, 17.5-11
//
// A storey whose shear exceeds its strength drifts
//
//	max(shear/k, V/k + 0.4 [fit] (shear - V)/(K2 + r k))
//
// but not more than the fixed-base building.
func (w *Work) aboveIsolators(st *archetypes.Stick, kind IsolatorKind, baseMass float64, fixed,
	out *Response) {
	t := &w.Trace.Isolated
	n := st.N()
	e := &t.Equilibrium
	t.Shear = t.System.Shear(e.Displacement)
	if frame := 1 - baseMass/t.Mass; kind == LeadRubber {
		t.FrameShear = t.Shear * elementary.Pow(frame, 1-w.fit.LeadShare*e.Damping)
	} else {
		t.FrameShear = FrameShear(t.Shear, frame, e.Damping)
	}
	sum := t.weigh(st, 14*e.Damping*st.Modes.Period[0])
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
		yielded := v/k + w.fit.IsolatedYield*(t.StoreyShear[m]-v)/(t.System.Kd+st.PostYield*k)
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
