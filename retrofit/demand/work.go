package demand

import (
	"math"

	"plinth/archetypes"
	"plinth/hazard"
)

// Work is the scratch space of one goroutine. The zero value is ready.
type Work struct {
	// Trace holds every intermediate value of the last call, for a calculation sheet. It is the
	// working state itself; the next call overwrites it.
	Trace Trace

	// Fit are the constants to use; nil for those of this package. It is for refitting.
	Fit *Fit

	fit       *Fit // constants in use
	status    Status
	k, v, kr  []float64 // stiffness, strength and post-yield stiffness with devices
	sways     sways
	shapes    [archetypes.MaxModes][]float64 // of modes with devices or additions
	effective [archetypes.MaxModes]float64   // kg, effective masses of the modes above isolators
	share     float64                        // of the frame in the stiffness past yield
	amplitude []float64                      // of each storey: in m for nonlinear dampers, else over the roof
	still     *still                         // below sliders that hold
}

// AsIs fills out with the demand on st as it stands under sp.
//
// A value of the stick that is not finite and positive, or such an ordinate of the spectrum,
// gives NaN and the status NotApplicable.
func (w *Work) AsIs(st *archetypes.Stick, sp *hazard.Spectrum, out *Response) {
	if !w.load(st, out) {
		return
	}
	w.read(sp)
	w.displace(sp)
	w.finish(st, sp, out)
}

// load makes st the frame of the trace, with frame damping in every mode and no devices. If st
// is not valid it returns false and voids out.
func (w *Work) load(st *archetypes.Stick, out *Response) bool {
	n := st.N()
	if n == 0 || len(st.Stiffness) != n || len(st.Strength) != n || len(st.Height) != n ||
		st.Modes.Count < 1 {
		panic("demand: a stick needs one value a storey and its modes")
	}
	if !valid(st) {
		out.void(n)
		return false
	}
	w.frame(st)
	return true
}

// frame makes st, which is valid, the frame of the trace.
func (w *Work) frame(st *archetypes.Stick) {
	w.status = 0
	if w.fit = w.Fit; w.fit == nil {
		w.fit = &fitted
	}
	t, n := &w.Trace, st.N()
	w.kr = resize(w.kr, n)
	for i, k := range st.Stiffness {
		w.kr[i] = st.PostYield * k
	}
	t.Mass, t.Stiffness, t.Strength, t.PostYield = st.Mass, st.Stiffness, st.Strength, w.kr
	t.Hardening, t.Hardened, t.Degrading = st.PostYield, st.Hardened, st.Degrading
	t.Damping = st.DampingRatio()
	t.Count = min(st.Modes.Count, archetypes.MaxModes, n)
	for j := range t.Count {
		t.Modes[j] = Mode{
			Period: st.Modes.Period[j], Gamma: st.Modes.Gamma[j],
			Shape: st.Modes.Shape[j], Damping: t.Damping,
		}
	}
	t.Rest = st.Modes.Rest
	t.Fall = 0
	w.sways.load(st)
	t.Pull = t.Pull[:0]
	t.DamperSlope, t.DamperForce, t.DeviceShare, t.PassCount = 0, 0, 0, 0
}

// valid reports whether every value of st is usable.
func valid(st *archetypes.Stick) bool {
	for i, k := range st.Stiffness {
		if !positive(k) || !positive(st.Strength[i]) || !positive(st.Mass[i]) || !positive(st.Height[i]) {
			return false
		}
	}
	return positive(st.Modes.Period[0]) && st.PostYield >= 0 && st.PostYield <= 1 &&
		st.Damping >= 0 && st.Damping < 1 &&
		(st.Hardened == 0 || st.Hardened >= 1 && st.Hardened <= math.MaxFloat64) &&
		st.Collapse >= 0 && st.Collapse <= math.MaxFloat64
}

// positive reports whether x is a finite number above 0.
func positive(x float64) bool { return x > 0 && x <= math.MaxFloat64 }

// finish completes a response once the modes and the roof displacement are known: drifts,
// floors, shear, and the period and damping they belong to.
func (w *Work) finish(st *archetypes.Stick, sp *hazard.Spectrum, out *Response) {
	t := &w.Trace
	w.drifts(out)
	if w.sways.hold(t, out.Drift) {
		w.status |= CollapseCounted
	}
	w.floors(sp, out)
	out.Roof = t.Roof
	out.DriftRatio = largestRatio(out.Drift, st.Height)
	out.Displacement = 0
	out.Period, out.Damping, out.Ductility = t.Modes[0].Period, t.Modes[0].Damping, t.StrengthRatio
	if t.StrengthRatio > domainRatio || t.StrengthRatio > 1 && t.Modes[0].Period < c1Least*sp.TC {
		w.status |= OutOfDomain
	}
	if math.IsNaN(out.Roof) || math.IsInf(out.Roof, 0) {
		out.void(len(out.Drift))
		return
	}
	out.Status = w.status
}

// largestRatio returns the largest drift over storey height.
func largestRatio(drift, height []float64) float64 {
	most := 0.0
	for i, d := range drift {
		most = max(most, d/height[i])
	}
	return most
}

// void fills r with NaN, for want of a result.
func (r *Response) void(n int) {
	nan := math.NaN()
	r.Drift, r.Accel = resize(r.Drift, n), resize(r.Accel, n)
	for i := range n {
		r.Drift[i], r.Accel[i] = nan, nan
	}
	*r = Response{
		Roof: nan, Drift: r.Drift, DriftRatio: nan, Accel: r.Accel, BaseAccel: nan, PeakAccel: nan,
		BaseShear:    nan,
		Displacement: nan, Period: nan, Damping: nan, Ductility: nan, Status: NotApplicable,
	}
}

// CopyFrom makes r equal to o with its own storage.
func (r *Response) CopyFrom(o *Response) {
	drift, accel := append(r.Drift[:0], o.Drift...), append(r.Accel[:0], o.Accel...)
	*r = *o
	r.Drift, r.Accel = drift, accel
}

// resize returns s with length n, reusing its storage where it is large enough.
func resize(s []float64, n int) []float64 {
	if cap(s) < n {
		return make([]float64, n)
	}
	return s[:n]
}
