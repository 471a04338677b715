package assess

import (
	"plinth/archetypes"
	"plinth/hazard"
)

// A perturbation holds factors on the medians that describe a building.
type perturbation struct {
	hazard   float64 // on every spectrum at the site
	period   float64
	strength float64
	capacity float64 // on the drift at each limit state
	drawn    bool    // the factors are a draw, whose dispersion must not be integrated again
}

// unperturbed leaves every median as it is.
var unperturbed = perturbation{hazard: 1, period: 1, strength: 1, capacity: 1}

// apply multiplies site and archetype by the factors. The strength does not follow the
// factor on the spectra, since the building was designed for the mapped hazard.
func (t *perturbation) apply(site *hazard.Site, a *archetypes.Archetype) {
	if t.hazard != 1 {
		for i := range site.Spectra {
			site.Spectra[i].Scale(t.hazard)
		}
	}
	a.Period *= t.period
	a.StrengthRatio *= t.strength
	a.Limits = a.Limits.Times(t.capacity)
}
