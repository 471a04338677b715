package demand

// Times sets r to the response o with storey drifts, floor accelerations and isolator
// displacement multiplied by factors, in its own storage. It applies ratios found at one level
// of shaking to another; base shear and status stay.
func (r *Response) Times(o *Response, drift, accel, displacement float64) {
	r.CopyFrom(o)
	for i := range r.Drift {
		r.Drift[i] *= drift
	}
	for i := range r.Accel {
		r.Accel[i] *= accel
	}
	r.Roof, r.DriftRatio = r.Roof*drift, r.DriftRatio*drift
	r.BaseAccel, r.PeakAccel = r.BaseAccel*accel, r.PeakAccel*accel
	r.Displacement *= displacement
}
