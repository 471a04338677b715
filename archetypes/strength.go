package archetypes

import "math"

// assignStrength fills the detailing, the design coefficient and the strength. It returns the
// origin of the era, which decides the detailing.
func (t *Tables) assignStrength(d *Description, tr *SystemTraits, a *Archetype) Origin {
	reg := &t.regions[d.Region]
	z := &reg.zones[max(int(d.Zone), 1)-1]
	e, yearAssumed := z.at(d.Year)

	s := design{traits: tr, storeys: d.Storeys, height: a.Height, width: planWidth(d),
		sds: d.SDS, sd1: d.SD1, s1: d.S1, tl: d.TL, pga: d.PGA}
	era := Derived
	if yearAssumed || d.Zone == 0 {
		era = Assumed
	}
	a.Detailing = e.detailing
	formula := &e.coefficient
	v, demand := e.strengthLevel(s), e.expected(s, tr)
	if d.YearStrengthened > d.Year {
		later, _ := z.at(d.YearStrengthened)
		if y := strengthenedShare * later.expected(s, tr); y > demand {
			e, formula, yearAssumed = later, &later.strengthened, false
			v, demand = strengthenedShare*later.strengthLevel(s), y
		}
		a.Detailing = max(a.Detailing, LimitedDuctile)
	}
	a.DesignCoefficient = v
	a.Basis[CoefficientValue] = Basis{formula, Derived}
	if yearAssumed || d.Zone == 0 || e.rule.site != nil && !e.rule.site(s) {
		a.Basis[CoefficientValue].Origin = Assumed
	}
	if !math.IsNaN(d.StrengthGiven) {
		a.StrengthRatio, a.StrengthBeta = d.StrengthGiven, givenStrengthBeta
		a.Basis[StrengthValue] = Basis{&givenStrength, Given}
		return era
	}
	a.StrengthRatio = min(max(demand, tr.MinimumStrength), tr.MaximumStrength) * strengthFactor(d)
	a.StrengthBeta = tr.OverstrengthBeta
	if yearAssumed {
		a.StrengthBeta = math.Hypot(a.StrengthBeta, unknownYearBeta)
	}
	if d.Zone == 0 {
		a.StrengthBeta = math.Hypot(a.StrengthBeta, unknownZoneBeta)
	}
	a.Basis[StrengthValue] = Basis{&tr.strength, a.Basis[CoefficientValue].Origin}
	if demand <= tr.MinimumStrength {
		a.Basis[StrengthValue].Formula = &tr.minimum
	}
	return era
}

// strengthLevel returns the design coefficient of the era at strength level.
func (e *era) strengthLevel(s design) float64 { return e.rule.fn(e.params, s) * e.toStrength }

// expected returns the expected yield strength ratio of a building of the era.
func (e *era) expected(s design, tr *SystemTraits) float64 {
	o := e.overstrength
	if o == 0 {
		o = tr.Overstrength
		if e.detailing == NonDuctile {
			o *= tr.OverstrengthFactor
		}
	}
	return e.strengthLevel(s) * o
}

// strengthFactor returns the factor of known weaknesses of the building: torsion and a weak
// ground storey.
func strengthFactor(d *Description) float64 {
	_, f := d.Profile.factor(0, d.Storeys)
	if d.PlanIrregular {
		f /= torsionPenalty
	}
	return f
}

// planWidth returns the plan dimension in m for the early UBC period: the side of a square of
// the footprint, or 20 m (judgement).
func planWidth(d *Description) float64 {
	switch {
	case !math.IsNaN(d.Footprint):
		return math.Sqrt(d.Footprint)
	case !math.IsNaN(d.FloorArea):
		return math.Sqrt(d.FloorArea / float64(d.Storeys))
	}
	return 20
}
