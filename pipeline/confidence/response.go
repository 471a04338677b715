package confidence

import (
	"math"

	"plinth/retrofit/consequence"
)

// An Input is a number that every building has and that nobody knows exactly.
type Input int

// The inputs. Each is a lognormal factor on a median.
const (
	Hazard   Input = iota // on the spectra at the site
	Period                // of the first mode
	Strength              // at yield
	Capacity              // drift at the limit states

	NumInputs = iota
)

// Node is the distance from the median, in standard deviations, at which the response to an input
// is computed. It is the outer point of the three-point Gauss-Hermite rule, sqrt(3) (Abramowitz and
// Stegun 25.4.46).
const Node = 1.7320508075688772

// farthest is the number of standard deviations at which a draw is cut. Beyond it, the parabola
// through the nodes cannot be trusted (judgement). One draw in 370 is cut.
const farthest = 3

// The annual values that a response holds.
const (
	total = iota
	dead
	contents
	days
	numValues
)

// A State is a building as it stands or with one measure. It holds the logarithms of the annual
// values and of the cost of the measure.
type State struct {
	ln     [numValues]float64
	lnCost float64
	Barred bool // the measure does not fit
}

// StateOf returns the state with annual values a under a measure of the given cost.
func StateOf(a *consequence.Annual, cost float64) State {
	return State{ln: [numValues]float64{ln(a.Total), ln(a.Dead), ln(a.Contents), ln(a.Days)}, lnCost: ln(cost)}
}

// Total returns the annual loss of the state.
func (o *State) Total() float64 { return math.Exp(o.ln[total]) }

// ln returns the logarithm of v, or of 1e-12 if v is smaller: that is far below any loss and keeps
// the result finite.
func ln(v float64) float64 { return math.Log(max(v, 1e-12)) }

// A Response describes how the annual values of one building depend on what is not known of it.
// State 0 is the building as it stands; the other states are measures. It reuses its storage.
//
//	ln v = ln v_0 + sum over inputs of (parabola through -Node, 0, Node)(x)
//	+ sum over fields of (ln v at the value found - ln v_0)
//
// The sum neglects that inputs act together. A test of package pipeline measures the error of that,
// and docs/methods/ranking.md states it.
type Response struct {
	Centre    []State
	Low, High [NumInputs][]State // at -Node and Node
	SD        [NumInputs]float64 // ln sd
	CostSD    []float64          // ln sd of the cost, one a state
	Fields    []Field
}

// A Field is a field that is not known, with the values that could be found there.
type Field struct{ Values []Value }

// A Value is one possible value of an unknown field: its probability and the resulting states,
// which are nil if the value is the one assumed already.
type Value struct {
	Probability float64
	States      []State
}

// A point is the place of one draw: the standard deviations of each input, and the value of each
// field.
type point struct {
	x     [NumInputs]float64
	value []int
}

// at sets out to the states at p.
func (r *Response) at(p *point, out []State) {
	for s := range r.Centre {
		o := r.Centre[s]
		for i := range p.x {
			o.bend(&r.Centre[s], &r.Low[i][s], &r.High[i][s], p.x[i])
		}
		for f := range r.Fields {
			if found := r.Fields[f].Values[p.value[f]].States; found != nil {
				o.shift(&r.Centre[s], &found[s])
			}
		}
		out[s] = o
	}
}

// bend adds the change along the parabola through low, centre and high. A node at which the measure
// does not fit has no value. The line from the centre to the other node is then continued, and the
// measure is barred beyond half way to the missing node.
func (o *State) bend(centre, low, high *State, x float64) {
	switch {
	case low.Barred && high.Barred:
		o.Barred = o.Barred || math.Abs(x) > Node/2
		return
	case low.Barred:
		o.Barred = o.Barred || x < -Node/2
		o.along(centre, high, x/Node)
		return
	case high.Barred:
		o.Barred = o.Barred || x > Node/2
		o.along(centre, low, -x/Node)
		return
	}
	rise, curve := x/(2*Node), x*x/(2*Node*Node)
	change := func(c, l, h float64) float64 { return (h-l)*rise + (h+l-2*c)*curve }
	for v := range o.ln {
		o.ln[v] += change(centre.ln[v], low.ln[v], high.ln[v])
	}
	o.lnCost += change(centre.lnCost, low.lnCost, high.lnCost)
}

// along adds a share of the change from centre to found.
func (o *State) along(centre, found *State, share float64) {
	for v := range o.ln {
		o.ln[v] += share * (found.ln[v] - centre.ln[v])
	}
	o.lnCost += share * (found.lnCost - centre.lnCost)
}

// shift adds the change from centre to found.
func (o *State) shift(centre, found *State) {
	if found.Barred {
		o.Barred = true
		return
	}
	o.along(centre, found, 1)
}

// annual sets a to the annual values of o.
func (o *State) annual(a *consequence.Annual) {
	a.Total, a.Dead = math.Exp(o.ln[total]), math.Exp(o.ln[dead])
	a.Contents, a.Days = math.Exp(o.ln[contents]), math.Exp(o.ln[days])
}
