package assess

import (
	"plinth/archetypes"
	"plinth/hazard"
)

// A perturbation is what is taken to be true of a building where its description only
// gives medians: factors on them.
type perturbation struct {
	hazard   float64 // on every spectrum at the site
	period   float64
	strength float64
	capacity float64 // on the drift at each limit state
	drawn    bool    // the factors are a draw: what they are drawn from is not integrated again
}

// unperturbed takes every median as it is.
var unperturbed = perturbation{hazard: 1, period: 1, strength: 1, capacity: 1}

// apply carries the factors into site and archetype. The code a building was
// designed by knew the mapped hazard, so its strength does not follow the factor
// on the spectra.
func (t *perturbation) apply(site *hazard.Site, a *archetypes.Archetype) {
	if t.hazard != 1 {
		for i := range site.Spectra {
			site.Spectra[i].Scale(t.hazard)
		}
	}
	a.Period *= t.period
	a.StrengthRatio *= t.strength
	a.Limits.ImmediateOccupancy *= t.capacity
	a.Limits.LifeSafety *= t.capacity
	a.Limits.CollapsePrevention *= t.capacity
}
