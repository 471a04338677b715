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
	Play        float64     // m, yield displacement, or that of a slider before it breaks away [Dy]
	Shear       float64     // N, through the isolators [Vb]
	FrameShear  float64     // N, above the base slab [Vst]
	ForceHeight float64     // m, of the resultant of the forces of the lowest mode on the floors
	Stiff       float64     // N/m, of the isolators for vibrations on top of their movement [Kc]
	Free        [archetypes.MaxModes]FreeMode
	Slow        []float64 // m/s2, of the lowest mode, slab first [a_1i]
	StoreyShear []float64 // N, elastic
	Passed      []float64 // part that the storeys below let through [p]
	Worst       int       // storey with the largest demand over strength [m]
	DCR         float64
}

// DamperForce returns the largest force in N of dampers parallel to the isolators, at their
// largest displacement.
func (t *IsolatedTrace) DamperForce() float64 {
	return t.System.C * 2 * math.Pi / t.Lower.Period * t.Lower.Displacement
}

// Isolated fills out with the demand on st above the isolators d under sp, by an equivalent
// linear solution (SolveDisplacement) and the modes of the frame above isolators. fixed is the
// response AsIs gave for the same st and sp; it is only read and must not be out.
//
// Rubber that does not yield isolates with K1. Sliders stand fixed until the force in them reaches
// their friction: out is then fixed with the status Stuck. From there on every quantity leaves its
// fixed-base value without a jump: see leave. A frame that yields above the isolators has the status
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
	w.settle(st, sp, &d)
	if t.Equilibrium.Status&Stuck != 0 {
		t.DCR, t.Worst = 0, 0
		out.CopyFrom(fixed)
	} else {
		w.freeModes(st, sp, d)
		w.aboveIsolators(st, d.BaseMass, fixed, out)
		w.isolatedFloors(st, out)
		if d.Kind == Slider {
			w.leave(st, sp, out)
		}
	}
	out.Displacement = t.Lower.Displacement
	if d.Dampers > 0 {
		w.status |= OutOfDomain
	}
	out.Status |= w.status | t.Equilibrium.Status | t.Lower.Status&^Stuck
}

// settle finds the balance of the isolators d below st at both bounds and the lowest mode, the
// beginning of Isolated.
func (w *Work) settle(st *archetypes.Stick, sp *hazard.Spectrum, d *Isolation) {
	t := &w.Trace.Isolated
	t.Mass = d.BaseMass + w.effectiveMasses(st)
	t.Play = d.Qd / (d.K1 - d.K2)
	t.System = d.system(st, t.Mass, w.effective[0], d.Upper)
	t.Equilibrium = w.solve(t.System, sp, d.Reduction, d.Near.Upper)
	t.Lower = t.Equilibrium
	if d.Lower != d.Upper {
		t.Lower = w.solve(d.system(st, t.Mass, w.effective[0], d.Lower), sp, d.Reduction, d.Near.Lower)
	}
	t.Shear, t.ForceHeight = 0, 0
	if t.Equilibrium.Status&Stuck == 0 {
		w.slow(st, d.BaseMass)
	}
}

// Settle fills the trace of isolators d below st under sp: their balance at both bounds, the force
// through them and its height, without the demand on the frame. It is for sizing the isolators, for
// arguments that Isolated has taken.
func (w *Work) Settle(st *archetypes.Stick, sp *hazard.Spectrum, d Isolation) *IsolatedTrace {
	w.frame(st)
	w.settle(st, sp, &d)
	return &w.Trace.Isolated
}

// effectiveMasses fills the effective masses of the modes of st and returns the mass of the frame.
//
//	Me_j = G_j sum m phi_j
func (w *Work) effectiveMasses(st *archetypes.Stick) (total float64) {
	for _, m := range st.Mass {
		total += m
	}
	for j := range w.Trace.Count {
		sum := 0.0
		for i, m := range st.Mass {
			sum += m * st.Modes.Shape[j][i]
		}
		w.effective[j] = sum * st.Modes.Gamma[j]
	}
	return total
}

// system returns the frame on the isolators with a bound applied. The yield displacement does not
// change: it is geometry for lead-rubber. That of a slider is play, in which it counts as fixed.
func (d *Isolation) system(st *archetypes.Stick, mass, effective float64, b Bound) System {
	s := System{Mass: mass, Qd: d.Qd, Kd: d.K2, C: 2 * d.Dampers * math.Sqrt(mass*d.K2),
		Frame: st.Modes.Period[0], Part: effective / mass, Own: st.DampingRatio()}
	if d.Kind == LeadRubber {
		s.Dy = d.Qd / (d.K1 - d.K2)
	}
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

// slow fills the accelerations of the lowest mode, the shears it gives the storeys and the height of
// the resultant of its forces on the floors.
//
//	a_1i = Vb F_i/sum m F,  F_0 = 1 - eps,  F_i = 1 - eps + eps G1 phi_i1
func (w *Work) slow(st *archetypes.Stick, base float64) {
	t := &w.Trace.Isolated
	n, e := st.N(), &t.Equilibrium
	t.Slow, t.StoreyShear = resize(t.Slow, n+1), resize(t.StoreyShear, n)
	t.Shear = t.System.Shear(e.Displacement)
	phi, gain := st.Modes.Shape[0], e.Separation*st.Modes.Gamma[0]
	t.Slow[0] = 1 - e.Separation
	sum, moment, height := base*t.Slow[0], 0.0, 0.0
	for i, m := range st.Mass {
		height += st.Height[i]
		f := 1 - e.Separation + gain*phi[i]
		t.Slow[i+1] = f
		sum += m * f
		moment += m * f * height
	}
	t.ForceHeight = moment / (sum - base*t.Slow[0])
	above := 0.0
	for i := n; i >= 0; i-- {
		t.Slow[i] *= t.Shear / sum
		if i > 0 {
			above += st.Mass[i-1] * t.Slow[i]
			t.StoreyShear[i-1] = above
		}
	}
	t.FrameShear = above
}
