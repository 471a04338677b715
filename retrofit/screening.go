package retrofit

import (
	"math"

	"plinth/retrofit/demand"
)

// screening is the common part of all measures: rules, price and disruption, and the beginning
// and end of Evaluate. Between these a measure sizes itself, sets the criteria of its rules,
// and fills the levels.
type screening struct {
	kind       *Kind
	rules      []*Rule // those that need no design first
	facts      int     // number of rules that need no design
	price      Price
	disruption Disruption
}

func newScreening(k *Kind, price Price, disruption Disruption) screening {
	s := screening{kind: k, rules: DefaultRules().Named(k.Rules), price: price, disruption: disruption}
	for s.facts < len(s.rules) && !s.rules[s.facts].sized() {
		s.facts++
	}
	return s
}

// Slug returns the measure's short name in plans and files.
func (s *screening) Slug() string { return s.kind.Slug }

// begin empties out, reads the criteria of the building into w and applies the rules that need
// no design. It returns false if one of them bars the measure.
func (s *screening) begin(m Measure, w *Work, c *Case, out *Outcome) bool {
	out.reset(m)
	w.values.read(c)
	for _, r := range s.rules[:s.facts] {
		out.add(r.Apply(&w.values))
	}
	return out.Verdict != Bar
}

// finish compares the design level with the building as it stands, applies the rules on the
// design, and computes the price.
func (s *screening) finish(w *Work, c *Case, out *Outcome, a Amounts) {
	w.values.compare(&c.AsIs[c.Design], &out.Levels[c.Design])
	for _, r := range s.rules[s.facts:] {
		out.add(r.Apply(&w.values))
	}
	a.Area = c.Facts.FloorArea
	out.Cost, out.Price, out.Amounts = s.price.Of(a), s.price, a
	out.Weeks = s.disruption.Of(c.Facts.FloorArea)
}

// compare sets the criteria that compare a design with the building as it stands.
func (v *Values) compare(asIs, with *demand.Response) {
	v[accelerationRatio] = with.PeakAccel / asIs.PeakAccel
	v[driftRatio] = with.DriftRatio / asIs.DriftRatio
	v[baseShearRatio] = with.BaseShear / asIs.BaseShear
	v[demandRatio] = min(with.DriftRatio/asIs.DriftRatio, v[accelerationRatio])
	const doubtful = demand.Capped | demand.SeveralRoots | demand.NotApplicable
	v[unsettled] = yes(with.Status&doubtful != 0)
}

// read sets the criteria that need no design from c, and the others to NaN.
func (v *Values) read(c *Case) {
	for i := range v {
		v[i] = math.NaN()
	}
	f := &c.Facts
	v[partyWall], v[gap] = yes(f.Gap <= 0), f.Gap
	if math.IsNaN(f.Gap) {
		v[partyWall] = f.Gap
	}
	v[lightBuilding], v[brittleColumns] = f.Light.number(), f.Brittle.number()
	v[bearingWallsAlone] = bearingWalls(f.System).number()
	v[isolationPlane], v[heritage] = f.Plane.number(), f.Heritage.number()
	v[storeys] = float64(c.Stick.N())
	if f.Length > 0 && f.Width > 0 {
		v[slenderness] = f.Height / min(f.Length, f.Width)
	}
	v[irregularPlan] = yes(f.Footprint < regularShare*f.Length*f.Width)
	v[softSite], v[sitePeriod] = f.soft(), f.SitePeriod
	v[faultDistance] = f.FaultDistance
	v[ordinaryContents] = yes(f.Contents == OrdinaryContents)
	v[sensitiveContents] = yes(f.Contents >= SensitiveContents)
	v[fragileContents] = yes(f.Contents == FragileContents)

	asIs := &c.AsIs[c.Design]
	v[asIsDrift], v[asIsStrengthRatio] = asIs.DriftRatio, asIs.Ductility
	v[asIsPeriod] = c.Stick.Modes.Period[0]
	v[firstModeMass] = firstModeShare(c)
}

// regularShare is the share of the bounding rectangle of its plan below which a building counts
// as irregular in plan, as an L or a U does (judgement). Without an outline it counts as
// regular.
const regularShare = 0.75

// soft returns whether the site class is E or F.
func (f *Facts) soft() float64 {
	if f.SiteClass == 0 {
		return math.NaN()
	}
	return yes(f.SiteClass >= 'E')
}

// firstModeShare returns the effective mass of the first mode over the total,
// G1 sum(m phi1)/sum(m).
func firstModeShare(c *Case) float64 {
	var moving, total float64
	shape := c.Stick.Modes.Shape[0]
	for i, m := range c.Stick.Mass {
		moving += m * shape[i]
		total += m
	}
	return c.Stick.Modes.Gamma[0] * moving / total
}
