package archetypes

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
)

// A Continuum is a uniform cantilever that bends and shears: a flexural beam tied
// to a shear beam at every height, with the parameter
//
//	alpha0 = H sqrt(GA/EI)
//
// 0 for a flexural beam (a slender wall), above 30 in effect a shear beam. It gives
// the shapes a Stick cannot: drift that grows towards the roof of a wall building.
//
//	2 + (2 + a^4/(g^2 b^2)) cos g cosh b + a^2/(g b) sin g sinh b = 0, b^2 = a^2 + g^2
//	Tj/T1 = (g1/gj) sqrt((g1^2 + a^2)/(gj^2 + a^2))
//	phi(x) = sin gx - (g/b) sinh bx + n (cosh bx - cos gx), scaled to 1 at the roof
//	n = (g^2 sin g + g b sinh b)/(g^2 cos g + b^2 cosh b)
//
// with a = alpha0 and x the height over that of the roof (Miranda and Taghavi, J.
// Struct. Eng. 2005 131:203; Miranda and Reyes 2002 give alpha0 0 to 2 for shear
// walls, 1.5 to 6 for dual systems, 5 to 20 for moment frames, from memory).
type Continuum struct {
	Alpha0      float64
	PeriodRatio [MaxModes]float64 // Tj/T1
	Gamma       [MaxModes]float64 // participation factor for a roof ordinate of 1
	MassRatio   [MaxModes]float64 // modal mass over total mass

	shapes [MaxModes]beamShape
}

// NewContinuum solves the cantilever of parameter alpha0 from 0 to 650, where it
// agrees with a shear beam to four digits; values outside are moved to the nearer
// end.
func NewContinuum(alpha0 float64) *Continuum {
	if math.IsNaN(alpha0) {
		panic("archetypes: alpha0 is not a number")
	}
	c := &Continuum{Alpha0: min(max(alpha0, 0), 650)}
	a := c.Alpha0
	g1 := beamRoot(a, 1)
	for j := range MaxModes {
		g := beamRoot(a, j+1)
		c.PeriodRatio[j] = g1 / g * math.Sqrt((g1*g1+a*a)/(g*g+a*a))
		c.shapes[j] = newBeamShape(a, g)
		// 200 Gauss-Legendre points crowd towards the ends, where a stiff shear beam
		// has its boundary layer of length 1/alpha0.
		l := quad.Fixed(func(x float64) float64 { return c.Shape(j, x) }, 0, 1, 200, quad.Legendre{}, 0)
		m := quad.Fixed(func(x float64) float64 { v := c.Shape(j, x); return v * v }, 0, 1, 200,
			quad.Legendre{}, 0)
		c.Gamma[j], c.MassRatio[j] = l/m, l*l/m
	}
	return c
}

// Shape returns the ordinate of mode j, from 0, at relative height x from 0 to 1.
func (c *Continuum) Shape(j int, x float64) float64 { return c.shapes[j].at(x) / c.shapes[j].roof }

// Slope returns the derivative of Shape with respect to x: the drift ratio there
// over the drift ratio of the roof, H the height of both.
func (c *Continuum) Slope(j int, x float64) float64 { return c.shapes[j].slope(x) / c.shapes[j].roof }

// beamRoot returns the j-th root g of the characteristic equation divided by
// cosh b. One root lies between (j-1) pi and j pi.
func beamRoot(a float64, j int) float64 {
	f := func(g float64) float64 {
		b := math.Hypot(a, g)
		p, q := a*a/(g*b), 2/math.Cosh(b)
		return q + (2+p*p)*math.Cos(g) + p*math.Sin(g)*math.Tanh(b)
	}
	lo, hi := float64(j-1)*math.Pi, float64(j)*math.Pi
	if lo == 0 {
		lo = 1e-3 // f is positive at the start of the odd intervals
	}
	positive := f(lo) > 0
	for range 60 { // halves the interval below the spacing of floats
		if mid := (lo + hi) / 2; f(mid) > 0 == positive {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

// A beamShape is phi in exponentials that do not overflow or cancel,
//
//	phi = sin gx - n cos gx + up e^(b(x-1)) + down e^(-bx)
//	up = e^b (n - g/b)/2, down = (n + g/b)/2
type beamShape struct{ g, b, n, up, down, roof float64 }

func newBeamShape(a, g float64) beamShape {
	b := math.Hypot(a, g)
	sin, cos := math.Sincos(g)
	e, e2 := math.Exp(-b), math.Exp(-2*b)
	d := g*g*cos*e + b*b*(1+e2)/2 // denominator of n, times e^-b
	s := beamShape{g: g, b: b, n: (g*g*sin*e + g*b*(1-e2)/2) / d}
	s.up = (g*g*sin - g*g*g/b*cos - g*b*e) / (2 * d)
	s.down = (s.n + g/b) / 2
	s.roof = s.at(1)
	return s
}

func (s *beamShape) at(x float64) float64 {
	sin, cos := math.Sincos(s.g * x)
	return sin - s.n*cos + s.up*math.Exp(s.b*(x-1)) + s.down*math.Exp(-s.b*x)
}

func (s *beamShape) slope(x float64) float64 {
	sin, cos := math.Sincos(s.g * x)
	return s.g*(cos+s.n*sin) + s.b*(s.up*math.Exp(s.b*(x-1))-s.down*math.Exp(-s.b*x))
}
