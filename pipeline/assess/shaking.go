package assess

import (
	"fmt"
	"math"

	"plinth/hazard"
	"plinth/pipeline/inventory"
	"plinth/pipeline/plan"
)

// faultFrom is the return period in yr from which the fault of the register is taken to govern the
// shaking: N(T, D) of NZS 1170.5 3.1.6 counts from R above 0.75, 250 years.
const faultFrom = 250

// pick returns the value of a list of the plan at level i: the one for all, or one each; 0 if none.
func pick(list []float64, i int) float64 {
	switch len(list) {
	case 0:
		return 0
	case 1:
		return list[0]
	}
	return list[i]
}

// shake completes what the hazard says of the shaking at the site of b: what a file says comes
// first, then the plan, then the fault of the register.
func (study *Study) shake(b *inventory.Building, site *hazard.Site) {
	h := &study.plan.Hazard
	vs30 := b.Vs30
	if !(vs30 > 0) {
		class := site.Class
		if class == 0 {
			class = b.SiteClass
		}
		vs30 = hazard.TypicalVs30(study.ground.standard.ASCE7(class))
	}
	for i := range site.Spectra {
		s := &site.Spectra[i].Shaking
		state(s, h, nearest(h.ReturnPeriods, site.ReturnPeriod[i]))
		near := !math.IsNaN(b.FaultDistance) && site.ReturnPeriod[i] >= faultFrom
		if s.Magnitude == 0 && near {
			s.Magnitude, s.Distance = h.FaultSize, b.FaultDistance/1000
		}
		s.Complete(vs30)
	}
}

// state fills what is not known yet from the plan at its level i.
func state(s *hazard.Shaking, h *plan.Hazard, i int) {
	if s.Magnitude == 0 {
		s.Magnitude, s.Distance = pick(h.Magnitude, i), pick(h.SourceDistance, i)
	}
	if s.Duration == 0 {
		s.Duration = pick(h.Duration, i)
	}
	if s.PulsePeriod == 0 {
		s.PulsePeriod = pick(h.PulsePeriod, i)
	}
}

// ShakingNote says where the duration of shaking comes from, for the manifest.
func (study *Study) ShakingNote() string {
	h := &study.plan.Hazard
	from := fmt.Sprintf("that of the records behind the coefficients of codes, %.0f s, unless the hazard file "+
		"says it or the register gives a fault_distance (magnitude hazard.fault_magnitude, from %d years on)",
		hazard.CodeDuration, faultFrom)
	if len(h.Duration) > 0 {
		from = "hazard.significant_duration_s"
	} else if len(h.Magnitude) > 0 {
		from = "that of hazard.magnitude and source_distance_km (Bommer et al. 2009)"
	}
	return "Damping is worth what duration and pulses of the shaking let it be worth " +
		"(docs/methods/hazard.md). Duration: " + from + "."
}
