package retrofit

import (
	"math"

	"plinth/hazard"
	"plinth/retrofit/demand"
)

// Travel is the movement that isolators are built for. Running out of it is no collapse: at the end
// of it the slab touches the moat or the rubber is strained to its limit.
type Travel struct {
	Sized   float64 // m, of the centre at the sizing return period, at the lower bound of properties; 0 without
	Corner  float64 // movement of a corner over that of the centre
	Reserve float64 // movement at which the isolators give out, over Sized
}

// Capacity returns the movement of the centre in m at which isolators give out or, sooner, a corner
// closes the gap in m to the neighbour; 0 without isolators. A gap that is not known never closes.
func (t *Travel) Capacity(gap float64) float64 {
	d := t.Sized * t.Reserve
	if t.Corner > 0 && gap/t.Corner < d { // false for an unknown gap
		return gap / t.Corner
	}
	return d
}

// The price of an isolator holds for a bearing 0.7 m across with 0.2 m of rubber, or a dish 1 m wide.
// Half of it grows with the volume of rubber or the area of the dish; the other half is the work of
// setting it in: jacking, cutting, plinths (judgement; no published table could be verified).
const (
	pricedBearing = 0.7 * 0.7 * 0.2 // m3
	pricedDish    = 1.0             // m2
	sliderRim     = 0.3             // m, of a dish beyond twice its movement, for the slider (judgement)
	sizeShare     = 0.5
)

// A sizing is the shaking for which isolators are sized.
type sizing struct {
	years    float64
	spectrum *hazard.Spectrum
	scaled   hazard.Spectrum // storage of spectrum between two levels
}

// read sets s to the shaking of a return period in years at a site: that of the level itself, or that
// of the next rarer level, scaled to lie between it and the next more frequent one by straight lines
// in ln Sa over ln return period at the period t in s. Beyond the levels it is that of the nearest;
// years tells.
func (s *sizing) read(site *hazard.Site, years, t float64) {
	i, last := 0, len(site.Spectra)-1
	for i < last && site.ReturnPeriod[i] < years {
		i++
	}
	s.years, s.spectrum = site.ReturnPeriod[i], &site.Spectra[i]
	if i == 0 || site.ReturnPeriod[i] <= years {
		return
	}
	low, high := &site.Spectra[i-1], &site.Spectra[i]
	left := math.Log(site.ReturnPeriod[i]/years) / math.Log(site.ReturnPeriod[i]/site.ReturnPeriod[i-1])
	s.scaled.CopyFrom(high)
	s.scaled.Scale(math.Pow(low.Sa(t)/high.Sa(t), left))
	s.years, s.spectrum = years, &s.scaled
}

// sized sets the criteria of the rules on the isolators d themselves, at the sizing return period, and
// those on the demand at the design level to NaN: the lower bound of properties for movement and
// strength, the upper for force. Overturning takes the whole force through the isolators at the
// resultant of the floor forces, so that it is not underestimated.
func (m *isolating) sized(w *Work, c *Case, d demand.Isolation) {
	v := &w.values
	for _, k := range [...]Criterion{frameUse, isolatorsStuck, accelerationRatio, baseShearRatio, demandRatio,
		unsettled} {
		v[k] = math.NaN()
	}
	mass := c.Weight()/hazard.Gravity + d.BaseMass
	t := w.Demand.Settle(c.Stick, w.sizing.spectrum, d)
	v[periodRatio] = 2 * math.Pi * math.Sqrt(mass/d.K2) / c.Stick.Modes.Period[0]
	v[planeDamping] = m.opt.PlaneDamping
	v[isolatedPeriod] = t.Lower.Period
	v[totalDisplacement] = t.Lower.Displacement * c.Facts.totalOverCentre()
	low := demand.System{Mass: mass, Qd: d.Lower.Qd * d.Qd, Kd: d.Lower.Kd * d.K2, Dy: t.Play}
	v[windShare] = m.opt.WindPressure * c.Facts.face() / low.Qd
	v[restoringForce], _ = low.Restores(t.Lower.Displacement, mass*hazard.Gravity)
	v[uplift] = math.NaN()
	if width := min(c.Facts.Length, c.Facts.Width); width > 0 {
		moment := t.Shear * t.ForceHeight / (mass * hazard.Gravity * width)
		v[uplift] = moment / kern(rows(width, m.opt.ColumnSpacing))
	}
	if m.bearings != nil {
		b := m.bearing(c, d, v[totalDisplacement])
		v[bearingDiameter], v[bearingShape] = b.Diameter, b.Diameter/b.Rubber
	}
}

// used sets the criteria of the rules on the demand r at the design level.
func (m *isolating) used(w *Work, r *demand.Response) {
	w.values[frameUse] = r.Ductility
	w.values[isolatorsStuck] = yes(r.Status&demand.Stuck != 0)
}

// kern returns the eccentricity of weight over the width of a plan at which the outer of n rows of
// equal bearings goes into tension.
//
//	e/B = 2 sum x2/(n B2) = (n + 1)/(6 (n - 1)),  x from -B/2 to B/2
//
// Statics: 1/2 for two rows, 1/6, the kern of a rectangle, for many.
func kern(n float64) float64 { return (n + 1) / (6 * (n - 1)) }

// rows returns the number of rows of columns across a width, at a spacing in m.
func rows(width, spacing float64) float64 { return max(2, math.Round(width/spacing)+1) }
