package demand

import (
	"math"

	"plinth/archetypes"
	"plinth/hazard"
	"plinth/hazard/elementary"
)

// sways are the values of P-delta by storey: the weight above a storey pushes it further as it drifts,
// which takes th_i from its stiffness in every branch. In the elastic one that is a few percent and
// part of the period; past yield it may exceed the hardening, and the building walks to one side
// until it falls.
type sways struct {
	weight []float64 // N/m, above the storey over its height
	fall   []float64 // m, drift that counts as collapse
	roof   float64   // m, their sum
}

// CollapseDrift is the storey drift over height taken as collapse where a stick has no limit of its
// own: twice the 5 % of steel frames at collapse prevention in FEMA 356 Table C1-3 (judgement:
// beyond it no stick model is meaningful).
const CollapseDrift = 0.10

// collapseFactor is the drift that counts as collapse over that at collapse prevention (judgement:
// the limits have a dispersion of 0.4, so at twice the median 96 % of buildings are beyond theirs).
const collapseFactor = 2

// CollapseRatio returns the drift over height of a storey of st that counts as collapse, twice the
// limit of collapse prevention; CollapseDrift where no limit is known.
func CollapseRatio(st *archetypes.Stick) float64 {
	if st.Collapse == 0 {
		return CollapseDrift
	}
	return collapseFactor * st.Collapse
}

// load sets for each storey the weight above over its height, in N/m, and the drift in m that
// counts as collapse.
//
//	P_i/h_i = g sum of m_j, j >= i, over h_i
func (p *sways) load(st *archetypes.Stick) {
	n := st.N()
	p.weight, p.fall = resize(p.weight, n), resize(p.fall, n)
	ratio := CollapseRatio(st)
	above := 0.0
	p.roof = 0
	for i := n - 1; i >= 0; i-- {
		above += st.Mass[i] * hazard.Gravity
		p.weight[i], p.fall[i] = above/st.Height[i], ratio*st.Height[i]
		p.roof += p.fall[i]
	}
}

// hold keeps the drifts in m within those that count as collapse. It reports whether one of them, or
// the frame by its strength ratio, does; in the latter the storey nearest to its limit has it.
func (p *sways) hold(t *Trace, drift []float64) (fallen bool) {
	worst, most := 0, 0.0
	for i, d := range drift {
		if d >= p.fall[i]*(1-rounding) {
			drift[i], fallen = p.fall[i], true
		}
		if x := d / p.fall[i]; x > most {
			worst, most = i, x
		}
	}
	if t.Most = t.most(t.Modes[0].Period); t.StrengthRatio > t.Most {
		drift[worst], fallen = p.fall[worst], true
	}
	return fallen
}

// most returns the largest strength ratio that a frame stands, for its first period in s.
//
//	mu_max = D + th^-e/4,  e = 1 + 0.15 ln T1
//	D      = 1 + (h - 1)/r where r > th and hardening ends at h V; infinite where it does not end;
//	         1 where r <= th
//
// ASCE 41-17 equation 7-32 (from memory): D is the displacement at the largest resistance over that at
// yield, and the slope beyond is that of the weight alone, so its alpha_e is -th, near a fault or far
// from it. Beyond mu_max the standard asks for time histories and calls the building unstable; here
// it counts as collapsed. e is held at 0.5 or more, the value at 0.036 s.
func (t *Trace) most(period float64) float64 {
	peak := 1.0
	if r := t.Hardening; r > t.Sway {
		if t.Hardened == 0 {
			return math.Inf(1)
		}
		peak += (t.Hardened - 1) / r
	}
	e := max(leastSwayPower, 1+0.15*elementary.Log(period))
	return peak + elementary.Pow(t.Sway, -e)/4
}

// gain returns the hardening at a ductility, the resistance over the strength less 1.
//
//	min(r (ductility - 1), h - 1)
func (t *Trace) gain(ductility float64) float64 {
	x := t.Hardening * max(0, ductility-1)
	if t.Hardened > 0 {
		return min(x, t.Hardened-1)
	}
	return x
}

// slope returns the mean slope past yield at a ductility, less that of the weight.
//
//	r' = max(0, gain/(ductility - 1) - th)
func (t *Trace) slope(ductility float64) float64 {
	if ductility <= 1 {
		return max(0, t.Hardening-t.Sway)
	}
	return max(0, t.gain(ductility)/(ductility-1)-t.Sway)
}
