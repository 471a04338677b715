package history

import "math"

// Constants of the equilibrium of a step: the largest unbalanced acceleration accepted, the
// number of Newton iterations (by trial), and the iteration from which springs use their
// stiffness before yield and dampers their secant. No tangent is steeper, so that the iteration
// then converges slowly but cannot cycle.
const (
	residualTolerance = 1e-5 // m/s2, a millionth of strong shaking
	newtonSteps       = 4
	mostIterations    = 60
)

// implicit takes one step of dt by Newmark's average acceleration to a ground
// acceleration of ag, with Newton iterations.
//
//	v' = 2 (u' - u)/dt - v,  a' = 4 (u' - u)/dt2 - 4 v/dt - a
//	m (a' + ag) + a0 m v' + f(u') + C v' + F(v') = 0
//
// Newmark 1959; Chopra, Dynamics of Structures, 5.7 and 16.3. Inherent damping follows the
// tangent stiffness at the start of the step. The system is tridiagonal: one loop from the top
// down assembles and eliminates it. The elimination at which a step balances is the tangent at
// the start of the next.
func (w *Work) implicit(m *Model, dt, ag float64) {
	w.predict(m, dt, ag)
	for n := 0; ; n++ {
		w.correct(dt)
		if w.eliminate(m, dt, ag, n > newtonSteps) < residualTolerance {
			break
		}
		if n == mostIterations {
			w.status |= Unconverged
			break
		}
	}
	w.settle(m, dt, ag)
}

// predict starts the trial with no movement and computes its unbalanced force, with the tangent
// at the start of the step.
//
//	u' = u,  v' = -v,  s' = s - 2 v ds/dv
func (w *Work) predict(m *Model, dt, ag float64) {
	cells, links := w.cells, m.links[:len(w.cells)]
	p := 2 / dt
	force, carryR := 0.0, 0.0 // of the link above and its elimination
	for i := len(cells) - 1; i >= 0; i-- {
		c, l := &cells[i], &links[i]
		vx := c.v
		if i > 0 {
			vx -= cells[i-1].v
		}
		c.t, c.speedT, c.accelT = c.u, -c.v, -2*p*c.v-c.a
		s := c.force - 2*c.rate*vx
		c.rhs = l.mass*(c.accelT+ag+l.massDamping*c.speedT) + s - force + carryR
		force, carryR = s, c.ratio*c.rhs
	}
}

// correct moves the trial to the displacements at which the tangent balances.
func (w *Work) correct(dt float64) {
	p, q := 2/dt, 4/(dt*dt)
	d := 0.0
	for i := range w.cells {
		c := &w.cells[i]
		d = c.ratio*d - c.inverse*c.rhs
		c.t += d
		c.speedT += p * d
		c.accelT += q * d
	}
}

// eliminate assembles the equations of the trial displacements and eliminates them downwards.
// It returns the largest unbalanced acceleration in m/s2.
func (w *Work) eliminate(m *Model, dt, ag float64, creep bool) (worst float64) {
	cells, links := w.cells, m.links[:len(w.cells)]
	p, q := 2/dt, 4/(dt*dt)
	force, stiff, carryK, carryR := 0.0, 0.0, 0.0, 0.0 // of the link above and its elimination
	for i := len(cells) - 1; i >= 0; i-- {
		c, l := &cells[i], &links[i]
		x, vx := c.t, c.speedT
		if i > 0 {
			x -= cells[i-1].t
			vx -= cells[i-1].speedT
		}
		switch {
		case l.main.rate > 0:
			c.f, c.kt = l.main.slipping(&c.main, x, vx)
		case l.main.degrading:
			c.f, c.kt = l.main.tryDegrading(&c.main, x)
		default:
			c.f, c.kt = l.main.tryBilinear(&c.main, x)
		}
		rate := l.tangent*c.main.kt + l.dashpot
		c.damp = rate * vx
		s, k := c.f+c.damp-l.geometric*x, c.kt-l.geometric
		if creep {
			k += l.main.k - c.kt
		}
		if l.device.k > 0 {
			c.fDevice, c.ktDevice = l.device.try(&c.device, x)
			s += c.fDevice
			k += c.ktDevice
			if creep {
				k += l.device.k - c.ktDevice
			}
		}
		if l.damper.c > 0 {
			g, slope := l.damper.force(vx)
			c.fluid = g
			s += g
			if creep && vx != 0 {
				slope = g / vx
			}
			rate += slope
		}
		k += p * rate
		r := l.mass*(c.accelT+ag+l.massDamping*c.speedT) + s - force
		worst = max(worst, math.Abs(r)*l.lightness)
		c.inverse = 1 / (l.mass*(q+p*l.massDamping) + k + stiff - carryK)
		c.rhs = r + carryR
		c.ratio = k * c.inverse
		c.rate, c.force = rate, s
		carryK, carryR = k*k*c.inverse, c.ratio*c.rhs
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
