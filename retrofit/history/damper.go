package history

import "math"

// damper is a fluid damper, force c |v|^alpha. Below a small velocity v0 the law is rounded,
// since its slope at rest is infinite.
//
//	F = c v/(v2 + v02)^((1 - alpha)/2)
type damper struct {
	c     float64 // N (s/m)^alpha; 0 for none
	alpha float64
	power *power // -(1 - alpha)/2; nil for alpha = 1
}

// restSpeed is v0 in m/s: a hundredth of the storey velocities of a damped building in strong
// shaking (judgement). The force at a velocity of 10 v0 is 0.3 % low for alpha 0.5.
const restSpeed = 1e-3

// force returns the force at velocity v and its derivative in N s/m. The power is inlined: a
// call would cost as much as the polynomial.
func (d *damper) force(v float64) (f, slope float64) {
	if d.power == nil {
		return d.c * v, d.c
	}
	s := v*v + restSpeed*restSpeed
	bits := math.Float64bits(s)
	n := min(max(int(bits>>52)-1023+32, 0), 64)
	m := math.Float64frombits(bits&(1<<52-1)|1023<<52) - 1.5
	c := &d.power.c
	m2 := m * m
	m4 := m2 * m2
	low := (c[0] + c[1]*m) + (c[2]+c[3]*m)*m2
	mid := (c[4] + c[5]*m) + (c[6]+c[7]*m)*m2
	g := d.c * d.power.scale[n] * (low + mid*m4 + (c[8]+c[9]*m)*m4*m4)
	return g * v, g * (1 - (1-d.alpha)*v*v/s)
}

// power evaluates x^e quickly for positive x. It splits off the power of two, which leaves a
// mantissa m from 1 to 2, where a polynomial is enough.
//
//	x = m 2^n,  x^e = m^e 2^(n e)
//
// For e from -0.5 to 0 it is within 1e-8 of math.Pow, at a quarter of its cost. elementary.Pow,
// which has all digits and any exponent, would make a step half as expensive again. x is
// limited to 2^-32..2^32.
type power struct {
	scale [65]float64              // 2^(n e) for n from -32
	c     [powerDegree + 1]float64 // of the polynomial in m - 1.5, lowest first
}

const powerDegree = 9

// newPower returns the power of exponent e. The polynomial interpolates at the Chebyshev points
// of 1 to 2 (Dahlquist and Bjorck 1974, Numerical Methods, 4.4).
func newPower(e float64) *power {
	p := &power{}
	for i := range p.scale {
		p.scale[i] = math.Exp2(float64(i-32) * e)
	}
	const n = powerDegree + 1
	var x, d [n]float64
	for i := range n {
		x[i] = 0.5 * math.Cos(math.Pi*(float64(i)+0.5)/n)
		d[i] = math.Pow(1.5+x[i], e)
	}
	for j := 1; j < n; j++ { // divided differences
		for i := n - 1; i >= j; i-- {
			d[i] = (d[i] - d[i-1]) / (x[i] - x[i-j])
		}
	}
	for i := n - 1; i >= 0; i-- { // c <- c (x - x_i) + d_i
		for k := n - 1; k > 0; k-- {
			p.c[k] = p.c[k-1] - x[i]*p.c[k]
		}
		p.c[0] = d[i] - x[i]*p.c[0]
	}
	return p
}
