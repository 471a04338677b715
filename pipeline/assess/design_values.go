package assess

import (
	"math"

	"plinth/archetypes"
	"plinth/hazard"
)

// designOf sets the design values of d at the site, from which buildings to modern codes
// get their strength:
//
//	SDS = 2/3 max Sa,  SD1 = 2/3 Sa(1 s)   at 2475 years, on the site's ground
//	S1 = Sa(1 s)                           at 2475 years, on rock
//	PGA                                    at 475 years, on rock
//
// The mapped values of ASCE 7-16 (11.4) are risk-targeted; a uniform hazard of
// 2475 years stands in for them (judgement). Where the run has no such level the
// nearest one is scaled by H ~ a^-3 (EN 1998-1 2.1(4)). rock is nil where the
// hazard holds for the ground only; values on rock then stay unknown.
func designOf(site, rock *hazard.Site, d *archetypes.Description) {
	mce, k := nearestLevel(site.ReturnPeriod, mceReturnPeriod)
	sp := &site.Spectra[mce]
	d.SDS = max(sp.Sa(sp.TC), sp.Sa(0.2)) * k * 2 / 3
	d.SD1 = sp.Sa(1) * k * 2 / 3
	if rock == nil {
		return
	}
	d.S1 = rock.Spectra[mce].Sa(1) * k
	dbe, k := nearestLevel(site.ReturnPeriod, 475)
	d.PGA = rock.Spectra[dbe].PGA * k
}

// mceReturnPeriod is the return period in yr that stands in for the MCER of ASCE 7 (judgement).
const mceReturnPeriod = 2475

// nearestLevel returns the level nearest to the return period tr in yr, and the factor that carries
// its accelerations there.
func nearestLevel(levels []float64, tr float64) (i int, factor float64) {
	const k = 3
	i = nearest(levels, tr)
	return i, math.Pow(tr/levels[i], 1./k)
}

// nearest returns the index of the level nearest to the return period tr in yr, by ratio.
func nearest(levels []float64, tr float64) (i int) {
	apart := math.Inf(1)
	for j, t := range levels {
		if ratio := max(t/tr, tr/t); ratio < apart {
			i, apart = j, ratio
		}
	}
	return i
}
