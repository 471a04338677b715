package demand

import "math"

// A LeadRubberBearing is one elastomeric bearing with a lead core.
type LeadRubberBearing struct {
	Diameter     float64 // m, of the bonded rubber
	Lead         float64 // m, diameter of the core
	Rubber       float64 // m, total thickness of rubber [Tr]
	ShearModulus float64 // Pa [G]
	LeadStress   float64 // Pa, yield stress of the core in shear [sigma_L]
	StiffRatio   float64 // initial over post-yield stiffness, 6.5 to 10
}

// LeadStress is the usual yield stress of a lead core in shear, 10 MPa (Naeim and
// Kelly 1999: 1500 psi). Tests and codes give 7 to 11.5 MPa.
const LeadStress = 10e6

// Device returns the bilinear force of the bearing, for a supported mass in kg.
//
//	Qd = sigma_L A_L,  Kd = G Ar/Tr,  Dy = Qd/(Ku - Kd)
//
// Ar is the rubber around the core. Naeim and Kelly 1999, Design of Seismic
// Isolated Structures; Skinner, Robinson and McVerry 1993.
func (b *LeadRubberBearing) Device(mass float64) System {
	lead := math.Pi / 4 * b.Lead * b.Lead
	s := System{Mass: mass, Qd: b.LeadStress * lead}
	s.Kd = b.ShearModulus * (math.Pi/4*b.Diameter*b.Diameter - lead) / b.Rubber
	s.Dy = s.Qd / ((b.StiffRatio - 1) * s.Kd)
	return s
}
