package retrofit

import (
	"math"

	"plinth/archetypes"
	"plinth/retrofit/demand"
)

var viscousKind = Kind{
	Slug: "viscous", Name: "added viscous dampers",
	Does: "Fluid dampers in braces take energy from the movement of the storeys: drift falls, " +
		"and floor acceleration with it.",
	Cannot: "Stiff buildings move too little for it; the dampers push columns and footings; only " +
		"storeys that can be opened take them.",
	Rules: []string{
		"no-frame", "stiff-already", "short-period", "brittle-columns", "heritage", "brace-damping",
		"target-drift", "damper-force", "foundations", "more-drift",
		"acceleration-ordinary", "acceleration-sensitive", "acceleration-fragile", "little-gain", "unsettled",
	},
	Mark:    Mark{Shape: Circle, Colour: bluishGreen},
	Options: defaults(DefaultViscousOptions),
	Bands:   []string{"viscous", "viscous-linear"},
	Band: func(s Set, _ int) string {
		if s["viscous"].(*ViscousOptions).Alpha == 1 {
			return "viscous-linear"
		}
		return "viscous"
	},
}

// ViscousOptions is the design range and price of added viscous dampers.
type ViscousOptions struct {
	// storey drift over height to reach at the design level
	TargetDriftRatio float64 `toml:"target_drift_ratio" min:"0.0005" max:"0.1"`
	// least added damping worth the work, a fraction of critical
	MinDamping float64 `toml:"min_damping" min:"0" max:"1"`
	// most added damping, a fraction of critical, at the design level
	MaxDamping float64 `toml:"max_damping" min:"0.01" max:"1"`
	// velocity exponent of the dampers, 1 for linear ones
	Alpha float64 `toml:"alpha" min:"0.2" max:"1"`
	// share of the storeys that can be opened for dampers
	Accessible float64 `toml:"accessible_share" min:"0.01" max:"1"`
	Bracing
	// real stiffness of brace, gusset and damper over that of the brace alone
	BraceFactor float64 `toml:"brace_factor" min:"0.05" max:"1"`
	// largest force of one damper, along its brace
	DeviceForce float64 `toml:"device_force_n" unit:"N" min:"1e3" max:"1e13"`
	// cost of dampers
	Price Price `toml:"price" without:"per_m_moat per_m_wall"`
	// weeks of damper works
	Disruption Disruption `toml:"disruption"`
}

// DefaultViscousOptions returns a drift target of 0.75 % and at least 10 % added damping
// (judgement), at most 30 % (EN 1998-1 3.2.2.2 counts nothing above 28 %), linear dampers, for
// which the demand is closest to time histories, every storey open, braces of defaultBracing of
// which 35 % is effective (25 to 50 %, Applied Sciences 2021 11(7):3089), dampers of 1000 kN and
// prices (judgement).
func DefaultViscousOptions() ViscousOptions {
	return ViscousOptions{
		TargetDriftRatio: 0.0075, MinDamping: 0.10, MaxDamping: 0.30, Alpha: 1, Accessible: 1,
		Bracing: defaultBracing(), BraceFactor: 0.35, DeviceForce: 1e6,
		Price:      Price{Fixed: 60e3, PerArea: 90, PerDevice: 15e3, LowRatio: 0.75, HighRatio: 1.6},
		Disruption: Disruption{Fixed: 4, PerThousand: 4, LongestWeeks: 52},
	}
}

// Validate returns all invalid options, joined.
func (o *ViscousOptions) Validate() error { return check("viscous", o.faults()...) }

func (o *ViscousOptions) faults() []fault {
	return append(append(o.Price.faults(), o.Bracing.faults()...),
		fault{o.TargetDriftRatio > 0, "target drift ratio must be positive"},
		fault{o.MaxDamping >= 0.01 && o.MaxDamping <= 1, "max damping must lie from 0.01 to 1"},
		fault{o.MinDamping >= 0 && o.MinDamping <= o.MaxDamping,
			"min damping must lie from 0 to max damping"},
		fault{o.Alpha >= 0.2 && o.Alpha <= 1, "alpha must lie from 0.2 to 1"},
		fault{o.Accessible > 0 && o.Accessible <= 1, "accessible share must lie above 0, up to 1"},
		fault{o.BraceFactor > 0 && o.BraceFactor <= 1, "brace factor must lie above 0, up to 1"},
		fault{o.DeviceForce > 0, "device force must be positive"},
	)
}

// Viscous adds viscous dampers.
type Viscous struct {
	screening
	opt ViscousOptions
}

func (o *ViscousOptions) measure(Set) Measure { return NewViscous(*o) }

// NewViscous returns the measure, for valid options.
func NewViscous(o ViscousOptions) *Viscous {
	return &Viscous{newScreening(&viscousKind, o.Price, o.Disruption), o}
}

// Evaluate finds the least added damping that brings the storey drift at the design level to
// its target, up to the limit of storeys and braces.
func (m *Viscous) Evaluate(w *Work, c *Case, out *Outcome) {
	if !m.begin(m, w, c, out) {
		return
	}
	d := m.opt.find(w, c.Stick, c, c.AsIs[c.Design].Roof)
	levels := out.levels(len(c.Site.Spectra))
	for i := range levels {
		w.Demand.Viscous(c.Stick, &c.Site.Spectra[i], d, &levels[i])
	}
	w.viscous = d
	w.Built = Built{c.Stick, &w.viscous}
	devices := m.opt.report(w, c, c.Stick, out)
	m.finish(w, c, out, Amounts{Devices: devices})
}

// cap returns the most damping that can be added through braces of flexibility kappa: MaxDamping
// over the accessible share of storeys, or the most that a damper on a flexible brace can deliver.
func (o *ViscousOptions) cap(kappa float64) float64 {
	return min(o.MaxDamping*o.Accessible, 0.99*kappa/4)
}

// flexibility returns kappa, the stiffness of the braces with their gussets and
// dampers over that of the storey.
func (o *ViscousOptions) flexibility(f *Facts, st *archetypes.Stick) float64 {
	return o.Bracing.ratio(f, st) * o.BraceFactor
}

// find returns the dampers with the least damping, in hundredths, that bring the drift of st at
// the design level of c to its target, or those at the cap. Nonlinear dampers refer to the roof
// amplitude reference in m.
func (o *ViscousOptions) find(w *Work, st *archetypes.Stick, c *Case, reference float64) demand.Viscous {
	sp := &c.Site.Spectra[c.Design]
	at := func(n int) demand.Viscous {
		return demand.Viscous{Alpha: o.Alpha, Damping: float64(n) / 100, ReferenceRoof: reference}
	}
	limit := o.cap(o.flexibility(&c.Facts, st))
	high := max(1, int(100*limit+1e-9))             // assumed to be enough; braces may give less yet
	low := min(int(100*o.MinDamping+0.5), high) - 1 // fails, or is below the least that is built
	for high-low > 1 {
		n := (low + high) / 2
		w.Demand.Viscous(st, sp, at(n), &w.trial)
		if w.trial.DriftRatio <= o.TargetDriftRatio || w.trial.Damping-st.DampingRatio() > limit+1e-9 {
			high = n
		} else {
			low = n
		}
	}
	// Nonlinear dampers reach the cap before the damping at their reference does.
	w.Demand.Viscous(st, sp, at(high), &w.trial)
	if w.trial.Damping-st.DampingRatio() > limit+1e-9 && low > 0 {
		high = low
	}
	return at(high)
}

// installed returns the damping of the dampers themselves that delivers d through braces of
// flexibility kappa: a damper and a spring in series,
//
//	d = b/(1 + (2 b/kappa)^2),  b = 2 d/(1 + sqrt(1 - 16 d^2/kappa^2))
//
// (Maxwell element, textbook). It holds for d up to its maximum, kappa/4, and returns the value
// there beyond. For nonlinear dampers it is an approximation.
func installed(d, kappa float64) float64 {
	if d >= kappa/4 {
		return kappa / 2
	}
	return 2 * d / (1 + math.Sqrt(1-16*d*d/(kappa*kappa)))
}

// report sizes the dampers from the design-level demand, sets the criteria of their rules,
// and returns the number of dampers. The force of storey i is
//
//	F_i = f k_i drift_i/share,  f = 2 pi b/lambda(alpha)/sqrt(1 + (2 b/kappa)^2)
//
// with b the installed damping. The velocity is that of the elastic period, which a yielding
// frame does not reach. Dampers stand in both directions, at least two for each direction and
// accessible storey, along braces: n of them share F_i/cos and have the stroke drift_i cos. The
// largest has the constant, for its own speed,
//
//	C = F_i/(n cos)/(2 pi/T1 drift_i cos/sqrt(1 + (2 b/kappa)^2))^alpha
func (o *ViscousOptions) report(w *Work, c *Case, st *archetypes.Stick, out *Outcome) float64 {
	r := &out.Levels[c.Design]
	delivered, kappa, cos := r.Damping-st.DampingRatio(), o.flexibility(&c.Facts, st), o.cos()
	b := installed(delivered, kappa)
	slack := math.Hypot(1, 2*b/kappa) // of the braces
	f := 2 * math.Pi * b / demand.Lambda(o.Alpha) / slack
	var devices, force, constant, share, stroke float64
	open := math.Ceil(o.Accessible * float64(st.N()))
	for i, k := range st.Stiffness {
		fi := f * k * r.Drift[i] * float64(st.N()) / open
		share = max(share, fi/st.Strength[i])
		stroke = max(stroke, r.Drift[i]*cos)
		if float64(i) < open {
			n := max(2, math.Ceil(fi/cos/o.DeviceForce))
			devices += 2 * n
			if axial := fi / cos / n; axial > force {
				speed := 2 * math.Pi / st.Modes.Period[0] * r.Drift[i] * cos / slack
				force, constant = axial, axial/math.Pow(speed, o.Alpha)
			}
		}
	}
	w.values[damperForceShare] = share
	w.values[braceDamping] = kappa / 4
	w.values[driftOverTarget] = r.DriftRatio / o.TargetDriftRatio
	out.size("added damping", delivered, "")
	out.size("most damping the braces pass on", kappa/4, "")
	out.size("dampers", devices, "")
	out.size("damper force along the brace", force/1e3, "kN")
	out.size("damper stroke along the brace", stroke, "m")
	out.size("damper constant", constant/1e3, "kN (s/m)^alpha")
	out.size("velocity exponent alpha", o.Alpha, "")
	out.size("angle of the braces", o.BraceAngle, "degrees")
	return devices
}
