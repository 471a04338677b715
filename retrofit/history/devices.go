package history

import (
	"fmt"
	"math"

	"plinth/archetypes"
	"plinth/hazard"
	"plinth/retrofit/demand"
)

const gravity = hazard.Gravity

// addViscous adds dampers to every storey, in proportion to its stiffness, that give the first
// mode the added damping.
//
//	b = sum lambda c_i (w u dphi_i)^alpha u dphi_i/(2 pi sum m_i w2 u2 phi_i2)
//
// at the roof amplitude u. For alpha = 1 it becomes c_i = b T1/pi k_i at any amplitude (ASCE
// 7-16 18.7.3).
func (m *Model) addViscous(st *archetypes.Stick, d demand.Viscous) error {
	if !(d.Damping >= 0) || math.IsInf(d.Damping, 1) || !(d.Alpha > 0 && d.Alpha <= 1) || d.Alpha != 1 &&
		!positive(d.ReferenceRoof) {
		return fmt.Errorf("%w: dampers of exponent %g with %g of added damping at %g m", ErrDevice, d.Alpha,
			d.Damping, d.ReferenceRoof)
	}
	u := d.ReferenceRoof
	if d.Alpha == 1 {
		u = 1
	}
	w := 2 * math.Pi / st.Modes.Period[0]
	phi, below, cycle, kinetic := st.Modes.Shape[0], 0.0, 0.0, 0.0
	for i, k := range st.Stiffness {
		x := math.Abs(phi[i]-below) * u
		below = phi[i]
		cycle += k * math.Pow(w*x, d.Alpha) * x
		kinetic += st.Mass[i] * w * w * u * u * phi[i] * phi[i]
	}
	c := 2 * math.Pi * d.Damping * kinetic / (demand.Lambda(d.Alpha) * cycle)
	var p *power
	if d.Alpha != 1 {
		p = newPower(-(1 - d.Alpha) / 2)
	}
	for i, k := range st.Stiffness {
		m.links[i].damper = damper{c: c * k, alpha: d.Alpha, power: p}
	}
	m.implicit = true
	return nil
}

// addYielding adds an elastic-plastic device in parallel with each storey that has one.
func (m *Model) addYielding(d demand.Yielding) error {
	if len(d.Stiffness) != m.floors || len(d.Force) != m.floors {
		panic("history: yielding devices need one value a storey")
	}
	for i, k := range d.Stiffness {
		f := d.Force[i]
		if !(k >= 0) || !(f >= 0) || math.IsInf(k+f, 1) {
			return fmt.Errorf("%w: device of stiffness %g and force %g in storey %d", ErrDevice, k, f, i+1)
		}
		if k > 0 && f > 0 {
			m.links[i].device = law{k: k, q: f}
		}
	}
	return nil
}

// addTunedMass adds the mass on the roof, tuned as in the spectral demand.
func (m *Model) addTunedMass(st *archetypes.Stick, d demand.TunedMass) error {
	if !(d.Mass >= 0) || math.IsInf(d.Mass, 1) {
		return fmt.Errorf("%w: tuned mass of %g kg", ErrDevice, d.Mass)
	}
	if d.Mass == 0 {
		return nil
	}
	tuning := demand.TuneFor(d.For, d.Mass/st.ModalMass(), st.Modes.Gamma[0], st.DampingRatio())
	w := 2 * math.Pi / st.Modes.Period[0] * tuning.Frequency
	m.add(link{
		main:   law{k: d.Mass * w * w, q: math.Inf(1)},
		damper: damper{c: 2 * tuning.Damping * d.Mass * w, alpha: 1},
		limit:  math.Inf(1),
	}, d.Mass)
	m.implicit = true
	return nil
}
