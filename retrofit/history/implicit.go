package history

import "math"

// The equilibrium of a step: the largest unbalanced acceleration that passes, how
// many Newton iterations are tried, and from which on the stiffness before yield
// is taken, with which the iteration creeps but cannot cycle.
const (
	residualTolerance = 1e-5 // m/s2, a millionth of strong shaking
	newtonSteps       = 12
	mostIterations    = 60
)

// implicit takes one step of dt by Newmark's average acceleration to a ground
// acceleration of ag, with Newton iterations.
//
//	v' = 2 (u' - u)/dt - v,  a' = 4 (u' - u)/dt2 - 4 v/dt - a
//	m (a' + ag) + a0 m v' + f(u') + C v' + F(v') = 0
//
// Newmark 1959; Chopra, Dynamics of Structures, 5.7 and 16.3. Inherent damping
// follows the tangent stiffness at the start of the step. The system is
// tridiagonal: it is set up and eliminated from the top down in one loop.
func (w *Work) implicit(m *Model, dt, ag float64) {
	for i := range w.cells {
		c := &w.cells[i]
		c.t = c.u + dt*(c.v+dt/2*c.a)
	}
	for n := 0; ; n++ {
		if w.eliminate(m, dt, ag, n > newtonSteps) < residualTolerance {
			break
		}
		if n == mostIterations {
			w.status |= Unconverged
			break
		}
		below := 0.0 // correction of the one below
		for i := range w.cells {
			c := &w.cells[i]
			below = (c.k*below - c.rhs) * c.inverse
			c.t += below
		}
	}
	w.settle(m, dt, ag)
}

// eliminate sets up the equations of the trial displacements and eliminates them
// downwards. It returns the largest unbalanced acceleration in m/s2.
func (w *Work) eliminate(m *Model, dt, ag float64, elastic bool) (worst float64) {
	cells, links := w.cells, m.links[:len(w.cells)]
	p, q := 2/dt, 4/(dt*dt)
	top := len(cells) - 1
	{
		c := &cells[top]
		d := c.t - c.u
		c.speedT, c.accelT = p*d-c.v, q*d-2*p*c.v-c.a
	}
	force, stiff, carryK, carryR := 0.0, 0.0, 0.0, 0.0 // of the link above and its elimination
	for i := top; i >= 0; i-- {
		c, l := &cells[i], &links[i]
		x, vx := c.t, c.speedT
		if i > 0 {
			b := &cells[i-1]
			d := b.t - b.u
			b.speedT, b.accelT = p*d-b.v, q*d-2*p*b.v-b.a
			x -= b.t
			vx -= b.speedT
		}
		switch {
		case l.main.rate > 0:
			c.f, c.kt = l.main.slipping(&c.main, x, vx)
		case l.main.degrading:
			c.f, c.kt = l.main.try(&c.main, x)
		default:
			c.f, c.kt = l.main.tryBilinear(&c.main, x)
		}
		rate := l.tangent*c.main.kt + l.dashpot
		c.damp = rate * vx
		s, k := c.f+c.damp-l.geometric*x, c.kt-l.geometric
		if elastic {
			k += l.main.k - c.kt
		}
		if l.device.k > 0 {
			c.fDevice, c.ktDevice = l.device.try(&c.device, x)
			s += c.fDevice
			k += c.ktDevice
			if elastic {
				k += l.device.k - c.ktDevice
			}
		}
		if l.damper.c > 0 {
			g, slope := l.damper.force(vx)
			c.fluid = g
			s += g
			rate += slope
		}
		k += p * rate
		r := l.mass*(c.accelT+ag+l.massDamping*c.speedT) + s - force
		worst = max(worst, math.Abs(r)*l.lightness)
		c.inverse = 1 / (l.mass*(q+p*l.massDamping) + k + stiff - carryK)
		c.rhs = r + carryR
		c.k = k
		ratio := k * c.inverse
		carryK, carryR = k*ratio, ratio*c.rhs
		force, stiff = s, k
	}
	return worst
}

// settle commits the step.
func (w *Work) settle(m *Model, dt, ag float64) {
	below, belowV, moved, base, roof := 0.0, 0.0, 0.0, 0.0, 0.0
	for i := range w.cells {
		c, l := &w.cells[i], &m.links[i]
		x, vx := c.t-below, c.speedT-belowV
		c.wMain += 0.5 * (c.f + c.main.f) * (x - c.main.x)
		l.main.commit(&c.main, x, c.f, c.kt)
		if l.device.k > 0 {
			c.wDevice += 0.5 * (c.fDevice + c.device.f) * (x - c.device.x)
			l.device.commit(&c.device, x, c.fDevice, c.ktDevice)
		}
		c.wDamp += dt * (c.damp*vx + l.mass*l.massDamping*c.speedT*c.speedT)
		c.wDamper += dt * c.fluid * vx
		if i == 0 {
			base = c.f + c.fDevice + c.fluid
		}
		if i == m.first+m.floors-1 {
			roof = c.t
		}
		if x = math.Abs(x); x > c.peakX {
			c.peakX = x
		}
		if x = math.Abs(c.accelT + ag); x > c.peakA {
			c.peakA = x
		}
		moved += l.mass * (c.t - c.u)
		c.u, c.v, c.a, c.speed = c.t, c.speedT, c.accelT, c.speedT
		below, belowV = c.u, c.v
	}
	if m.first == 1 {
		roof -= w.cells[0].u
	}
	w.peakRoof = max(w.peakRoof, math.Abs(roof))
	w.peakShear = max(w.peakShear, math.Abs(base))
	w.input -= 0.5 * (w.ground + ag) * moved
}
