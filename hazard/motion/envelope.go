package motion

import "math"

// Envelope is the strength of shaking over time: it rises with t2, stays level, and decays.
//
//	e = (t/Rise)2                                       t < Rise
//	e = 1                                               Rise <= t <= Level
//	e = exp(-ln 20 (t - Level)/(Decay - Level))         after: 0.05 at Decay
//
// The form of Jennings, Housner and Tsai 1968, Simulated earthquake motions (from
// memory). Times in s, each at least the one before.
type Envelope struct {
	Rise  float64 // end of the rise
	Level float64 // end of the level part
	Decay float64 // when 5 % is left
}

// The envelopes of which others are made: steady shaking in which damping is worth what the
// coefficients of codes say (a test compares), and shaking as long as an earthquake of magnitude 7
// lasts. Damping is worth more in the steady shaking of artificial records than in recorded shaking
// of the same length, hazard.DurationWorth says by how much.
var (
	Short = Envelope{1, 1.5, 4.5}
	Long  = Envelope{3, 13, 26}
)

// tail is the value to which an envelope has decayed at the end of a record.
const tail = 0.01

// at returns e at time t in s.
func (e Envelope) at(t float64) float64 {
	switch {
	case t < e.Rise:
		return t * t / (e.Rise * e.Rise)
	case t <= e.Level:
		return 1
	}
	return math.Exp(-e.rate() * (t - e.Level))
}

// rate returns the rate of decay in 1/s.
func (e Envelope) rate() float64 { return math.Log(20) / (e.Decay - e.Level) }

// length returns the time in s at which the tail is reached.
func (e Envelope) length() float64 { return e.Level - math.Log(tail)/e.rate() }

// valid reports whether the times are positive and in order.
func (e Envelope) valid() bool {
	return e.Rise > 0 && e.Level >= e.Rise && e.Decay > e.Level && e.Decay <= longest
}

// longest is the largest Decay in s: beyond the strong shaking of any recorded earthquake
// (judgement), and a bound on the memory of a record.
const longest = 300

// Significant returns the D5-95 in s of stationary noise under the envelope, whose Arias
// intensity grows as the integral of e2.
func (e Envelope) Significant() float64 {
	return e.reach(0.95) - e.reach(0.05)
}

// reach returns the time in s at which the integral of e2 has reached a share of its total.
//
//	integral of (t/Rise)4 = t5/(5 Rise4);  of exp(-2 c t) = (1 - exp(-2 c t))/(2 c)
func (e Envelope) reach(share float64) float64 {
	rise, level, decay := e.Rise/5, e.Level-e.Rise, 1/(2*e.rate())
	x := share * (rise + level + decay)
	switch {
	case x < rise:
		return e.Rise * math.Pow(x/rise, 0.2)
	case x < rise+level:
		return e.Rise + x - rise
	}
	return e.Level - decay*math.Log(1-(x-rise-level)/decay)
}

// EnvelopeFor returns the envelope whose D5-95 is significant in s: Short or Long scaled in
// time outside their own durations, and each of the three times interpolated linearly in
// between.
func EnvelopeFor(significant float64) Envelope {
	short, long := Short.Significant(), Long.Significant()
	switch {
	case significant <= short:
		return Short.stretched(significant / short)
	case significant >= long:
		return Long.stretched(significant / long)
	}
	low, high := 0.0, 1.0
	for range 50 { // bisects to below a nanosecond
		if mid := (low + high) / 2; between(mid).Significant() < significant {
			low = mid
		} else {
			high = mid
		}
	}
	return between(low)
}

func (e Envelope) stretched(f float64) Envelope {
	return Envelope{e.Rise * f, e.Level * f, e.Decay * f}
}

// between returns the envelope at fraction x of the way from Short to Long.
func between(x float64) Envelope {
	line := func(a, b float64) float64 { return a + x*(b-a) }
	return Envelope{line(Short.Rise, Long.Rise), line(Short.Level, Long.Level), line(Short.Decay, Long.Decay)}
}
