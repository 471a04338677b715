package hazard

import (
	"math"
	"sync"
)

// steady is ln B of steady shaking: of white noise that lasts a number of the oscillator's periods.
var steady = sync.OnceValue(func() *surface {
	s := &surface{first: math.Log(0.1), step: math.Log(1.3)}
	for x := s.first; x < math.Log(5000); x += s.step {
		s.add(math.Exp(x), steadyPeak)
	}
	s.keepRising()
	return s
})

// steadyPeak returns ln of the median peak displacement of an oscillator under white noise that
// begins and ends at once and lasts n of its periods, but for a constant that does not depend on
// damping.
//
//	V    = J(s + D) - J(s),  s = max(0, reach - D/2)
//	1/2  = (1 - exp(-r2/2)) exp(-integral from 2 reach to D of f(r sqrt(V/J(t)))/pi dt)
//	f(r) = (1 - exp(-sqrt(pi/2) d^1.2 r))/(exp(r2/2) - 1),  d2 = 1 - (2 reach/pi)2
//	peak = r sqrt(V)
//
//	b      damping;  t, D = 2 pi n  time and duration times the circular frequency
//	J(t)   integral of the square of the impulse response: variance after a time t (build-up)
//	reach  t of the peak after an impulse
//	d      bandwidth of the response to white noise
//
// A short noise is an impulse, whose response peaks after it: V is then taken around that peak. f is
// the rate at which a level is first crossed (Vanmarcke 1975, Journal of Applied Mechanics 42:215),
// with the variance of its time (Corotis, Vanmarcke and Cornell 1972, Journal of the Engineering
// Mechanics Division 98:401), counted from half a cycle on, when another peak can follow the first.
// Both from memory; a test compares with simulated noise.
func steadyPeak(b, n float64) float64 {
	const steps = 24
	d, first := 2*math.Pi*n, reach(b)
	s := max(0, first-d/2)
	variance := builtUp(b, s+d) - builtUp(b, s)
	x := 2 / math.Pi * first
	wide := math.Sqrt(math.Pi/2) * math.Pow(1-x*x, 0.6)
	from := min(d, 2*first)
	var level [steps]float64 // sqrt(V/J(t))
	for i := range level {
		level[i] = math.Sqrt(variance / builtUp(b, from+(d-from)*(float64(i)+0.5)/steps))
	}
	survives := func(r float64) float64 {
		sum := 0.0
		for _, l := range level {
			sum -= math.Expm1(-wide*r*l) / math.Expm1(r*r*l*l/2)
		}
		return -math.Expm1(-r*r/2) * math.Exp(-sum*(d-from)/(math.Pi*steps))
	}
	low, high := 1.0, 8.0
	for range 24 {
		if r := (low + high) / 2; survives(r) < 0.5 {
			low = r
		} else {
			high = r
		}
	}
	return math.Log(low) + 0.5*math.Log(variance)
}

// nearCritical is how close to 1 a damping is moved to 1: the closed forms of builtUp divide by
// 1 - b2.
const nearCritical = 1e-3

// builtUp returns the integral from 0 to t of the square of the impulse response of an oscillator of
// circular frequency 1.
//
//	J = ((1 - E)/b - (b - E (b cos 2ct - c sin 2ct)))/(4 c2),  E = exp(-2bt),  c2 = 1 - b2
//
// and above critical damping, k2 = b2 - 1,
//
//	J = ((1 - exp(-2 (b - k) t))/(b - k) + (1 - exp(-2 (b + k) t))/(b + k) - 2 (1 - E)/b)/(8 k2)
func builtUp(b, t float64) float64 {
	if math.Abs(b-1) < nearCritical {
		b = 1 + nearCritical
	}
	fallen := -math.Expm1(-2*b*t) / b
	if b < 1 {
		c := math.Sqrt(1 - b*b)
		sin, cos := math.Sincos(2 * c * t)
		return (fallen - (b - math.Exp(-2*b*t)*(b*cos-c*sin))) / (4 * c * c)
	}
	k := math.Sqrt(b*b - 1)
	slow := 1 / (b + k) // b - k without cancellation
	return (-math.Expm1(-2*slow*t)/slow - math.Expm1(-2*(b+k)*t)*slow - 2*fallen) / (8 * k * k)
}

// reach returns the time, times the circular frequency, in which an oscillator peaks after an
// impulse.
//
//	acos(b)/sqrt(1 - b2),  acosh(b)/sqrt(b2 - 1) above critical damping
func reach(b float64) float64 {
	switch x := 1 - b*b; {
	case x > 1e-9:
		return math.Acos(b) / math.Sqrt(x)
	case x < -1e-9:
		return math.Acosh(b) / math.Sqrt(-x)
	}
	return 1
}
