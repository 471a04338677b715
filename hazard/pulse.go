package hazard

import (
	"math"
	"sync"

	"plinth/hazard/elementary"
)

// pulse is ln B of one velocity pulse, by the period of the oscillator over that of the pulse.
var pulse = sync.OnceValue(func() *surface {
	s := &surface{first: math.Log(0.1), step: math.Log(1.4)}
	for x := s.first; x < math.Log(12); x += s.step {
		s.add(math.Exp(x), pulsePeak)
	}
	return s
})

// The shapes of a pulse: cycles under its envelope, the middle of 1 to 3 that Mavroeidis and
// Papageorgiou found in records (from memory), and phases that are all as likely.
const (
	pulseCycles = 2.0
	pulsePhases = 4
)

// pulsePeak returns ln of the peak displacement of an oscillator under a pulse, as a mean over
// phases, for its period over that of the pulse.
//
//	v(t) = (1 + cos(2 pi t/(c Tp))) cos(2 pi t/Tp + phase),  |t| <= c Tp/2,  c = 2
//
// Mavroeidis and Papageorgiou 2003, Bulletin of the Seismological Society of America 93:1099 (from
// memory). The response is integrated by constant average acceleration (Newmark 1959).
func pulsePeak(damping, ratio float64) float64 {
	const perPeriod = 40
	step := 2 * math.Pi / perPeriod * min(1, ratio) // of pulse phase: Tp = 2 pi
	w := 1 / ratio
	half := pulseCycles * math.Pi
	free := math.Pi * ratio // half a period after the pulse
	c := 2 * damping * w / step
	sum := 0.0
	for i := range pulsePhases {
		phase := math.Pi * float64(i) / pulsePhases
		speed := func(t float64) float64 {
			if t > half {
				return 0
			}
			return (1 + math.Cos(t/pulseCycles)) * math.Cos(t+phase)
		}
		u, v, a, most, last := 0.0, 0.0, 0.0, 0.0, speed(-half)
		for t := -half + step; t < half+free; t += step {
			now := speed(t)
			push := (last - now) / step
			next := (push + u*(2*c+4/(step*step)) + v*(4/step+2*damping*w) + a) / (w*w + 2*c + 4/(step*step))
			faster := 2*(next-u)/step - v
			u, v, a, last = next, faster, 2*(faster-v)/step-a, now
			most = max(most, math.Abs(u))
		}
		sum += math.Log(most)
	}
	return sum / pulsePhases
}

// pulseTop is ln 0.88.
var pulseTop = math.Log(0.88)

// pulseShare returns the part of the squared response that is the pulse's, by the logarithm of the
// period of the oscillator over that of the pulse: 1 - 1/A2 from the ratio A of spectra with and
// without it.
//
//	ln A = 1.131 exp(-3.11 (ln(T/Tp) + 0.127)2) + 0.058     T <= 0.88 Tp
//	ln A = 0.924 exp(-2.11 (ln(T/Tp) + 0.127)2) + 0.255     above
//
// Shahi and Baker 2011, Bulletin of the Seismological Society of America 101:742 (from memory). The
// jump of 1 % at 0.88 Tp, where both have their top, is the source's.
func pulseShare(lnRatio float64) float64 {
	x := lnRatio + 0.127
	ln := 1.131*elementary.Exp(-3.11*x*x) + 0.058
	if lnRatio > pulseTop {
		ln = 0.924*elementary.Exp(-2.11*x*x) + 0.255
	}
	return 1 - elementary.Exp(-2*ln)
}
