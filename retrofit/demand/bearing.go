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

// A SlidingPendulum is a slider on a concave surface.
type SlidingPendulum struct {
	Friction float64 // coefficient at the sliding velocity
	Radius   float64 // m, effective radius of curvature
	Play     float64 // m, displacement at which it breaks away; 0 for rigid
}

// Device returns the bilinear force of sliders that carry mass in kg.
//
//	Qd = mu W,  Kd = W/R
//
// Zayas, Low and Mahin 1990, Earthquake Spectra 6:317. The period does not depend
// on mass.
func (p *SlidingPendulum) Device(mass, gravity float64) System {
	weight := mass * gravity
	return System{Mass: mass, Qd: p.Friction * weight, Kd: weight / p.Radius, Dy: p.Play}
}

// TwoMass returns the periods in s of a one-storey frame of period ts in s on
// linear isolators of period tb in s, the whole mass on them. gamma is the mass of
// the frame over the whole. The first is the isolated mode.
//
//	(1 - gamma) w4 - (ws2 + wb2) w2 + ws2 wb2 = 0
//
// Kelly 1990, Earthquake Spectra 6:223. gamma must be from 0 to below 1.
func TwoMass(tb, ts, gamma float64) (t1, t2 float64) {
	wb, ws := 2*math.Pi/tb, 2*math.Pi/ts
	a, b, c := 1-gamma, wb*wb+ws*ws, wb*wb*ws*ws
	root := math.Sqrt(b*b - 4*a*c)
	low := 2 * c / (b + root) // the smaller root without cancellation
	high := (b + root) / (2 * a)
	return 2 * math.Pi / math.Sqrt(low), 2 * math.Pi / math.Sqrt(high)
}

// TwoMassFirstOrder is TwoMass to first order in eps = (ts/tb)2.
//
//	w1 = wb sqrt(1 - gamma eps),  w2 = ws sqrt((1 + gamma eps)/(1 - gamma))
func TwoMassFirstOrder(tb, ts, gamma float64) (t1, t2 float64) {
	eps := ts / tb
	eps *= eps
	return tb / math.Sqrt(1-gamma*eps), ts * math.Sqrt((1-gamma)/(1+gamma*eps))
}
