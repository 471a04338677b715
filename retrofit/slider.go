package retrofit

import "plinth/retrofit/demand"

var sliderKind = Kind{
	Slug: "slider", Name: "isolation on curved-surface sliders",
	Does: "As lead-rubber bearings, on dished steel sliders whose friction takes the energy and " +
		"whose curvature brings the building back.",
	Cannot: "In small shaking it does not break away; its friction gives sharp accelerations at " +
		"the base slab; vertical shaking passes through and changes its friction.",
	Rules:   isolationRules,
	Mark:    Mark{Shape: Diamond, Colour: skyBlue},
	Options: defaults(DefaultSliderOptions),
	Bands:   []string{"slider", "slider-tall"},
	Band: func(_ Set, storeys int) string {
		if storeys > 8 { // the groups of docs/fidelity.md
			return "slider-tall"
		}
		return "slider"
	},
}

// SliderOptions is the design range and price of isolation on curved-surface
// sliders. YieldRatio is the friction and Period 2 pi sqrt(R/g).
type SliderOptions struct {
	IsolationOptions
	// displacement of a slider before it breaks away
	Slip float64 `toml:"slip_m" unit:"m" min:"0.0001" max:"0.02"`
}

// DefaultSliderOptions returns friction of 4 to 10 % (products have 0.03 to 0.12, from memory),
// periods of 2.5 to 4 s (radii 1.55 to 3.96 m), 1 mm before sliding, friction from 0.7 to 1.6
// of nominal and nominal curvature (judgement, after the bounds of ASCE 7-16 17.2.8.4), a reserve of
// 1.1, since a dish ends at its rim (judgement), the
// rest as for lead-rubber bearings.
func DefaultSliderOptions() SliderOptions {
	o := DefaultLeadRubberOptions().IsolationOptions
	o.YieldRatio, o.Period = [2]float64{0.04, 0.10}, [2]float64{2.5, 4}
	o.Upper, o.Lower = [2]float64{1.6, 1}, [2]float64{0.7, 1}
	o.Price.PerDevice, o.Reserve = 15e3, 1.1
	return SliderOptions{IsolationOptions: o, Slip: 0.001}
}

// Validate returns all invalid options, joined.
func (o *SliderOptions) Validate() error {
	return check("slider", append(o.faults(), fault{o.Slip > 0, "slip must be positive"})...)
}

// Slider is isolation on curved-surface sliders.
type Slider struct{ isolating }

func (o *SliderOptions) measure(Set) Measure { return NewSlider(*o) }

// NewSlider returns the measure, for valid options.
func NewSlider(o SliderOptions) *Slider {
	m := &Slider{newIsolating(&sliderKind, demand.Slider, o.IsolationOptions)}
	m.slip = o.Slip
	return m
}

// Evaluate searches as LeadRubber does.
func (m *Slider) Evaluate(w *Work, c *Case, out *Outcome) { m.evaluate(m, w, c, out) }
