package retrofit

import "math"

// Pose is the position of a free-standing object on its floor. Positive is the direction of
// positive floor acceleration.
type Pose struct {
	Slide float64 // m, from its first position
	Tilt  float64 // rad, from upright; Fallen if it lies
}

// Fallen is the tilt in rad of an object that has fallen.
const Fallen = math.Pi / 2

// The number of steps between samples of a floor's motion for an object on it, and the rotation
// in rad/s below which an object that lands stands still (judgement: a millimetre a second at
// the top of a cabinet).
const (
	rideParts = 16
	stillness = 5e-4
)

// Ride returns the pose of o at each sample on a floor of absolute accelerations in m/s2 at
// even steps in s. The object makes only the movement that First gives: a block that slides
// does not rock.
//
//	slides: x" = -a - mu g sgn(x'), from |a| > mu g until x' = 0
//	rocks:  t" = -p2 (sin(s alpha - t) + a/g cos(s alpha - t)),  p2 = 3g/(4R),  s = sgn(t)
//
// from |a| > g b/h, with tan alpha = b/h and R half the diagonal; each landing leaves 1 - 1.5
// sin2(alpha) of the rotation. Newmark 1965, Geotechnique 15:139; Housner 1963, Bulletin of the
// Seismological Society of America 53:403 (from memory). Bouncing and twisting are left out,
// which matters for squat blocks (Lipscombe and Pellegrino 1993, Journal of Engineering
// Mechanics 119:1387; volume and page from memory). The acceleration is linear between samples.
// An object without a height stays.
func (o FreeStanding) Ride(accel []float64, step float64) []Pose {
	out := make([]Pose, len(accel))
	move, _ := o.First()
	if move == Stays || !(o.Height > 0) {
		return out
	}
	b := rider{FreeStanding: o, dt: step / rideParts, alpha: math.Atan(o.BaseOverHeight)}
	for i := 1; i < len(accel); i++ {
		for k := range rideParts {
			a := accel[i-1] + (float64(k)+0.5)/rideParts*(accel[i]-accel[i-1])
			if move == Slides {
				b.slide(a)
			} else {
				b.rock(a)
			}
		}
		out[i] = b.Pose
	}
	return out
}

// rider is a free-standing object in motion.
type rider struct {
	FreeStanding
	Pose
	speed float64 // m/s or rad/s, relative to the floor
	dt    float64 // s
	alpha float64 // rad
}

// slide takes one step on a floor of acceleration a.
func (b *rider) slide(a float64) {
	grip := SlidingAcceleration(b.Friction)
	if b.speed == 0 && math.Abs(a) <= grip {
		return
	}
	way := b.speed // direction of sliding, or of its beginning
	if way == 0 {
		way = -a
	}
	next := b.speed + b.dt*(-a-math.Copysign(grip, way))
	if b.speed != 0 && next*b.speed <= 0 { // comes to rest within the step
		b.Slide += b.speed * b.dt / 2
		b.speed = 0
		return
	}
	b.Slide += b.dt * (b.speed + next) / 2
	b.speed = next
}

// rock takes one step on a floor of acceleration a, by the classical Runge-Kutta
// method.
func (b *rider) rock(a float64) {
	if math.Abs(b.Tilt) == Fallen || b.Tilt == 0 && b.speed == 0 &&
		math.Abs(a) <= RockingAcceleration(b.BaseOverHeight, 1) {
		return
	}
	side := b.Tilt
	if side == 0 {
		side = b.speed
	}
	if side == 0 {
		side = -a
	}
	edge := math.Copysign(b.alpha, side)
	p2 := 3 * gravity / (4 * math.Hypot(b.Height, b.Height*b.BaseOverHeight) / 2)
	turn := func(t float64) float64 { sin, cos := math.Sincos(edge - t); return -p2 * (sin + a/gravity*cos) }
	h, t, w := b.dt, b.Tilt, b.speed
	k1 := turn(t)
	k2 := turn(t + h/2*w)
	k3 := turn(t + h/2*w + h*h/4*k1)
	k4 := turn(t + h*w + h*h/2*k2)
	b.Tilt += h*w + h*h/6*(k1+k2+k3)
	b.speed += h / 6 * (k1 + 2*k2 + 2*k3 + k4)
	switch {
	case b.Tilt*edge <= 0: // lands and continues over the other edge
		sin := math.Sin(b.alpha)
		b.Tilt, b.speed = 0, b.speed*(1-1.5*sin*sin)
		if math.Abs(b.speed) < stillness || b.speed*edge > 0 {
			b.speed = 0
		}
	case math.Abs(b.Tilt) >= Fallen:
		b.Tilt, b.speed = math.Copysign(Fallen, b.Tilt), 0
	}
}
