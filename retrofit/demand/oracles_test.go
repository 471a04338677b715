package demand

// A slidingPendulum is a slider on a concave surface.
type slidingPendulum struct {
	Friction float64 // coefficient at the sliding velocity
	Radius   float64 // m, effective radius of curvature
	Play     float64 // m, displacement at which it breaks away; 0 for rigid
}

// device returns the bilinear force of sliders that carry mass in kg.
//
//	Qd = mu W,  Kd = W/R
//
// Zayas, Low and Mahin 1990, Earthquake Spectra 6:317. The period does not depend
// on mass.
func (p *slidingPendulum) device(mass, gravity float64) System {
	weight := mass * gravity
	return System{Mass: mass, Qd: p.Friction * weight, Kd: weight / p.Radius, Dy: p.Play}
}
