package retrofit

import "math"

// A Bearing is a lead-rubber bearing as it would be asked of a maker: round,
// with a lead core through its middle.
type Bearing struct {
	Diameter float64 // m, of the rubber
	Lead     float64 // m, diameter of the lead core
	Rubber   float64 // m, total thickness of rubber
}

// Kd returns the post-yield stiffness in N/m for a shear modulus g in Pa,
//
//	Kd = G Ar/Tr,  Ar = pi (D^2 - dL^2)/4
//
// (Naeim and Kelly, Design of Seismic Isolated Structures, 1999, from memory).
func (b Bearing) Kd(g float64) float64 {
	return g * math.Pi / 4 * (b.Diameter*b.Diameter - b.Lead*b.Lead) / b.Rubber
}

// Qd returns the characteristic strength in N for a yield shear stress of lead
// in Pa, Qd = sigmaL AL (Skinner, Robinson and McVerry 1993, from memory).
func (b Bearing) Qd(sigma float64) float64 { return sigma * math.Pi / 4 * b.Lead * b.Lead }

// A BearingRule says how bearings are proportioned.
type BearingRule struct {
	ShearModulus float64 `toml:"shear_modulus_pa" unit:"Pa" min:"1e5" max:"3e6" doc:"shear modulus of the rubber"`
	LeadStress   float64 `toml:"lead_stress_pa" unit:"Pa" min:"1e6" max:"3e7" doc:"yield shear stress of lead"`
	ShearStrain  float64 `toml:"shear_strain" min:"0.2" max:"4" doc:"largest shear strain of the rubber"`
	Pressure     float64 `toml:"pressure_pa" unit:"Pa" min:"1e6" max:"3e7" doc:"largest pressure of the seismic weight on the rubber"`
	Overlap      float64 `toml:"displacement_over_diameter" min:"0.1" max:"0.95" doc:"largest displacement over diameter of a bearing"`
}

// DefaultBearingRule returns common proportions: G 0.4 MPa, within 0.35 to 1.0;
// lead 10 MPa, within 7 to 11.5 (Naeim and Kelly 1999: 10.3 MPa, from memory);
// shear strain 2.0, within 1.5 to 2.5 (from memory); pressure 8 MPa and
// displacement at most 0.75 of the diameter, so that enough of the top plate
// stays above the bottom one (judgement).
func DefaultBearingRule() BearingRule {
	return BearingRule{ShearModulus: 0.4e6, LeadStress: 10e6, ShearStrain: 2, Pressure: 8e6, Overlap: 0.75}
}

// Size returns the smallest bearing of post-yield stiffness kd in N/m and
// characteristic strength qd in N that carries load in N and moves displacement
// in m within the rule.
//
//	AL = Qd/sigmaL
//	Ar >= Kd d/(G strain), load/pressure, pi/4 (d/overlap)^2 - AL
//	Tr = G Ar/Kd
//
// A NaN argument gives a NaN bearing.
func (r BearingRule) Size(kd, qd, load, displacement float64) Bearing {
	lead := qd / r.LeadStress
	rubber := max(
		kd*displacement/(r.ShearModulus*r.ShearStrain),
		load/r.Pressure,
		math.Pi/4*math.Pow(displacement/r.Overlap, 2)-lead,
	)
	return Bearing{
		Diameter: math.Sqrt((rubber + lead) * 4 / math.Pi),
		Lead:     math.Sqrt(lead * 4 / math.Pi),
		Rubber:   r.ShearModulus * rubber / kd,
	}
}

// columns returns how many columns, and so isolators, a building stands on: a
// grid at the given spacing in m over its plan, at least four. NaN if the plan
// is not known.
func (f *Facts) columns(spacing float64) float64 {
	l, w := f.plan()
	if math.IsNaN(l) {
		return l
	}
	return max(2, math.Round(l/spacing)+1) * max(2, math.Round(w/spacing)+1)
}
