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

// judge returns the gravest verdict of the rules on the design in v, the number of rules that
// bar it, and the ratio by which the worst of those is missed; 1 if none bars.
func (s *screening) judge(v *Values) (worst Verdict, bars int, miss float64) {
	miss = 1
	for _, r := range s.rules[s.facts:] {
		f := r.Apply(v)
		worst = max(worst, f.Verdict)
		if f.Verdict == Bar {
			bars++
			miss = max(miss, f.Value/f.Limit, f.Limit/f.Value)
		}
	}
	return worst, bars, miss
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
	v[softSite], v[sitePeriod] = f.ground()
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

// ground returns whether the site class is E or F, and the site period in s: the given one, or
//
//	T = 4 H / Vs
//
// with H = 30 m (judgement) and Vs the slowest of the class: 1500, 760, 360 and
// 180 m/s for A to D (ASCE 7-16 Table 20.3-1). Deep deposits are slower.
func (f *Facts) ground() (soft, period float64) {
	class, period := f.SiteClass, f.SitePeriod
	if class == 0 {
		return math.NaN(), period
	}
	if math.IsNaN(period) && class >= 'A' && class <= 'D' {
		period = 4 * 30 / [...]float64{1500, 760, 360, 180}[class-'A']
	}
	return yes(class >= 'E'), period
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
