package demand

import (
	"math"

	"plinth/archetypes"
	"plinth/hazard"
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
//	before <= value <= before/lam; before/lam2 of an acceleration
//
// before is the fixed-base value that was reached before the slider moved: that under lam times the
// shaking. It does not change as the shaking grows. The upper bound lets no quantity leap: from there
// on drift and shear grow no faster than the shaking, and accelerations, in which the kicks of its
// reversals come up, no faster than its square (judgement).
func (w *Work) leave(st *archetypes.Stick, sp *hazard.Spectrum, out *Response) {
	lam := w.Trace.Isolated.Equilibrium.Onset
	if w.still == nil {
		w.still = &still{}
	}
	w.still.work.Fit = w.Fit
	w.still.spectrum.CopyFrom(sp)
	w.still.spectrum.Scale(lam)
	before := &w.still.before
	w.still.work.AsIs(st, &w.still.spectrum, before)
	bring := func(value *float64, before, lam float64) { *value = max(before, min(*value, before/lam)) }
	bring(&out.Roof, before.Roof, lam)
	for i := range out.Drift {
		bring(&out.Drift[i], before.Drift[i], lam)
		bring(&out.Accel[i], before.Accel[i], lam*lam)
	}
	bring(&out.BaseAccel, before.BaseAccel, lam*lam)
	bring(&out.BaseShear, before.BaseShear, lam)
	out.DriftRatio = largestRatio(out.Drift, st.Height)
	out.PeakAccel = out.BaseAccel
	for _, a := range out.Accel {
		out.PeakAccel = max(out.PeakAccel, a)
	}
}

// still is the building under the shaking that sliders stand.
type still struct {
	work     Work
	spectrum hazard.Spectrum
	before   Response
}
