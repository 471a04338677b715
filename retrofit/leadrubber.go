package retrofit

import "plinth/retrofit/demand"

var leadRubberKind = Kind{
	Slug: "lead-rubber", Name: "isolation on lead-rubber bearings",
	Does: "Cuts the building from its foundations and sets it on rubber bearings with a lead " +
		"core, so that it sways slowly as one: drift and floor acceleration both fall.",
	Cannot: "It needs room to move all round, a level to cut through and heavy walls and floors; " +
		"vertical shaking passes through; pipes and stairs across the cut must follow.",
	Rules:   append([]string{"bearing-diameter", "bearing-shape"}, isolationRules...),
	Mark:    Mark{Shape: Square, Colour: blue},
	Options: defaults(DefaultLeadRubberOptions),
}

// LeadRubberOptions is the design range and price of isolation on lead-rubber
// bearings.
type LeadRubberOptions struct {
	IsolationOptions
	// stiffness of the bearings before yield over after
	StiffnessRatio float64 `toml:"stiffness_ratio" min:"1.5" max:"50"`
	// proportions of the bearings
	Bearing BearingRule `toml:"bearing"`
}

// DefaultLeadRubberOptions returns usual ranges: Qd 4 to 12 % of the weight, T2 2.0 to 3.5 s
// (common practice, no source), K1/K2 10 within 6.5 to 10 (Naeim and Kelly 1999, from memory),
// sizing at 2475 years, a reserve of 1.5 (rubber sized for a strain of 2.5 tears near 4 and more:
// common practice, no source), a slab as heavy as a floor, columns at 6 m, a wind of 1.5 kPa, no
// parallel dampers, equal
// weights of drift and acceleration, demand with nominal properties, as measures are compared
// by best estimates, and the price (all judgement).
func DefaultLeadRubberOptions() LeadRubberOptions {
	return LeadRubberOptions{
		IsolationOptions: IsolationOptions{
			YieldRatio:    [2]float64{0.04, 0.12},
			Period:        [2]float64{2.0, 3.5},
			Damping:       "asce-7-isolation",
			Steps:         3,
			Sizing:        2475,
			Reserve:       1.5,
			Upper:         defaultUpper,
			Lower:         defaultLower,
			SlabMass:      1,
			DriftShare:    0.5,
			ColumnSpacing: 6,
			WindPressure:  1500,
			PlaneForce:    1e6,
			Nominal:       true,
			Price: Price{Fixed: 150e3, PerArea: 250, PerDevice: 12e3, PerMoat: 3000, LowRatio: 0.7,
				HighRatio: 1.8},
			Disruption: Disruption{Fixed: 8, PerThousand: 3, LongestWeeks: 78},
		},
		StiffnessRatio: 10,
		Bearing:        DefaultBearingRule(),
	}
}

// LeadRubber is isolation on lead-rubber bearings.
type LeadRubber struct{ isolating }

func (o *LeadRubberOptions) measure(Set) Measure { return NewLeadRubber(*o) }

// NewLeadRubber returns the measure, for valid options.
func NewLeadRubber(o LeadRubberOptions) *LeadRubber {
	m := &LeadRubber{newIsolating(&leadRubberKind, demand.LeadRubber, o.IsolationOptions)}
	m.ratio, m.bearings = o.StiffnessRatio, &o.Bearing
	return m
}

// Validate returns all invalid options, joined.
func (o *LeadRubberOptions) Validate() error {
	return check("lead-rubber", append(o.faults(),
		fault{o.StiffnessRatio > 1, "stiffness ratio must be above 1"},
		fault{o.Bearing.ShearModulus > 0, "shear modulus must be positive"},
		fault{o.Bearing.LeadStress > 0, "lead stress must be positive"},
		fault{o.Bearing.ShearStrain > 0, "shear strain must be positive"},
		fault{o.Bearing.Pressure > 0, "pressure must be positive"},
		fault{o.Bearing.Overlap > 0 && o.Bearing.Overlap < 1,
			"displacement over diameter must lie between 0 and 1"})...)
}

// Evaluate searches the grid of designs at the design level for the one with the least grave
// verdict and, among those, the lowest mix of drift and floor acceleration. Then it computes
// the demand at every level.
func (m *LeadRubber) Evaluate(w *Work, c *Case, out *Outcome) { m.evaluate(m, w, c, out) }
