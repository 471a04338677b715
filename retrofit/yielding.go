package retrofit

import (
	"math"

	"plinth/archetypes"
	"plinth/retrofit/demand"
)

var yieldingKind = Kind{
	Slug: "yielding", Name: "added yielding devices",
	Does:   "Steel devices in braces stiffen the frame and yield before it does: drift falls.",
	Cannot: "Floor acceleration often rises; the devices may need replacing after a strong earthquake.",
	Rules: []string{
		"no-frame", "stiff-already", "short-period", "brittle-columns", "heritage", "target-drift",
		"foundations", "more-drift",
		"acceleration-ordinary", "acceleration-sensitive", "acceleration-fragile", "little-gain", "unsettled",
	},
	Mark:    Mark{Shape: Plus, Colour: purple},
	Options: defaults(DefaultYieldingOptions),
}

// YieldingOptions is the design range and price of yielding steel devices.
type YieldingOptions struct {
	// storey drift over height to reach at the design level
	TargetDriftRatio float64 `toml:"target_drift_ratio" min:"0.0005" max:"0.1"`
	// least and largest stiffness of devices over that of their storey, to search; no more than that of
	// the braces
	StiffnessRatio [2]float64 `toml:"stiffness_ratio" min:"0.01" max:"20"`
	// least and largest yield force of devices over the strength of their storey, to search
	ForceRatio [2]float64 `toml:"force_ratio" min:"0.01" max:"5"`
	Bracing
	// largest yield force of one device, along its brace
	DeviceForce float64 `toml:"device_force_n" unit:"N" min:"1e3" max:"1e8"`
	// cost of yielding devices
	Price Price `toml:"price" without:"per_m_moat per_m_wall"`
	// weeks of works
	Disruption Disruption `toml:"disruption"`

	Steps int `toml:"-"` // stiffnesses tried
}

// DefaultYieldingOptions returns a drift target of 0.75 %, four stiffness ratios of 0.5 to 2, force
// ratios of 0.2 to 0.8, braces of defaultBracing, devices of 500 kN and prices (all judgement).
func DefaultYieldingOptions() YieldingOptions {
	return YieldingOptions{
		TargetDriftRatio: 0.0075, StiffnessRatio: [2]float64{0.5, 2}, ForceRatio: [2]float64{0.2, 0.8},
		Steps: 4, Bracing: defaultBracing(), DeviceForce: 500e3,
		Price:      Price{Fixed: 40e3, PerArea: 100, PerDevice: 6e3, LowRatio: 0.75, HighRatio: 1.6},
		Disruption: Disruption{Fixed: 4, PerThousand: 4, LongestWeeks: 52},
	}
}

// Validate returns all invalid options, joined.
func (o *YieldingOptions) Validate() error {
	return check("yielding", append(append(o.Price.faults(), o.Bracing.faults()...),
		fault{o.TargetDriftRatio > 0, "target drift ratio must be positive"},
		fault{ascending(o.StiffnessRatio), "stiffness ratio must be two positive numbers, the least first"},
		fault{ascending(o.ForceRatio), "force ratio must be two positive numbers, the least first"},
		fault{o.Steps > 0, "steps must be at least 1"},
		fault{o.DeviceForce > 0, "device force must be positive"})...)
}

// Yielding adds steel devices in braces that yield before the frame does. Their stiffness and
// yield force are proportional to those of the storeys.
type Yielding struct {
	screening
	opt YieldingOptions
}

func (o *YieldingOptions) measure(Set) Measure { return NewYielding(*o) }

// NewYielding returns the measure, for valid options.
func NewYielding(o YieldingOptions) *Yielding {
	return &Yielding{newScreening(&yieldingKind, o.Price, o.Disruption), o}
}

// Evaluate takes the devices of the least force that bring the storey drift at the design level to
// its target, and of those the least stiff, which cost floors and footings least; if none do, those
// with the least drift.
func (m *Yielding) Evaluate(w *Work, c *Case, out *Outcome) {
	if !m.begin(m, w, c, out) {
		return
	}
	best := m.opt.find(w, c)
	d := w.devices(c.Stick, best.stiffness, best.force)
	levels := out.levels(len(c.Site.Spectra))
	for i := range levels {
		w.Demand.Yielding(c.Stick, &c.Site.Spectra[i], d, &levels[i])
	}
	w.yielding = d
	w.Built = Built{c.Stick, &w.yielding}
	n := m.report(w, c, out, best, d)
	m.finish(w, c, out, Amounts{Devices: n})
}

// yieldingDesign is a size of devices, over stiffness and strength of their storeys.
type yieldingDesign struct {
	stiffness, force float64
	drift            float64 // largest over storey height, at the design level
}

// find returns the design of Evaluate. Devices that would yield after the frame (force over
// stiffness ratio above 1) are passed over if there are others.
func (o *YieldingOptions) find(w *Work, c *Case) yieldingDesign {
	most := o.Bracing.ratio(&c.Facts, c.Stick)
	best := yieldingDesign{drift: math.Inf(1)}
	for i := range o.Steps {
		kd := min(grid(o.StiffnessRatio, o.Steps, i), most)
		d, reached := o.leastForce(w, c, kd)
		is := best.drift <= o.TargetDriftRatio
		switch {
		case reached && (!is || d.force < best.force), !reached && !is && d.drift < best.drift:
			best = d
		}
	}
	return best
}

// forceStep is the step of the yield force over storey strength (judgement).
const forceStep = 0.05

// leastForce returns the devices of stiffness ratio kd with the least force that reach the target,
// by halving the range of forces, or those of the largest force.
func (o *YieldingOptions) leastForce(w *Work, c *Case, kd float64) (d yieldingDesign, reached bool) {
	least := o.ForceRatio[0]
	at := func(n int) yieldingDesign {
		d := yieldingDesign{stiffness: kd, force: min(least+forceStep*float64(n), o.ForceRatio[1])}
		w.Demand.Yielding(c.Stick, &c.Site.Spectra[c.Design], w.devices(c.Stick, d.stiffness, d.force), &w.trial)
		d.drift = w.trial.DriftRatio
		return d
	}
	high := int(math.Ceil((max(least, min(o.ForceRatio[1], kd)) - least) / forceStep))
	d = at(high)
	if d.drift > o.TargetDriftRatio {
		return d, false
	}
	for low := -1; high-low > 1; {
		n := (low + high) / 2
		if trial := at(n); trial.drift <= o.TargetDriftRatio {
			d, high = trial, n
		} else {
			low = n
		}
	}
	return d, true
}

// devices returns devices of stiffness kd and yield force fd, relative to those of their
// storeys.
func (w *Work) devices(st *archetypes.Stick, kd, fd float64) demand.Yielding {
	w.stiffness, w.force = w.stiffness[:0], w.force[:0]
	for i, k := range st.Stiffness {
		w.stiffness = append(w.stiffness, kd*k)
		w.force = append(w.force, fd*st.Strength[i])
	}
	return demand.Yielding{Stiffness: w.stiffness, Force: w.force}
}

// report records the devices: in both directions, at least two for each direction and storey, along
// braces.
func (m *Yielding) report(w *Work, c *Case, out *Outcome, best yieldingDesign, d demand.Yielding) float64 {
	var devices, force float64
	cos := m.opt.cos()
	for _, f := range d.Force {
		n := max(2, math.Ceil(f/cos/m.opt.DeviceForce))
		devices += 2 * n
		force = max(force, f/cos/n)
	}
	w.values[driftOverTarget] = out.Levels[c.Design].DriftRatio / m.opt.TargetDriftRatio
	out.size("stiffness of devices over storey", best.stiffness, "")
	out.size("yield force of devices over storey strength", best.force, "")
	out.size("devices", devices, "")
	out.size("device yield force along the brace", force/1e3, "kN")
	out.size("yield drift of devices at the foot", d.Force[0]/d.Stiffness[0], "m")
	out.size("angle of the braces", m.opt.BraceAngle, "degrees")
	return devices
}

// mix returns the score of a design: drift and peak floor acceleration over those as it stands.
// Lower is better.
func mix(driftShare float64, asIs, with *demand.Response) float64 {
	return driftShare*with.DriftRatio/asIs.DriftRatio + (1-driftShare)*with.PeakAccel/asIs.PeakAccel
}

// grid returns point i of n over a range; the middle of the range if n is 1.
func grid(r [2]float64, n, i int) float64 {
	if n == 1 {
		return (r[0] + r[1]) / 2
	}
	return r[0] + (r[1]-r[0])*float64(i)/float64(n-1)
}
