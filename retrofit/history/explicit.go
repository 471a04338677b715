package history

import "math"

// explicit takes one step of dt by central differences, from the displacements at its start,
// where the ground acceleration is w.ground.
//
//	a(n) = -(f(u(n)) + C v(n))/m - ag(n)
//	v(n + 1/2) = v(n - 1/2) + dt a(n),  u(n + 1) = u(n) + dt v(n + 1/2)
//	v(n) = v(n - 1/2) + dt/2 a(n - 1)
//
// The last line keeps damping of second order without a system of equations (Belytschko, Liu
// and Moran 2000, Nonlinear Finite Elements, 6.2, from memory, with the velocity extrapolated
// rather than lagged). The loop runs from the top down, so that a link is read before either of
// its ends has moved. Only the energy needs next, the ground acceleration at the end.
func (w *Work) explicit(m *Model, dt, next float64) {
	ag := w.ground
	cells, links := w.cells, m.links[:len(w.cells)]
	above, moved, base := 0.0, 0.0, 0.0
	roof := cells[m.first+m.floors-1].u
	if m.first == 1 {
		roof -= cells[0].u
	}
	for i := len(cells) - 1; i >= 0; i-- {
		c, l := &cells[i], &links[i]
		x, vx := c.u, c.speed
		if i > 0 {
			x -= cells[i-1].u
			vx -= cells[i-1].speed
		}
		var f, kt float64
		switch {
		case l.main.rate > 0:
			f, kt = l.main.slipping(&c.main, x, vx)
		case l.main.degrading:
			f, kt = l.main.tryDegrading(&c.main, x)
		default:
			f, kt = l.main.tryBilinear(&c.main, x)
		}
		c.wMain += 0.5 * (f + c.main.f) * (x - c.main.x)
		l.main.commit(&c.main, x, f, kt)
		damp := (l.tangent*kt + l.dashpot) * vx
		energy := damp * vx
		if l.device.k > 0 {
			g, ktd := l.device.try(&c.device, x)
			c.wDevice += 0.5 * (g + c.device.f) * (x - c.device.x)
			l.device.commit(&c.device, x, g, ktd)
			f += g
		}
		base = f
		f += damp - l.geometric*x
		drag := l.massDamping * c.speed
		at := (above-f)*l.lightness - drag
		c.wDamp += dt * (energy + l.mass*drag*c.speed)
		above = f
		if x = math.Abs(x); x > c.peakX {
			c.peakX = x
		}
		if x = math.Abs(at); x > c.peakA {
			c.peakA = x
		}
		a := at - ag
		c.a = a
		c.v += dt * a
		c.speed = c.v + 0.5*dt*a
		c.u += dt * c.v
		moved += l.mass * c.v
	}
	w.peakRoof = max(w.peakRoof, math.Abs(roof))
	w.peakShear = max(w.peakShear, math.Abs(base))
	w.input -= dt / 2 * moved * (ag + next)
}

// slipping is try for friction that depends on the velocity v in m/s.
func (l *law) slipping(s *spring, x, v float64) (f, kt float64) {
	at := *l
	at.q -= (l.q - l.slow) * math.Exp(-l.rate*math.Abs(v))
	return at.try(s, x)
}
