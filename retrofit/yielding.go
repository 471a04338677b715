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
		"stiff-already", "short-period", "brittle-columns", "heritage", "target-drift", "foundations",
		"acceleration-ordinary", "acceleration-sensitive", "acceleration-fragile", "little-gain", "unsettled",
	},
	Mark:    Mark{Shape: Plus, Colour: purple},
	Options: defaults(DefaultYieldingOptions),
}

// YieldingOptions is the design range and price of yielding steel devices.
type YieldingOptions struct {
	// least and largest stiffness of devices over that of their storey, to search
	StiffnessRatio [2]float64 `toml:"stiffness_ratio" min:"0.01" max:"20"`
	// least and largest yield force of devices over the strength of their storey, to search
	ForceRatio [2]float64 `toml:"force_ratio" min:"0.01" max:"5"`
	// weight of drift in choosing a design; floor acceleration has the rest
	DriftShare float64 `toml:"drift_share" min:"0" max:"1"`
	// largest yield force of one device
	DeviceForce float64 `toml:"device_force_n" unit:"N" min:"1e3" max:"1e8"`
	// cost of yielding devices
	Price Price `toml:"price" without:"per_m_moat per_m_wall"`
	// weeks of works
	Disruption Disruption `toml:"disruption"`

	Steps int `toml:"-"` // designs tried along each range
}

// DefaultYieldingOptions returns stiffness ratios of 0.5 to 2, force ratios of 0.2 to 0.8, four
// steps each, devices of 500 kN and prices (all judgement).
func DefaultYieldingOptions() YieldingOptions {
	return YieldingOptions{
		StiffnessRatio: [2]float64{0.5, 2}, ForceRatio: [2]float64{0.2, 0.8}, Steps: 4,
		DriftShare: 0.5, DeviceForce: 500e3,
		Price:      Price{Fixed: 40e3, PerArea: 100, PerDevice: 6e3, LowRatio: 0.75, HighRatio: 1.6},
		Disruption: Disruption{Fixed: 4, PerThousand: 4, LongestWeeks: 52},
	}
}

// Validate returns all invalid options, joined.
func (o *YieldingOptions) Validate() error {
	return check("yielding", append(o.Price.faults(),
		fault{ascending(o.StiffnessRatio), "stiffness ratio must be two positive numbers, the least first"},
		fault{ascending(o.ForceRatio), "force ratio must be two positive numbers, the least first"},
		fault{o.Steps > 0, "steps must be at least 1"},
		fault{fraction(o.DriftShare), "drift share must lie from 0 to 1"},
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

// Evaluate searches the grid of stiffness and yield force at the design level for the lowest
// mix of drift and floor acceleration. It avoids devices that would yield after the frame
// (force over stiffness ratio above 1) if there are others.
func (m *Yielding) Evaluate(w *Work, c *Case, out *Outcome) {
	if !m.begin(m, w, c, out) {
		return
	}
	asIs := &c.AsIs[c.Design]
	best, score := [2]float64{grid(m.opt.StiffnessRatio, m.opt.Steps, m.opt.Steps-1), m.opt.ForceRatio[0]},
		math.Inf(1)
	for i := range m.opt.Steps {
		for j := range m.opt.Steps {
			kd, fd := grid(m.opt.StiffnessRatio, m.opt.Steps, i), grid(m.opt.ForceRatio, m.opt.Steps, j)
			if fd > kd {
				continue
			}
			w.Demand.Yielding(c.Stick, &c.Site.Spectra[c.Design], w.devices(c.Stick, kd, fd), &w.trial)
			s := mix(m.opt.DriftShare, asIs, &w.trial)
			if s < score {
				best, score = [2]float64{kd, fd}, s
			}
		}
	}
	d := w.devices(c.Stick, best[0], best[1])
	levels := out.levels(len(c.Site.Spectra))
	for i := range levels {
		w.Demand.Yielding(c.Stick, &c.Site.Spectra[i], d, &levels[i])
	}
	w.yielding = d
	w.Built = Built{c.Stick, &w.yielding}
	n := m.report(c, out, best, d)
	m.finish(w, c, out, Amounts{Devices: n})
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

// report records the devices: in both directions, at least two for each direction and storey.
func (m *Yielding) report(c *Case, out *Outcome, best [2]float64, d demand.Yielding) float64 {
	var devices, force float64
	for _, f := range d.Force {
		n := max(2, math.Ceil(f/m.opt.DeviceForce))
		devices += 2 * n
		force = max(force, f/n)
	}
	out.size("stiffness of devices over storey", best[0], "")
	out.size("yield force of devices over storey strength", best[1], "")
	out.size("devices", devices, "")
	out.size("device yield force", force/1e3, "kN")
	out.size("yield drift of devices at the foot", d.Force[0]/d.Stiffness[0], "m")
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
