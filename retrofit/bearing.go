package retrofit

import (
	"math"

	"plinth/retrofit/demand"
)

// BearingRule holds the proportions of bearings.
type BearingRule struct {
	// shear modulus of the rubber
	ShearModulus float64 `toml:"shear_modulus_pa" unit:"Pa" min:"1e5" max:"3e6"`
	// yield shear stress of lead
	LeadStress float64 `toml:"lead_stress_pa" unit:"Pa" min:"1e6" max:"3e7"`
	// largest shear strain of the rubber at the sizing return period
	ShearStrain float64 `toml:"shear_strain" min:"0.2" max:"4"`
	// largest pressure of the seismic weight on the rubber
	Pressure float64 `toml:"pressure_pa" unit:"Pa" min:"1e6" max:"3e7"`
	// largest displacement over diameter of a bearing
	Overlap float64 `toml:"displacement_over_diameter" min:"0.1" max:"0.95"`
}

// DefaultBearingRule returns common proportions: G 0.4 MPa, within 0.35 to 1.0; lead 10 MPa,
// within 7 to 11.5 (Naeim and Kelly 1999: 10.3 MPa, from memory); shear strain 2.5 at the sizing
// return period (EN 15129:2009 8.2.1.2.7, largest strain by lateral movement, from memory);
// pressure 8 MPa and displacement at most 0.75 of the diameter, so that
// enough of the top plate stays above the bottom one (judgement).
func DefaultBearingRule() BearingRule {
	return BearingRule{ShearModulus: 0.4e6, LeadStress: 10e6, ShearStrain: 2.5, Pressure: 8e6, Overlap: 0.75}
}

// Size returns the smallest bearing of post-yield stiffness kd in N/m and
// characteristic strength qd in N that carries load in N and moves displacement
// in m within the rule.
//
//	AL = Qd/sigmaL
//	Ar >= Kd d/(G strain), load/pressure, pi/4 (d/overlap)^2 - AL
//	Tr = G Ar/Kd
//
// A NaN argument gives a NaN bearing. The stiffness before yield is not set.
func (r BearingRule) Size(kd, qd, load, displacement float64) demand.LeadRubberBearing {
	lead := qd / r.LeadStress
	rubber := max(
		kd*displacement/(r.ShearModulus*r.ShearStrain),
		load/r.Pressure,
		math.Pi/4*math.Pow(displacement/r.Overlap, 2)-lead,
	)
	return demand.LeadRubberBearing{
		Diameter:     math.Sqrt((rubber + lead) * 4 / math.Pi),
		Lead:         math.Sqrt(lead * 4 / math.Pi),
		Rubber:       r.ShearModulus * rubber / kd,
		ShearModulus: r.ShearModulus,
		LeadStress:   r.LeadStress,
	}
}

// columns returns the number of columns of a building, and so of isolators: a grid at the given
// spacing in m over its plan, at least four. NaN if the plan is not known.
func (f *Facts) columns(spacing float64) float64 {
	l, w := f.plan()
	if math.IsNaN(l) {
		return l
	}
	return rows(l, spacing) * rows(w, spacing)
}
