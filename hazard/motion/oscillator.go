package motion

import (
	"math"

	"plinth/hazard"
)

// An Oscillator is a linear oscillator under a ground acceleration that is
// straight over each step: its recurrence is exact there, at any step.
//
//	u'  = A u + B v + C p + D p'
//	v'  = A1 u + B1 v + C1 p + D1 p',  p = -a
//
// Nigam and Jennings 1969, Bulletin of the Seismological Society of America
// 59:909; the coefficients are those of Chopra, Dynamics of Structures, Table
// 5.2.1, for a unit mass.
type Oscillator struct {
	a, b, c, d     float64
	a1, b1, c1, d1 float64
	w              float64 // rad/s
	zeta           float64
}

// NewOscillator returns the oscillator of a period in s and a damping as a
// fraction of critical, from 0 to below 1, for a step in s.
func NewOscillator(period, damping, step float64) Oscillator {
	w := 2 * math.Pi / period
	root := math.Sqrt(1 - damping*damping)
	wd := w * root
	e := math.Exp(-damping * w * step)
	sin, cos := math.Sincos(wd * step)
	sin, cos = e*sin, e*cos
	k, z := w*w, damping
	wt := w * step
	return Oscillator{
		a:  z/root*sin + cos,
		b:  sin / wd,
		c:  (2*z/wt + ((1-2*z*z)/(wd*step)-z/root)*sin - (1+2*z/wt)*cos) / k,
		d:  (1 - 2*z/wt + (2*z*z-1)/(wd*step)*sin + 2*z/wt*cos) / k,
		a1: -w / root * sin,
		b1: cos - z/root*sin,
		c1: (-1/step + (w/root+z/(step*root))*sin + cos/step) / k,
		d1: (1 - z/root*sin - cos) / (k * step),
		w:  w, zeta: z,
	}
}

// Step advances displacement u in m and velocity v in m/s over one step in which
// the ground acceleration goes from p to q in m/s2.
func (o *Oscillator) Step(u, v, p, q float64) (float64, float64) {
	return o.a*u + o.b*v - o.c*p - o.d*q, o.a1*u + o.b1*v - o.c1*p - o.d1*q
}

// stepsPerCycle a record is refined to before the peak is looked for among the
// samples of the response: a peak between two is missed by at most 1 - cos(pi/16),
// 2 %, and by a third of that in the mean.
const stepsPerCycle = 16

// Peak returns the largest displacement in m relative to the ground of an
// oscillator of a period in s and damping as a fraction of critical, and its
// largest absolute acceleration in m/s2, during the record. Free vibration after
// the record is left out. It allocates nothing.
func (r *Record) Peak(period, damping float64) (displacement, acceleration float64) {
	parts := math.Ceil(stepsPerCycle * r.Step / period)
	parts = max(parts, 1)
	o := NewOscillator(period, damping, r.Step/parts)
	k, c := o.w*o.w, 2*o.zeta*o.w
	scale := r.Scale * hazard.Gravity
	u, v, last := 0.0, 0.0, 0.0
	for i, a := range r.Accel {
		a *= scale
		if i == 0 {
			last = a
			continue
		}
		p, rise := last, (a-last)/parts
		for n := parts; n > 0; n-- {
			q := p + rise
			u, v = o.Step(u, v, p, q)
			p = q
			displacement = max(displacement, math.Abs(u))
			acceleration = max(acceleration, math.Abs(k*u+c*v))
		}
		last = a
	}
	return displacement, acceleration
}

// Sa returns the pseudo-acceleration in g, w2 times the peak displacement.
func (r *Record) Sa(period, damping float64) float64 {
	u, _ := r.Peak(period, damping)
	w := 2 * math.Pi / period
	return u * w * w / hazard.Gravity
}

// Spectrum fills sa with the pseudo-accelerations in g at the periods in s, for
// one damping. It allocates nothing and takes four periods at a time where the
// step is fine enough for them.
func (r *Record) Spectrum(periods []float64, damping float64, sa []float64) {
	var four [4]line
	held := 0 // periods at the end of the done part that wait for company
	for i, t := range periods {
		if t < stepsPerCycle*r.Step || len(r.Accel) < 2 {
			sa[i] = r.Sa(t, damping)
			for n := range held { // out of order: do those waiting one by one
				sa[i-1-n] = r.Sa(periods[i-1-n], damping)
			}
			held = 0
			continue
		}
		o := NewOscillator(t, damping, r.Step)
		four[held] = o.line()
		if held++; held < len(four) {
			continue
		}
		for n, u := range sweep(&four, r.Accel) {
			w := 2 * math.Pi / periods[i-3+n]
			sa[i-3+n] = u * math.Abs(r.Scale) * w * w
		}
		held = 0
	}
	for n := len(periods) - held; n < len(periods); n++ {
		sa[n] = r.Sa(periods[n], damping)
	}
}

// A line is the recurrence of an oscillator in displacement alone.
//
//	u'' = (A + B1) u' + (B A1 - A B1) u + (B C1 - B1 C) p + (C + B D1 - B1 D) p' + D p''
//
// Elimination of the velocity from two steps. Rounding grows as (step/period)^-2,
// to 1e-10 at worst.
type line struct{ u1, u0, p0, p1, p2, first float64 }

func (o *Oscillator) line() line {
	return line{
		u1: o.a + o.b1, u0: o.b*o.a1 - o.a*o.b1,
		p0: o.b1*o.c - o.b*o.c1, p1: o.b1*o.d - o.c - o.b*o.d1, p2: -o.d,
		first: -o.c,
	}
}

// sweep returns the largest displacements of four oscillators from rest, in the
// unit of accel times s2. Their chains of dependent operations run side by side.
func sweep(o *[4]line, accel []float64) [4]float64 {
	var u, last, most [4]float64
	p0, p1 := accel[0], accel[1]
	for n := range o {
		u[n] = o[n].first*p0 + o[n].p2*p1
		most[n] = math.Abs(u[n])
	}
	for _, p2 := range accel[2:] {
		for n := range o {
			c := &o[n]
			next := c.u1*u[n] + c.u0*last[n] + (c.p0*p0 + c.p1*p1 + c.p2*p2)
			last[n], u[n] = u[n], next
			if x := math.Abs(next); x > most[n] {
				most[n] = x
			}
		}
		p0, p1 = p1, p2
	}
	return most
}
