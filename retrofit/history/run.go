package history

import (
	"math"

	"plinth/hazard/motion"
)

// Work is the scratch space of one goroutine. The zero value is ready.
type Work struct {
	// Series, if set, is filled with the time series of each run.
	Series *Series

	cells      []cell
	peakGround float64 // m/s2
	peakRoof   float64 // m
	peakShear  float64 // N
	input      float64 // J
	status     RunStatus
	ground     float64 // m/s2, at the last step
	driving    float64 // m/s2, of the ground, reference of the accelerations
	coarse     Result
	results    []Result
	runs, half []Result // of the last suite
	values     []float64
}

// cell is the state of a degree of freedom and of the link below it.
type cell struct {
	u, v, a      float64 // relative to the ground; explicit: v half a step behind
	speed        float64 // velocity at the step
	peakX, peakA float64
	wMain, wDamp float64 // J
	main         spring
	rest         float64 // sum of drifts in free vibration
	device       spring

	wDevice, wDamper float64 // J

	// of the implicit integrator: the trial, its forces and tangents, the elimination
	t, speedT, accelT        float64
	f, kt, fDevice, ktDevice float64
	damp, fluid              float64
	force, rate              float64 // of the link, and its slope on velocity
	inverse, ratio, rhs      float64
}

// Constants of the integration.
const (
	longestExplicit = 0.005 // s
	longestImplicit = 0.01  // s
	stability       = 0.6   // share of the critical step of the explicit integrator
	stepTolerance   = 0.02  // largest change by halving that is accepted, judgement
	mostHalvings    = 5     // after the first
	checkEvery      = 8     // record samples between checks for collapse
	tailPeriods     = 2     // free vibration after the record, in periods; residuals are means over the last
)

// step returns the longest step in s for the integration of m.
//
//	central difference: 0.6 h/w,  h = sqrt(16 z2 + 4) - 4 z
//
// w is an upper bound of the highest frequency (Gershgorin) and z its damping. h is 2 without
// damping; with the velocity extrapolated over half a step it solves h2 + 8 z h = 4.
func (m *Model) step() float64 {
	if m.implicit {
		return longestImplicit
	}
	most, damping := 0.0, 0.0
	for i := range m.links {
		sum, dash := 0.0, 0.0
		for j := i; j <= min(i+1, len(m.links)-1); j++ {
			l := &m.links[j]
			sum += l.main.k + l.device.k
			dash += l.tangent*l.main.k + l.dashpot
		}
		if w2 := 2 * sum / m.links[i].mass; w2 > most {
			most = w2
		}
		damping = max(damping, 2*dash/m.links[i].mass+m.links[i].massDamping)
	}
	w := math.Sqrt(most)
	z := damping / (2 * w)
	return min(longestExplicit, stability*(math.Sqrt(16*z*z+4)-4*z)/w)
}

// Run integrates m through r and fills out. It repeats the run at half the step until the
// largest drift, floor acceleration (the ground's apart, which needs no integration) and
// displacement change by less than 2 % and the energy closes
// within 1 %, and reports the finer run. A run that collapses at both steps is collapsed.
func (w *Work) Run(m *Model, r *motion.Record, out *Result) {
	parts := max(1, int(math.Ceil(r.Step/m.longest*(1-1e-9))))
	w.once(m, r, parts, out, nil)
	for range mostHalvings + 1 {
		w.coarse.copyFrom(out)
		parts *= 2
		w.once(m, r, parts, out, nil)
		out.StepError = change(&w.coarse, out)
		if out.StepError < stepTolerance && out.Status&Unbalanced == 0 {
			break
		}
	}
	if !(out.StepError < stepTolerance) {
		out.Status |= Unresolved
	}
	if w.Series != nil {
		again := w.coarse // reuse its storage
		w.once(m, r, parts, &again, w.Series)
	}
}

// change returns the largest relative change from a to b.
func change(a, b *Result) float64 {
	if a.Status&b.Status&Collapsed != 0 {
		return 0
	}
	if (a.Status|b.Status)&Collapsed != 0 {
		return 1
	}
	most := 0.0
	for _, p := range [][2]float64{{a.DriftRatio, b.DriftRatio}, {a.floors(), b.floors()},
		{a.Displacement, b.Displacement}} {
		if p[1] != 0 {
			most = max(most, math.Abs(p[0]/p[1]-1))
		}
	}
	return most
}

// once integrates m through r with parts steps in each sample.
func (w *Work) once(m *Model, r *motion.Record, parts int, out *Result, s *Series) {
	out.reset(m)
	dt := r.Step / float64(parts)
	scale := r.Scale * gravity
	w.start(m, dt, scale*sample(r, 0))
	if s != nil {
		s.start(w, m)
	}
	tail := int(math.Ceil(tailPeriods * m.period / r.Step))
	still := int(math.Ceil(m.period / r.Step))
	count := 0
	end := len(r.Accel) + tail
	for i := 1; i < end; i++ {
		w.advance(m, dt, scale*sample(r, i), parts)
		if i >= end-still {
			count++
			for j := range w.cells {
				w.cells[j].rest += w.cells[j].main.x
			}
		}
		if s != nil {
			s.add(w, m, float64(i)*r.Step, w.driving)
		}
		if i%checkEvery == 0 && w.collapsed(m) {
			out.Status |= Collapsed
			break
		}
	}
	if w.collapsed(m) {
		out.Status |= Collapsed
	}
	out.Status |= w.status
	out.Step = dt
	w.collect(m, out, count)
}

// sample returns sample i of r, 0 beyond its end.
func sample(r *motion.Record, i int) float64 {
	if i < len(r.Accel) {
		return r.Accel[i]
	}
	return 0
}

// start puts m at rest under a ground acceleration in m/s2.
func (w *Work) start(m *Model, dt, ground float64) {
	if cap(w.cells) < len(m.links) {
		w.cells = make([]cell, len(m.links))
	}
	w.cells = w.cells[:len(m.links)]
	for i := range w.cells {
		c := &w.cells[i]
		*c = cell{a: -ground}
		if !m.implicit {
			c.v = dt / 2 * ground // so that the first half step starts from rest
		}
		m.links[i].main.reset(&c.main)
		m.links[i].device.reset(&c.device)
	}
	w.peakGround, w.peakRoof, w.peakShear, w.input = math.Abs(ground), 0, 0, 0
	w.status, w.ground = 0, ground
	if m.implicit {
		w.eliminate(m, dt, ground, false) // the tangent of the first step's prediction
	}
}

// advance takes parts steps, over which the ground acceleration goes linearly to end.
func (w *Work) advance(m *Model, dt, end float64, parts int) {
	rise := (end - w.ground) / float64(parts)
	for range parts {
		next := w.ground + rise
		if m.implicit {
			w.implicit(m, dt, next)
			w.driving = next
		} else {
			w.explicit(m, dt, next)
			w.driving = w.ground
		}
		w.ground = next
	}
	w.peakGround = max(w.peakGround, math.Abs(end))
}

// runaway is a displacement in m beyond any real building.
const runaway = 1e3

// collapsed reports whether a drift exceeds its limit or the motion is not finite.
func (w *Work) collapsed(m *Model) bool {
	for i := range w.cells {
		c := &w.cells[i]
		if c.peakX > m.links[i].limit || !(math.Abs(c.u) < runaway) {
			return true
		}
	}
	return false
}
