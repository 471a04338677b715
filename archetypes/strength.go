package archetypes

import "math"

// assignStrength fills the detailing, the design coefficient and the strength. It returns the
// origin of the era, which decides the detailing.
func (t *Tables) assignStrength(d *Description, tr *SystemTraits, a *Archetype) Origin {
	reg := &t.regions[d.Region]
	z := &reg.zones[max(int(d.Zone), 1)-1]
	e, yearAssumed := z.at(d.Year, d.Classified)

	s := design{traits: tr, class: d.Importance, storeys: d.Storeys, height: a.Height, width: planWidth(d),
		sds: d.SDS, sd1: d.SD1, s1: d.S1, tl: d.TL, pga: d.PGA}
	era := Derived
	if yearAssumed || d.Zone == 0 {
		era = Assumed
	}
	a.Detailing = e.detailing
	formula := &e.coefficient
	v, demand := e.strengthLevel(s), e.expected(s, tr)
	if d.YearStrengthened > d.Year {
		later, _ := z.at(d.YearStrengthened, d.Classified)
		if y := strengthenedShare * later.expected(s, tr); y > demand {
			e, formula, yearAssumed = later, &later.strengthened, false
			v, demand = strengthenedShare*later.strengthLevel(s), y
		}
		a.Detailing = max(a.Detailing, LimitedDuctile)
	}
	a.weldedJoints(max(d.Year, d.YearStrengthened), tr)
	a.PlaceAssumed = e.byPlace > 0 && d.Classified == 0
	a.DesignCoefficient = v
	a.Basis[CoefficientValue] = Basis{formula, Derived}
	if yearAssumed || a.PlaceAssumed || d.Zone == 0 || e.rule.site != nil && !e.rule.site(s) {
		a.Basis[CoefficientValue].Origin = Assumed
	}
	if !math.IsNaN(d.StrengthGiven) {
		a.StrengthRatio, a.StrengthBeta = d.StrengthGiven, givenStrengthBeta
		a.Basis[StrengthValue] = Basis{&givenStrength, Given}
		return era
	}
	least, most := tr.least(d.Storeys), tr.MaximumStrength*e.importance[d.Importance]
	a.StrengthRatio = min(max(demand, least), most) * strengthFactor(d)
	a.StrengthBeta = tr.OverstrengthBeta
	for _, doubt := range [...]struct {
		is   bool
		beta float64
	}{{yearAssumed, unknownYearBeta}, {d.Zone == 0, unknownZoneBeta}, {a.PlaceAssumed, unknownPlaceBeta}} {
		if doubt.is {
			a.StrengthBeta = math.Hypot(a.StrengthBeta, doubt.beta)
		}
	}
	a.Basis[StrengthValue] = Basis{&tr.strength, a.Basis[CoefficientValue].Origin}
	if demand <= least {
		a.Basis[StrengthValue].Formula = &tr.minimum
	}
	return era
}

// least returns Vy/W of a building of n storeys that nobody designed for shaking,
//
//	Vy/W = a/n + b
//
// The strength of walls, infill and columns that stand there anyway is an area times a stress, or
// that of wind on a shed; it is carried over the weight of n storeys. What grows with the weight,
// the rocking of columns and friction of walls, and wind on a tall building, do not fall with n.
func (t *SystemTraits) least(n int) float64 { return t.MinimumOverN/float64(n) + t.MinimumStrength }

// weldedJoints makes a building whose joints of the year were not yet ductile, whatever the code
// of its time held of them, one of limited ductility.
func (a *Archetype) weldedJoints(year int, tr *SystemTraits) {
	if a.Detailing == Ductile && float64(year) < tr.DuctileFrom {
		a.Detailing, a.poorJoints = LimitedDuctile, true
	}
}

// strengthLevel returns the design coefficient of the era at strength level.
func (e *era) strengthLevel(s design) float64 {
	return e.rule.fn(e.params, s) * e.toStrength * e.importance[s.class]
}

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
