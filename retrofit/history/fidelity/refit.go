package fidelity

import (
	"fmt"
	"io"
	"math"
	"reflect"

	"gonum.org/v1/gonum/optimize"

	"plinth/retrofit/demand"
	"plinth/retrofit/history"
)

// block is a group of constants that are fitted together to quantities of some measures, after
// the blocks before it.
type block struct {
	name      string
	constants []string // fields of demand.Fit
	kinds     []history.Kind
	of        []history.Quantity
}

// blocks go from the frame to its devices, in the order of the method.
var blocks = []block{
	{"displacement ratio", []string{"C1Start", "C1Power", "C1Rest", "C1Period", "C2Most"},
		[]history.Kind{history.AsIs}, []history.Quantity{history.RoofDrift, history.BaseShear}},
	{"storey drifts", []string{"Concentrate", "Spread", "Local"}, []history.Kind{history.AsIs},
		[]history.Quantity{history.StoreyDrift}},
	{"floor accelerations", []string{"Inherent", "Higher", "Missing", "RoofPush"},
		[]history.Kind{history.AsIs}, []history.Quantity{history.FloorAccel}},
	{"viscous dampers", []string{"Calm", "PhaseAccel", "ViscousHigher",
		"ViscousModes"}, []history.Kind{history.ViscousLinear, history.ViscousNonlinear},
		[]history.Quantity{history.StoreyDrift, history.FloorAccel, history.BaseShear}},
	{"yielding devices", []string{"DeviceDecay"},
		[]history.Kind{history.Yielding}, []history.Quantity{history.StoreyDrift, history.FloorAccel}},
	{"tuned mass", []string{"Tuned"}, []history.Kind{history.TunedMass},
		[]history.Quantity{history.StoreyDrift, history.FloorAccel}},
}

// Refit fits the constants of demand.Fit to the time histories of fit, block by block from
// their present values, and returns them. A block that does not improve validation too is left
// unchanged. The effect of each block on the objective of both grids goes to log.
func Refit(fit, validation *Measured, log io.Writer) (demand.Fit, error) {
	f := demand.Fitted()
	for i := range blocks {
		b := &blocks[i]
		before, beforeV := b.objective(fit, &f), b.objective(validation, &f)
		next, err := b.minimize(fit, f)
		if err != nil {
			return f, err
		}
		after, afterV := b.objective(fit, &next), b.objective(validation, &next)
		kept := "kept"
		if !(afterV < beforeV) {
			kept = "left as they were"
		}
		fmt.Fprintf(log, "%s: fit %.4f to %.4f, validation %.4f to %.4f, %s\n", b.name, before, after,
			beforeV, afterV, kept)
		for _, c := range b.constants {
			fmt.Fprintf(log, "   %s %.3g to %.3g\n", c, *constant(&f, c), *constant(&next, c))
		}
		if afterV < beforeV {
			f = next
		}
	}
	return f, nil
}

// constant returns the constant of f with a name.
func constant(f *demand.Fit, name string) *float64 {
	return reflect.ValueOf(f).Elem().FieldByName(name).Addr().Interface().(*float64)
}

// restarts is the number of restarts of the simplex from its result, in case it has collapsed
// early.
const restarts = 3

// minimize returns f with the constants of b at which the objective is least, by the simplex of
// Nelder and Mead 1965.
func (b *block) minimize(m *Measured, f demand.Fit) (demand.Fit, error) {
	scale, x := make([]float64, len(b.constants)), make([]float64, len(b.constants))
	for i, c := range b.constants {
		scale[i] = max(math.Abs(*constant(&f, c)), 0.05)
		x[i] = *constant(&f, c) / scale[i]
	}
	with := func(x []float64) demand.Fit {
		g := f
		for i, c := range b.constants {
			*constant(&g, c) = x[i] * scale[i]
		}
		return g
	}
	problem := optimize.Problem{Func: func(x []float64) float64 {
		g := with(x)
		if y := b.objective(m, &g); !math.IsNaN(y) {
			return y
		}
		return math.MaxFloat32 // some result is not a number
	}}
	for range restarts {
		limit := &optimize.Settings{FuncEvaluations: 120 * len(x),
			Converger: &optimize.FunctionConverge{Absolute: 1e-7, Iterations: 50}}
		res, err := optimize.Minimize(problem, x, limit, &optimize.NelderMead{SimplexSize: 0.2})
		if err != nil {
			return f, fmt.Errorf("fitting %s: %w", b.name, err)
		}
		x = res.X
	}
	return with(x), nil
}

// Weights in the objective, besides the squared error of the largest drift or acceleration: of
// the squared bias of each class of strength ratios, and of the error of the whole profile over
// the height (judgement).
const (
	biasWeight    = 0.5
	profileWeight = 0.25
)

// objective returns the sum over the measures and quantities of b of
//
//	mean (ln ratio)2 + 0.5 sum over classes of (mean ln ratio)2 + 0.25 mean over storeys of (ln ratio)2
//
// over the results that have a stated band.
func (b *block) objective(m *Measured, f *demand.Fit) float64 {
	w := demand.Work{Fit: f}
	var asIs, out demand.Response
	total := 0.0
	for _, k := range b.kinds {
		sums := make([]errors, len(b.of))
		for i := range m.Rows {
			r := &m.Rows[i]
			h := &r.Checks[k].History
			if r.Checks[k].Err != nil || h.Collapsed > 0 {
				continue
			}
			w.AsIs(&r.Case.Stick, r.Read, &asIs)
			history.Spectral(&w, &r.Case.Stick, r.Read, r.Case.Devices[k], &asIs, &out)
			if out.Status&unstated != 0 {
				continue
			}
			for j, q := range b.of {
				sums[j].add(classOf(r.Case.StrengthRatio), history.Ratio(&out, h, q))
				switch q {
				case history.StoreyDrift:
					sums[j].profile(out.Drift, h.Drift)
				case history.FloorAccel:
					sums[j].profile(out.Accel, h.Accel)
				}
			}
		}
		for j := range sums {
			total += sums[j].value()
		}
	}
	return total
}

// errors sums the errors of one quantity.
type errors struct {
	square, storeys, count, storeyCount float64
	bias, counts                        [classes]float64
}

func (e *errors) add(c Class, ratio float64) {
	if x := math.Log(ratio); finite(x) {
		e.square += x * x
		e.count++
		e.bias[c] += x
		e.counts[c]++
	}
}

// profile adds a mean over storeys.
func (e *errors) profile(spectral []float64, h []history.Spread) {
	for i, s := range spectral {
		if x := math.Log(s / h[i].Median); finite(x) {
			e.storeys += x * x / float64(len(spectral))
			e.storeyCount += 1 / float64(len(spectral))
		}
	}
}

func (e *errors) value() float64 {
	v := e.square / e.count
	for c, n := range e.counts {
		if n > 0 {
			v += biasWeight * (e.bias[c] / n) * (e.bias[c] / n)
		}
	}
	if e.storeyCount > 0 {
		v += profileWeight * e.storeys / e.storeyCount
	}
	return v
}
