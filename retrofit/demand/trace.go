package demand

import "plinth/archetypes"

// Trace holds the intermediate values of a call. Symbols in brackets are those of
// docs/methods/demand.md. Slices run over the storeys or floors, lowest first. Some belong to
// the caller; none may be written. A call sets only the fields of its own measure; the others
// keep values of earlier calls.
type Trace struct {
	Stiffness []float64 // N/m, of each storey [k, with yielding devices K]
	Strength  []float64 // N [V, with devices V']
	PostYield []float64 // N/m, post-yield stiffness [kr]
	Hardening float64   // post-yield ratio of the frame [r]
	Hardened  float64   // resistance of a storey over its strength at most, 0 for no limit [h]
	Degrading float64   // [cl]
	Sway      float64   // of the frame, in its first mode [th]
	Most      float64   // strength ratio beyond which the weight brings it down [mu_max]
	Mass      []float64 // kg
	Damping   float64   // of the frame without devices, a fraction of critical [b0]
	Modes     [archetypes.MaxModes]Mode
	Count     int // modes in use

	First         []float64 // m, first-mode storey drift [d]
	Higher        []float64 // m, higher modes together, increased where they make a storey yield [e]
	Pull          []float64 // m, by the force of a tuned mass, a quarter of a swing behind the first mode
	YieldFraction float64   // first-mode drift at first yield over demand, at most 1 [s]
	StrengthRatio float64   // [mu = 1/s]
	Anchor        int       // storey with the largest first-mode force over strength, once it yields [m]
	C1, C2, C     float64   // displacement ratio and its factors
	Roof          float64   // m [u]

	X           float64
	DamperSlope float64   // alpha f: slope of the force of viscous dampers, over elastic force
	Evenness    float64   // [gg]
	Fall        float64   // of plastic drift over the height [1/l, with devices more]
	DeviceShare float64   // part of yielding devices in the strength [y]
	Overload    []float64 // elastic force over strength [rho]
	Weight      []float64 // share of a storey in the plastic drift, sum 1 [w]
	Yielded     []float64 // m, first-mode drift with its plastic part [a]

	HigherFactor float64   // [h]
	FirstFactor  float64   // reduction of first-mode force [q]
	DamperForce  float64   // damper force over elastic force, first mode [f]
	PhaseAccel   float64   // correlation of damper and frame in acceleration [ra]
	PhaseShear   float64   // in base shear [rv]
	Rest         []float64 // of the omitted modes, at each floor [R]
	MissingMass  float64   // m/s2, ordinate of their rigid part [Sm]
	RestSa       float64   // m/s2, ordinate of the remaining part [Sr]
	FrameShear   float64   // N, at the base in the frame [Vf]
	DamperShear  float64   // N, at the base in the dampers [Vd]

	Passes    [Passes]Pass // last of the iteration, viscous and yielding
	PassCount int

	TunedMass TunedTrace
	Isolated  IsolatedTrace
}

// Mode is one mode with its ordinates.
type Mode struct {
	Period  float64   // s
	Gamma   float64   // participation factor for a roof ordinate of 1
	Shape   []float64 // roof 1; read only
	Damping float64   // total, fraction of critical
	Viscous float64   // part of it from viscous dampers [b_Dj]
	Sa      float64   // m/s2
	Sd      float64   // m
}

// A Pass is one step of an iteration on the amplitude.
type Pass struct {
	Amplitude     float64 // m, of the roof (yielding)
	Added         float64 // damping added by the devices
	FrameShare    float64 // share of the stiffness that yields with the frame (yielding)
	Period        float64 // s
	YieldFraction float64 // [s]
	C, Roof       float64 // displacement ratio and roof displacement after the step
}

// record keeps pass i, counted from 1; beyond Passes it takes the place of the last.
func (t *Trace) record(i int, p Pass) {
	t.PassCount = min(i, Passes)
	t.Passes[t.PassCount-1] = p
}
