package archetypes

import (
	"fmt"
	"math"
)

// gravity is the standard acceleration of gravity in m/s2 (ISO 80000-3).
const gravity = 9.80665

// foot is the international foot in m.
const foot = 0.3048

// Description holds the known facts of a building. An unknown number is NaN unless stated
// otherwise, as in Unknown; the zero value of an enumeration is unknown.
type Description struct {
	System           System
	Region           Region
	Zone             Zone
	Year             int // of design; 0 unknown
	YearStrengthened int // 0 none
	Classified       int // year since when the code covers the place, 0 unknown
	Importance       Importance
	Storeys          int     // above ground
	Height           float64 // m above the base
	FloorArea        float64 // m2, gross above ground
	Footprint        float64 // m2
	Profile          Profile
	PlanIrregular    bool // known torsional irregularity

	PeriodGiven   float64 // s, from a measurement or a report
	StrengthGiven float64 // Vy/W, from a report

	SDS, SD1, S1, TL float64 // ASCE 7 values of the site, g and s
	PGA              float64 // g, on rock, about 475 years: ag of EN 1998-1, Z of NZS 1170.5
}

// Unknown returns a description without any known fact.
func Unknown() Description {
	nan := math.NaN()
	return Description{
		Height: nan, FloorArea: nan, Footprint: nan, PeriodGiven: nan, StrengthGiven: nan,
		SDS: nan, SD1: nan, S1: nan, TL: nan, PGA: nan,
	}
}

// Archetype is the structural model of a building for a calculation. Dispersions are standard
// deviations of the natural logarithm.
type Archetype struct {
	System    System
	Profile   Profile
	Detailing Detailing
	Storeys   int
	Height    float64 // m

	Weight float64 // N, seismic

	Period, PeriodLower, PeriodUpper float64 // s, median and bounds
	PeriodBeta                       float64

	DesignCoefficient float64 // V/W of the code of the era, at strength level; 0 if there is none
	StrengthRatio     float64 // Vy/W, median yield strength of the ground storey over the weight
	StrengthBeta      float64

	Limits     DriftLimits
	LimitsBeta float64 // among buildings of the class
	// shares of the volume lost in a collapse and of the people in it who die
	CollapseVolume, CollapseFatality float64

	Ductility float64 // capacity, roof displacement over that at yield

	Damping     float64 // of every mode, a fraction of critical
	DampingBeta float64

	PostYield float64 // post-yield over initial stiffness
	Hardened  float64 // largest resistance over yield strength, 0 for no limit
	Degrading float64 // 1 stiffness-degrading hysteresis, 0 none
	Alpha0    float64 // shear over flexure parameter, see Continuum

	PlaceAssumed   bool // whether the code of the year held in this place is not known
	Infilled       bool // frame with masonry infill
	FallsOutward   bool // walls that fall on the street
	BrittleColumns bool // columns likely to fail in shear before they yield
	Flexible       bool // frame that is flexible enough for dampers
	Light          bool // timber or light metal
	poorJoints     bool // of limited ductility for its joints alone, see weldedJoints

	Basis [NumValues]Basis
}

// Dispersions and factors of Assign.
const (
	givenPeriodBeta   = 0.15 // judgement: a measured period lengthens with amplitude
	givenStrengthBeta = 0.25 // judgement: a report's pushover against the real building
	unknownYearBeta   = 0.30 // judgement: added by root-sum-square if the year is not known
	unknownZoneBeta   = 0.20 // judgement: the same if the zone is not known
	// judgement: the same if the code of the year held in some places of the zone and it is not known
	// whether in this one
	unknownPlaceBeta = 0.30
	// strength of a strengthening over the code of its year: common practice of retrofit by-laws,
	// no source
	strengthenedShare = 0.75
	// divides the strength of a torsional building: threshold of ASCE 7-16 Table 12.3-2 type 1a;
	// judgement
	torsionPenalty = 1.2
)

// hardened is the largest resistance of a storey over its yield strength, by detailing: a brittle
// one loses its strength soon after it yields, a ductile one hardens as its members do. Judgement;
// beside it: 1.13 for concrete columns (Haselton, Liel, Taylor Lange and Deierlein 2008) and 1.11
// for steel beams (Lignos and Krawinkler 2011) from yield to peak of one member, from memory; the
// members of a storey yield one after the other, which adds to it.
var hardened = [...]float64{NonDuctile: 1.10, LimitedDuctile: 1.25, Ductile: 0}

// InputError is returned for a Description that does not define an archetype.
type InputError struct {
	Field string // of Description
	Value float64
	Rule  string // requirement on the value
}

// Error returns the problem on one line.
func (e *InputError) Error() string { return fmt.Sprintf("%s %g: %s", e.Field, e.Value, e.Rule) }

// Assign fills a from the tables for the building d, in place and without allocating:
//
//	Vy/W = min(max(V/W x I x overstrength, a/N + b), I x maximum) / torsion x weak storey
//
// V/W is the coefficient of the code of the year at strength level and I its importance factor;
// without a code the least strength a/N + b of N storeys holds. A strengthening after the year
// raises it to three quarters of the code of its own year, and the detailing to limited. Values
// given by the owner are used unchanged and narrow the dispersion. Missing facts are assumed by
// stated rules, which Basis reports.
//
// If the storeys are not 1 to MaxStoreys or a given number is not positive, Assign returns an
// *InputError and a is meaningless.
func (t *Tables) Assign(d *Description, a *Archetype) error {
	if err := t.check(d); err != nil {
		return err
	}
	tr := &t.systems[d.System]
	*a = Archetype{
		System: d.System, Profile: d.Profile, Storeys: d.Storeys,
		PostYield: tr.PostYield, Degrading: tr.Degrading, Alpha0: tr.Alpha0,
		Flexible: tr.Flexible > 0, Light: tr.Light > 0,
	}
	a.assignSize(d, tr)
	a.assignPeriod(d, tr)
	a.assignLimits(tr, t.assignStrength(d, tr, a))
	return nil
}

// check returns an *InputError for an invalid Description.
func (t *Tables) check(d *Description) error {
	if d.Storeys < 1 || d.Storeys > MaxStoreys {
		return &InputError{"Storeys", float64(d.Storeys),
			fmt.Sprintf("must be 1 to %d storeys above ground; give the number or leave the building out",
				MaxStoreys)}
	}
	if d.System >= numSystems || d.Profile >= numProfiles {
		panic("archetypes: system or profile outside the table")
	}
	if int(d.Region) >= len(t.regions) || int(d.Zone) > len(t.regions[d.Region].zones) {
		panic("archetypes: region or zone outside the table")
	}
	for _, f := range [...]struct {
		name  string
		value float64
		max   float64
	}{
		{"Height", d.Height, 1000}, {"FloorArea", d.FloorArea, 1e8}, {"Footprint", d.Footprint, 1e8},
		{"PeriodGiven", d.PeriodGiven, 20}, {"StrengthGiven", d.StrengthGiven, 10},
		{"SDS", d.SDS, 10}, {"SD1", d.SD1, 10}, {"S1", d.S1, 10}, {"TL", d.TL, 30}, {"PGA", d.PGA, 10},
	} {
		if !math.IsNaN(f.value) && !(f.value > 0 && f.value <= f.max) {
			return &InputError{f.name, f.value, fmt.Sprintf("must be above 0 and at most %g, or unknown",
				f.max)}
		}
	}
	return nil
}

func (a *Archetype) assignSize(d *Description, tr *SystemTraits) {
	a.Height = d.Height
	a.Basis[HeightValue] = Basis{&givenHeight, Given}
	if math.IsNaN(d.Height) {
		a.Height = float64(d.Storeys) * tr.StoreyHeight
		a.Basis[HeightValue] = Basis{&tr.height, Assumed}
	}
	a.Damping, a.DampingBeta = BuildingDamping(a.Height), dampingBeta
	a.Basis[DampingValue] = Basis{&buildingDamping, a.Basis[HeightValue].Origin}
	area := d.FloorArea
	a.Basis[WeightValue] = Basis{&tr.weight, Derived}
	if math.IsNaN(area) {
		area = d.Footprint * float64(d.Storeys)
		a.Basis[WeightValue] = Basis{&tr.footprint, Assumed}
	}
	if math.IsNaN(area) {
		area = float64(d.Storeys) // 1 m2 for each floor; ratios, periods and drifts do not depend on it
		a.Basis[WeightValue] = Basis{&unitWeight, Assumed}
	}
	a.Weight = tr.WeightArea * 1e3 * area
}

func (a *Archetype) assignPeriod(d *Description, tr *SystemTraits) {
	a.Period, a.PeriodLower, a.PeriodUpper, a.PeriodBeta = tr.period(a.Height)
	a.Basis[PeriodValue] = Basis{&tr.periods, max(Derived, a.Basis[HeightValue].Origin)}
	if !math.IsNaN(d.PeriodGiven) {
		a.Period, a.PeriodBeta = d.PeriodGiven, givenPeriodBeta
		a.Basis[PeriodValue] = Basis{&givenPeriod, Given}
	}
}

// assignLimits fills the values that depend on the detailing; era is the origin of the
// detailing.
func (a *Archetype) assignLimits(tr *SystemTraits, era Origin) {
	a.Limits, a.LimitsBeta = tr.Limits, tr.DriftBeta
	factor := 1.0
	switch {
	case a.Detailing == NonDuctile:
		factor = tr.DriftFactor
	case a.poorJoints: // half-way, in logarithms: not every weld was brittle (judgement)
		factor = math.Sqrt(tr.DriftFactor)
	}
	// The order of the limits is kept: a brittle building is not fit for occupancy beyond the
	// drift of its life-safety limit.
	a.Limits = tr.Limits.Times(factor)
	a.Limits.ImmediateOccupancy = min(tr.Limits.ImmediateOccupancy, a.Limits.LifeSafety)
	a.Infilled, a.FallsOutward = tr.Infilled > 0, tr.FallsOut > 0
	a.CollapseVolume, a.CollapseFatality = tr.Volume, tr.Fatality
	a.Ductility, a.Hardened = tr.Ductility[a.Detailing], hardened[a.Detailing]
	a.BrittleColumns = tr.BrittleUpTo > float64(a.Detailing)
	a.Basis[LimitsValue] = Basis{&tr.limits, era}
	a.Basis[DuctilityValue] = Basis{&tr.ductility, era}
}
