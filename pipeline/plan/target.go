package plan

import "slices"

// Target states what a building must survive, and with it what a measure must reach.
type Target struct {
	// a building must stay within life safety (ASCE 41) at this return period; 0 for the design return period
	LifeSafety float64 `toml:"life_safety_yr" unit:"yr" min:"0"`
	// uses that must go on after an earthquake: they stay within immediate occupancy (ASCE 41) too
	Uses []string `toml:"immediate_occupancy_uses"`
	// return period at which these uses stay within immediate occupancy; 0 for the design return period
	ImmediateOccupancy float64 `toml:"immediate_occupancy_yr" unit:"yr" min:"0"`
}

// target checks that the run has levels around the return periods of the target.
func (c *checker) target(p *Plan) {
	periods := p.Hazard.ReturnPeriods
	if len(periods) == 0 {
		return
	}
	for _, k := range []struct {
		key  string
		year float64
	}{{"target.life_safety_yr", p.Target.LifeSafety}, {"target.immediate_occupancy_yr", p.Target.ImmediateOccupancy}} {
		if k.year > 0 && (k.year < slices.Min(periods) || k.year > slices.Max(periods)) {
			c.add(k.key, k.year, "outside the return periods of the run",
				"write one within hazard.return_periods_yr, or add a level there")
		}
	}
}
