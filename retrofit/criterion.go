package retrofit

import "math"

// Criterion is the value a rule tests: a number, or yes or no. The zero value is no criterion.
type Criterion uint8

// The criteria. Those up to lastFact are known before a measure is sized, from the register,
// the archetype and the demand as it stands; the others follow from the design.
const (
	noCriterion Criterion = iota

	partyWall
	gap
	lightBuilding
	isolationPlane
	storeys
	slenderness
	irregularPlan
	softSite
	sitePeriod
	faultDistance
	heritage
	brittleColumns
	bearingWallsAlone
	ordinaryContents
	sensitiveContents
	fragileContents
	asIsDrift
	asIsPeriod
	asIsStrengthRatio
	firstModeMass

	periodRatio
	isolatedPeriod
	frameUse
	uplift
	windShare
	planeDamping
	totalDisplacement
	largestDisplacement
	restoringForce
	isolatorsStuck
	bearingDiameter
	bearingShape
	driftOverTarget
	strengthRatioOverTarget
	strengthFactor
	addedWeight
	damperForceShare
	braceDamping
	massForceShare
	baseShearRatio
	driftRatio
	accelerationRatio
	massRatio
	tunedLeft
	roofLoad
	stroke
	demandRatio
	unsettled

	numCriteria
)

const lastFact = firstModeMass

func (c Criterion) sized() bool { return c > lastFact }

// criteria describes each criterion: its slug and unit in the table of rules, and the words
// before "is not known" in a reason. The unit "answer" is yes (1) or no (0); "%" shows a
// fraction in per cent.
var criteria = [numCriteria]struct{ slug, unit, words string }{
	noCriterion: {"", "", ""},

	partyWall:         {"party-wall", "answer", "whether a wall is shared with a neighbour"},
	gap:               {"gap", "m", "the gap to the neighbour"},
	lightBuilding:     {"light-building", "answer", "whether the structure is light"},
	isolationPlane:    {"isolation-plane", "answer", "whether a level can take the isolation plane"},
	storeys:           {"storeys", "", "the number of storeys"},
	slenderness:       {"slenderness", "", "the plan width, and so the slenderness,"},
	irregularPlan:     {"irregular-plan", "answer", "the shape of the plan"},
	softSite:          {"soft-site", "answer", "the site class"},
	sitePeriod:        {"site-period", "s", "the site period"},
	faultDistance:     {"fault-distance", "km", "the distance to an active fault"},
	heritage:          {"heritage", "answer", "whether the building is protected"},
	bearingWallsAlone: {"bearing-walls", "answer", "whether walls alone carry the building"},
	brittleColumns:    {"brittle-columns", "answer", "whether the columns are brittle"},
	ordinaryContents:  {"ordinary-contents", "answer", "the kind of contents"},
	sensitiveContents: {"sensitive-contents", "answer", "the kind of contents"},
	fragileContents:   {"fragile-contents", "answer", "the kind of contents"},
	asIsDrift:         {"as-is-drift", "%", "the drift as it stands"},
	asIsPeriod:        {"as-is-period", "s", "the period as it stands"},
	asIsStrengthRatio: {"as-is-strength-ratio", "", "the demand over strength as it stands"},
	firstModeMass:     {"first-mode-mass", "%", "the mass of the first mode"},

	periodRatio:             {"period-ratio", "", "the ratio of isolated to fixed-base period"},
	isolatedPeriod:          {"isolated-period", "s", "the isolated period"},
	frameUse:                {"frame-use", "%", "the demand over strength of the frame above"},
	uplift:                  {"uplift", "", "the plan width, and so the uplift,"},
	windShare:               {"wind-share", "", "the height or plan, and so the wind,"},
	planeDamping:            {"plane-damping", "%", "the damping beside the isolators"},
	totalDisplacement:       {"total-displacement", "m", "the displacement of the isolators"},
	largestDisplacement:     {"largest-displacement", "m", "the displacement at the rarest level"},
	restoringForce:          {"restoring-force", "%", "the restoring force"},
	isolatorsStuck:          {"isolators-stuck", "answer", "whether the isolators move"},
	bearingDiameter:         {"bearing-diameter", "m", "the floor area, and so the bearing diameter,"},
	bearingShape:            {"bearing-shape", "", "the floor area, and so the bearing shape,"},
	driftOverTarget:         {"drift-over-target", "", "the drift over its target"},
	strengthRatioOverTarget: {"strength-ratio-over-target", "", "the strength ratio over its target"},
	strengthFactor:          {"strength-factor", "", "the factor on strength"},
	addedWeight:             {"added-weight", "%", "the weight of new walls"},
	damperForceShare:        {"damper-force-share", "%", "the damper force"},
	braceDamping:            {"brace-damping", "%", "the damping that braces can pass on"},
	massForceShare:          {"mass-force-share", "%", "the force of the tuned mass"},
	driftRatio:              {"drift-ratio", "", "the drift over that as it stands"},
	baseShearRatio:          {"base-shear-ratio", "", "the base shear over that as it stands"},
	accelerationRatio:       {"acceleration-ratio", "", "the floor acceleration over that as it stands"},
	massRatio:               {"mass-ratio", "%", "the roof area, and so the tuned mass,"},
	tunedLeft:               {"tuned-left", "%", "the effect of mistuning"},
	roofLoad:                {"roof-load", "kPa", "the roof area, and so the roof load,"},
	stroke:                  {"stroke", "m", "the stroke of the tuned mass"},
	demandRatio:             {"demand-ratio", "", "the demand over that as it stands"},
	unsettled:               {"unsettled", "answer", "whether the calculation settled"},
}

// String returns the slug of the criterion in the table of rules.
func (c Criterion) String() string { return criteria[c].slug }

// Unit returns the unit in which a value of the criterion is shown; the value itself is in SI,
// a fraction, or 1 and 0 for yes and no.
func (c Criterion) Unit() string { return criteria[c].unit }

// ParseCriterion returns the criterion of a slug.
func ParseCriterion(slug string) (Criterion, bool) {
	for c := noCriterion + 1; c < numCriteria; c++ {
		if criteria[c].slug == slug {
			return c, true
		}
	}
	return 0, false
}

// Values are the criteria of one building and one measure; NaN is unknown.
type Values [numCriteria]float64

// yes returns 1 for a true condition, 0 for a false one.
func yes(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// number returns the value of an answer: 1, 0 or NaN.
func (a Answer) number() float64 {
	switch a {
	case Yes:
		return 1
	case No:
		return 0
	}
	return math.NaN()
}
