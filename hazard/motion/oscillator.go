package motion

import (
	"math"

	"plinth/hazard"
)

// Oscillator is a linear oscillator under a ground acceleration that is linear over each step,
// for which its recurrence is exact at any step length.
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

// stepsPerCycle is the least number of steps in a period; samples are divided to reach it. The
// peak is sought among the steps: a peak between two is missed by at most 1 - cos(pi/16), 2 %,
// and by a third of that on average.
const stepsPerCycle = 16

// parts returns the number of steps in a sample for an oscillator of a period in s.
func (r *Record) parts(period float64) float64 {
	if n := math.Ceil(stepsPerCycle * r.Step / period); n > 1 {
		return n
	}
	return 1
}

// Peak returns the largest displacement in m relative to the ground of an
// oscillator of a period in s and damping as a fraction of critical, and its
// largest absolute acceleration in m/s2, during the record. Free vibration after
// the record is left out. It allocates nothing.
func (r *Record) Peak(period, damping float64) (displacement, acceleration float64) {
	parts := r.parts(period)
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

// Spectrum fills sa with the pseudo-accelerations in g at the periods in s, for one damping. It
// allocates nothing. It takes up to four neighbouring periods at a time, if they divide samples
// alike.
func (r *Record) Spectrum(periods []float64, damping float64, sa []float64) {
	var four [4]line
	for len(periods) > 0 {
		parts := r.parts(periods[0])
		n := 0
		for n < min(len(four), len(periods)) && r.parts(periods[n]) == parts {
			o := NewOscillator(periods[n], damping, r.Step/parts)
			four[n] = o.line()
			n++
		}
		most := sweep(&four, r.Accel, parts)
		for i, t := range periods[:n] {
			w := 2 * math.Pi / t
			sa[i] = most[i] * math.Abs(r.Scale) * w * w
		}
		periods, sa = periods[n:], sa[n:]
	}
}

// line is the recurrence of an oscillator in displacement alone.
//
//	u'' = (A + B1) u' + (B A1 - A B1) u + (B C1 - B1 C) p + (C + B D1 - B1 D) p' + D p''
//
// It follows from two steps by elimination of the velocity. Rounding grows as (step/period)^-2,
// to 1e-10 at worst.
type line struct{ u1, u0, p0, p1, p2, first float64 }

func (o *Oscillator) line() line {
	return line{
		u1: o.a + o.b1, u0: o.b*o.a1 - o.a*o.b1,
		p0: o.b1*o.c - o.b*o.c1, p1: o.b1*o.d - o.c - o.b*o.d1, p2: -o.d,
		first: -o.c,
	}
}

// sweep returns the largest displacements of four oscillators from rest, in the unit of accel
// times s2, with parts steps in each sample. The four chains of dependent operations run in
// parallel.
func sweep(o *[4]line, accel []float64, parts float64) [4]float64 {
	var u, last, most [4]float64
	if len(accel) < 2 {
		return most
	}
	from, p0 := accel[0], accel[0]
	p1 := from + (accel[1]-from)/parts
	for n := range o {
		u[n] = o[n].first*p0 + o[n].p2*p1
		most[n] = math.Abs(u[n])
	}
	done := 1.0 // steps of the sample taken so far
	for _, to := range accel[1:] {
		rise := (to - from) / parts
		for ; done < parts; done++ {
			p2 := from + (done+1)*rise
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
		from, done = to, 0
	}
	return most
}
