package history

import "math"

// Result is the response of a model to one record. It is filled in place and keeps its storage.
// Its peaks are defined as those of demand.Response.
type Result struct {
	Roof          float64   // m, relative to the base of the frame
	Drift         []float64 // m, of each storey, lowest first
	DriftRatio    float64   // largest drift over storey height
	Accel         []float64 // m/s2, absolute, of each floor above the lowest storey, roof last
	BaseAccel     float64   // m/s2, of the ground, or of the slab above isolators
	PeakAccel     float64   // m/s2, largest of BaseAccel and Accel
	BaseShear     float64   // N, springs, devices and dampers at the foot (isolated: through the isolators)
	Displacement  float64   // m, across the isolators; 0 without
	Stroke        float64   // m, of a tuned mass relative to the roof; 0 without
	Residual      []float64 // m, residual drift of each storey
	ResidualRatio float64   // largest residual drift over storey height
	IsolatorRest  float64   // m, residual displacement of the isolators
	Energy        Energy
	Step          float64 // s, of the integration
	// largest relative change of drift, acceleration and displacement by the last halving
	StepError float64
	Status    RunStatus
}

// Energy is the balance of energy of one run, in J, at its end.
type Energy struct {
	Input     float64 // work of the ground on the masses, relative
	Frame     float64 // storeys: yielding and remaining strain
	Devices   float64 // yielding devices
	Dampers   float64 // viscous dampers, that of a tuned mass included
	Isolators float64
	Inherent  float64 // inherent damping of the frame
	Kinetic   float64 // of the remaining motion
	Error     float64 // unbalanced input over the input
}

// RunStatus qualifies a Result. Values combine by or; zero is good.
type RunStatus uint8

// The statuses of a run.
const (
	Collapsed   RunStatus = 1 << iota // drift beyond collapse or motion not finite, where the run ends
	Unresolved                        // result still changes with the step at the finest one tried
	Unconverged                       // a step did not reach equilibrium
	Unbalanced                        // energy does not close within 1 %
)

var runWords = []string{
	"collapsed",
	"changes with the time step",
	"equilibrium not reached in a step",
	"energy balance open by more than 1 %",
}

// Words returns the status in plain words, one entry a flag.
func (s RunStatus) Words() []string {
	var out []string
	for i, w := range runWords {
		if s&(1<<i) != 0 {
			out = append(out, w)
		}
	}
	return out
}

// balanceLimit is the largest error of the energy balance of a good run.
const balanceLimit = 0.01

// reset sizes r for m and clears it.
func (r *Result) reset(m *Model) {
	n := m.floors
	*r = Result{Drift: resize(r.Drift, n), Accel: resize(r.Accel, n), Residual: resize(r.Residual, n)}
}

// resize returns s with length n, zeroed, reusing its storage where it is large enough.
func resize(s []float64, n int) []float64 {
	if cap(s) < n {
		return make([]float64, n)
	}
	s = s[:n]
	clear(s)
	return s
}

// copyFrom makes r equal to o with its own storage.
func (r *Result) copyFrom(o *Result) {
	drift, accel, residual := append(r.Drift[:0], o.Drift...), append(r.Accel[:0], o.Accel...),
		append(r.Residual[:0], o.Residual...)
	*r = *o
	r.Drift, r.Accel, r.Residual = drift, accel, residual
}

// floors returns the largest acceleration in m/s2 of the floors that the structure moves: without the
// ground floor, unless it is the slab above isolators.
func (r *Result) floors() float64 {
	most := 0.0
	if r.Displacement != 0 {
		most = r.BaseAccel
	}
	for _, a := range r.Accel {
		most = max(most, a)
	}
	return most
}

// collect fills out from the state at the end of a run. The cells' rest holds the sums of
// drifts over count steps of free vibration.
func (w *Work) collect(m *Model, out *Result, count int) {
	out.BaseAccel = w.peakGround
	if m.first == 1 {
		out.BaseAccel = w.cells[0].peakA
		out.Displacement = w.cells[0].peakX
		out.IsolatorRest = w.cells[0].rest / float64(max(1, count))
	}
	if n := m.first + m.floors; n < len(w.cells) {
		out.Stroke = w.cells[n].peakX
	}
	out.PeakAccel = out.BaseAccel
	for i := range m.floors {
		c := &w.cells[m.first+i]
		out.Drift[i], out.Accel[i] = c.peakX, c.peakA
		out.Residual[i] = c.rest / float64(max(1, count))
		out.DriftRatio = max(out.DriftRatio, c.peakX/m.height[i])
		out.ResidualRatio = max(out.ResidualRatio, math.Abs(out.Residual[i])/m.height[i])
		out.PeakAccel = max(out.PeakAccel, c.peakA)
	}
	out.Roof, out.BaseShear = w.peakRoof, w.peakShear
	out.Energy = w.energy(m)
	if !(out.Energy.Error <= balanceLimit) && out.Status&Collapsed == 0 {
		out.Status |= Unbalanced
	}
}

// energy sums the parts of the energy balance.
func (w *Work) energy(m *Model) Energy {
	e := Energy{Input: w.input}
	for i := range w.cells {
		c, l := &w.cells[i], &m.links[i]
		spring := c.wMain - l.geometric*c.main.x*c.main.x/2
		if i < m.first {
			e.Isolators += spring
		} else {
			e.Frame += spring
		}
		e.Devices += c.wDevice
		e.Dampers += c.wDamper
		e.Inherent += c.wDamp
		e.Kinetic += l.mass * c.speed * c.speed / 2
	}
	sum := e.Frame + e.Devices + e.Dampers + e.Isolators + e.Inherent + e.Kinetic
	if e.Input != 0 {
		e.Error = math.Abs(e.Input-sum) / math.Abs(e.Input)
	}
	return e
}
