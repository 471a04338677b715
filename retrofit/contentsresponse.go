package retrofit

import (
	"math"

	"plinth/hazard"
	"plinth/hazard/elementary"
	"plinth/retrofit/demand"
)

// ItemKind is a kind of contents, by its own period.
type ItemKind struct {
	Slug   string // of its column
	Name   string
	Period float64 // s
}

// The kinds of contents, as indices of ItemKinds.
const (
	Equipment = iota
	Cabinets
	Ceilings
	FragileObjects
	Hanging
	NumItemKinds // number of kinds
)

// ItemKinds returns the kinds of contents for which a floor's spectrum is evaluated. The
// periods are judgement.
func ItemKinds() [NumItemKinds]ItemKind {
	return [NumItemKinds]ItemKind{
		{"sensitive-equipment", "sensitive equipment on its feet", 0.1},
		{"cabinets", "racks and cabinets", 0.15},
		{"ceilings", "suspended ceilings and pipes", 0.3},
		{"fragile-objects", "fragile objects in slender cases", 0.5},
		{"hanging", "hanging lamps and mobile equipment", 1.5},
	}
}

// FreeStanding is an object that stands on a floor without ties.
type FreeStanding struct {
	// width of the base over the height of an object that stands free
	BaseOverHeight float64 `toml:"base_over_height" min:"0.01" max:"10"`
	// static coefficient of friction between the object and the floor
	Friction float64 `toml:"friction" min:"0" max:"2"`
	// height of the object, for how it moves in the moving picture of plinth confirm
	Height float64 `toml:"height_m" unit:"m" min:"0.01" max:"20"`
}

// DefaultFreeStanding returns a cabinet 0.6 m deep and 1.8 m high on a hard floor
// (judgement).
func DefaultFreeStanding() FreeStanding {
	return FreeStanding{BaseOverHeight: 0.6 / 1.8, Friction: 0.4, Height: 1.8}
}

// First returns the first movement of the object as the floor shakes harder, and the floor
// acceleration in m/s2 at which it occurs. It slides rather than rocks if its friction is below
// base over height (Shenton 1996: the boundary for a slow push). If either measure is not known
// it stays, at NaN.
func (o FreeStanding) First() (Movement, float64) {
	rock, slide := RockingAcceleration(o.BaseOverHeight, 1), SlidingAcceleration(o.Friction)
	if slide < rock {
		return Slides, slide
	}
	if rock <= slide {
		return Rocks, rock
	}
	return Stays, math.NaN()
}

// ContentsDemand is the demand on the contents of one building, as it stands or with a measure.
// All values but MovesAt are at the design level. NaN means unknown.
type ContentsDemand struct {
	PeakFloor float64               // m/s2, largest floor acceleration
	Floor     int                   // of PeakFloor: 0 the ground floor or the slab above isolators
	Items     [NumItemKinds]float64 // m/s2, of an item of each kind on its worst floor (ItemAcceleration)

	First Movement // of the free-standing object
	// yr, return period of the shaking that first moves it on its worst floor; +Inf if none does
	MovesAt float64
	Sooner  bool // it already moves at the shortest return period, which MovesAt then is

	VerticalGround float64 // m/s2, peak vertical ground acceleration
	VerticalStiff  float64 // m/s2, of a stiff floor or an item with a vertical period of 0.05 to 0.15 s
}

// ContentsResponse returns the demand on the contents at the levels, which are those of an
// Outcome for c or c.AsIs. Without levels, as for a barred measure, it is NaN.
//
// The return period of first movement is interpolated linearly in ln(return period) - ln(floor
// acceleration) between levels. Vertical shaking, which no measure reduces, is that of ASCE
// 7-16 11.9.2,
//
//	0.3 Cv S at the ground,  0.8 Cv S at 0.05 to 0.15 s
//
// with S the largest ordinate of the horizontal spectrum, which also stands for SS in Table
// 11.9-1 (judgement, on the safe side on soft ground). It does not include the amplification of
// a floor's own vertical mode. An unknown class counts as D; F has no coefficient.
func ContentsResponse(c *Case, levels []demand.Response, object FreeStanding) ContentsDemand {
	nan := math.NaN()
	d := ContentsDemand{PeakFloor: nan, MovesAt: nan}
	for i := range d.Items {
		d.Items[i] = nan
	}
	d.VerticalGround, d.VerticalStiff = vertical(&c.Site.Spectra[c.Design], c.Facts.SiteClass)
	if len(levels) == 0 {
		return d
	}
	r := &levels[c.Design]
	d.PeakFloor, d.Floor = r.BaseAccel, 0
	for i, a := range r.Accel {
		if a > d.PeakFloor {
			d.PeakFloor, d.Floor = a, i+1
		}
	}
	for k, kind := range ItemKinds() {
		d.Items[k] = 0
		for i := range len(r.Accel) + 1 {
			d.Items[k] = max(d.Items[k], ItemAcceleration(r, i, kind.Period))
		}
	}
	var threshold float64
	d.First, threshold = object.First()
	d.MovesAt, d.Sooner = exceededAt(c.Site.ReturnPeriod, levels, threshold)
	return d
}

// exceededAt returns the return period in yr at which the peak floor acceleration first exceeds
// a in m/s2. If it is exceeded at the shortest already, it returns that and true; +Inf if
// never; NaN if unknown.
func exceededAt(years []float64, levels []demand.Response, a float64) (at float64, sooner bool) {
	for i := range levels {
		peak := levels[i].PeakAccel
		switch {
		case math.IsNaN(peak) || math.IsNaN(a):
			return math.NaN(), false
		case peak <= a:
			continue
		case i == 0:
			return years[0], true
		}
		return elementary.PowerLaw(a, levels[i-1].PeakAccel, peak, years[i-1], years[i]), false
	}
	return math.Inf(1), false
}

// vertical returns the vertical acceleration in m/s2 of the ground and of a stiff
// floor under the horizontal spectrum sp.
func vertical(sp *hazard.Spectrum, class hazard.SiteClass) (ground, stiff float64) {
	site, _, err := hazard.ASCE7ClassOf(class, false)
	if err != nil {
		return math.NaN(), math.NaN()
	}
	s := sp.Peak()
	cv := hazard.ASCE7Cv(site, s)
	return 0.3 * cv * s * gravity, 0.8 * cv * s * gravity
}
