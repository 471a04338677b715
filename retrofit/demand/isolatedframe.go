package demand

import (
	"math"

	"plinth/archetypes"
)

// passedOn returns the largest shear that a yielding storey passes on, over its strength: that to
// which the system hardens, or 1.25 where its hardening has no end (judgement, of steel and
// concrete); a chain that hardens without end would pass on any shear.
func passedOn(st *archetypes.Stick) float64 {
	if st.Hardened > 0 {
		return st.Hardened
	}
	return 1.25
}

// aboveIsolators fills the shears and drifts of the frame.
//
//	S_i2 = S_1i2 + sum over j of (A_j sum over floors above of m psi_ij)2
//	p_i  = min over storeys l < i of min(1, h V_l/S_l),  h of passedOn
//
// Storey i is pushed with p_i S_i: what the storeys below let through. Where that exceeds its
// strength it drifts
//
//	max(V/k, min(fixed, max(p S/k, V/k + (1 - V/(p S)) (p S - V)/(K2 + r k))))
//
// that is, no more than the fixed-base building, which bounds it. Isolators and storey share the
// movement that is left once the storey yields as their stiffnesses then. The factor before begins
// with 0, since the first excursions past yield are short and to one side.
func (w *Work) aboveIsolators(st *archetypes.Stick, base float64, fixed, out *Response) {
	t := &w.Trace.Isolated
	n := st.N()
	var above [archetypes.MaxModes]float64
	t.Worst, t.DCR = 0, 0
	for i := n - 1; i >= 0; i-- {
		sum := t.StoreyShear[i] * t.StoreyShear[i]
		for j := range w.Trace.Count {
			f := &t.Free[j]
			above[j] += st.Mass[i] * f.Shape[i]
			x := f.Accel * above[j]
			sum += x * x
		}
		t.StoreyShear[i] = math.Sqrt(sum)
		if r := t.StoreyShear[i] / st.Strength[i]; r > t.DCR {
			t.Worst, t.DCR = i, r
		}
	}
	out.Drift, t.Passed = resize(out.Drift, n), resize(t.Passed, n)
	passed, most := 1.0, passedOn(st)
	out.Roof = 0
	for i, k := range st.Stiffness {
		shear, v := passed*t.StoreyShear[i], st.Strength[i]
		drift := shear / k
		if over := shear - v; over > 0 {
			drift = max(drift, v/k+over/shear*over/(t.System.Kd+st.PostYield*k))
			drift = max(v/k, min(fixed.Drift[i], drift))
			passed *= min(1, most*v/shear)
		}
		out.Drift[i], t.Passed[i] = drift, passed
		out.Roof += drift
	}
	if t.DCR > 1 {
		w.status |= RankingOnly
	}
	out.DriftRatio = largestRatio(out.Drift, st.Height)
	out.BaseShear = t.Shear
	out.Period, out.Damping, out.Ductility = t.Equilibrium.Period, t.Equilibrium.Damping, t.DCR
	out.Status = 0
	if out.Period < 2*st.Modes.Period[0] {
		w.status |= OutOfDomain
	}
}

// leave brings out from its fixed-base value, at which a slider breaks away, to its own. lam is the
// friction over the elastic force that would slide it: 1 where it begins to slide.
//
//	r(lam) fixed <= value <= fixed/lam
//
// r is the part of the fixed-base value that was reached before the slider moved, at lam times the
// shaking: lam where the frame is elastic. Where it yields, forces grow as those of the frame, by its
// hardening and inherent damping (floors.go), and drift as the displacement. The upper bound lets no
// quantity leap (judgement).
func (w *Work) leave(st *archetypes.Stick, lam float64, fixed, out *Response) {
	force, drift := lam, lam
	if mu := fixed.Ductility; mu > 1 {
		grow := w.fit.Inherent + st.PostYield
		force = min(lam*mu, 1+grow*max(0, lam*mu-1)) / (1 + grow*(mu-1))
		drift *= min(1, max(lam*mu, 1/mu))
	}
	bring := func(value *float64, fixed, part float64) {
		*value = max(part*fixed, min(*value, fixed/lam))
	}
	bring(&out.Roof, fixed.Roof, drift)
	for i := range out.Drift {
		bring(&out.Drift[i], fixed.Drift[i], drift)
		bring(&out.Accel[i], fixed.Accel[i], force)
	}
	bring(&out.BaseAccel, fixed.BaseAccel, lam)
	bring(&out.BaseShear, fixed.BaseShear, force)
	out.DriftRatio = largestRatio(out.Drift, st.Height)
	out.PeakAccel = out.BaseAccel
	for _, a := range out.Accel {
		out.PeakAccel = max(out.PeakAccel, a)
	}
}
