package assess

import (
	"math"

	"plinth/hazard"
	"plinth/hazard/field"
	"plinth/pipeline/inventory"
	"plinth/pipeline/plan"
)

// A ground holds the soil standard of a plan and its site zones.
type ground struct {
	standard hazard.SoilStandard // whose letters the classes are
	zones    *field.GroundZones  // nil for none
}

// openGround reads the site zones of the plan, if it names any.
func openGround(h *plan.Hazard) (g ground, err error) {
	if g.standard, err = hazard.ParseSoilStandard(h.SoilSlug()); err != nil || h.SiteZones == "" {
		return g, err
	}
	f, err := OpenNamed(h.SiteZones)
	if err != nil {
		return g, err
	}
	defer f.Close()
	g.zones, err = field.ReadGround(f, h.SiteZones, g.standard)
	return g, err
}

// warnings returns what a person should look at in the zones.
func (g *ground) warnings() []string {
	if g.zones == nil {
		return nil
	}
	return g.zones.Warnings()
}

// class returns the site class of a place whose register gives none: by its shear
// wave velocity in m/s, NaN if not known, else by the zones; 0 for unknown.
func (g *ground) class(lon, lat, vs30 float64) hazard.SiteClass {
	if c, err := g.standard.Class(vs30); err == nil {
		return c
	}
	if g.zones != nil {
		return g.zones.At(lon, lat)
	}
	return 0
}

// classOrigin returns the word for how the site class of the building was found.
func (a *Assessment) classOrigin() string {
	b := a.Building
	switch {
	case a.study.soilIncluded:
		return "in the hazard"
	case a.Site.Status&hazard.AssumedClass != 0 || b.Origin[inventory.SiteClass] == inventory.Assumed:
		return "assumed"
	case b.Origin[inventory.SiteClass] == inventory.Given:
		return "given"
	case math.IsNaN(b.Vs30):
		return "zone"
	}
	return "derived"
}

// classWeights are the probabilities of an assumed site class, one half, and of the next
// firmer and softer one, a quarter each (judgement).
var classWeights = [3]float64{0.25, 0.5, 0.25}

// classSpread returns the standard deviation of ln Sa, at the first period and the design
// return period, over the possible site classes: 0 for a known class, else over the assumed
// class and the next firmer and softer one,
//
//	beta2 = sum(w ln2 Sa) - sum(w ln Sa)2,  w = 1/4, 1/2, 1/4
//
// A class without a spectrum is left out.
func (a *Assessment) classSpread() float64 {
	if a.study.soilIncluded || a.classOrigin() != "assumed" {
		return 0
	}
	b, t := a.Building, a.Archetype.Period
	here := a.Site.Spectra[a.study.design].Sa(t)
	firmer, softer := a.study.ground.standard.Beside(a.Site.Class)
	var sum, first, second float64
	for i, class := range [...]hazard.SiteClass{firmer, a.Site.Class, softer} {
		x := 0.0 // ln of the ratio to the assumed class
		if class != a.Site.Class {
			if err := a.study.lookup(b, class, &a.beside); err != nil {
				continue
			}
			x = math.Log(a.beside.Spectra[a.study.design].Sa(t) / here)
		}
		w := classWeights[i]
		sum, first, second = sum+w, first+w*x, second+w*x*x
	}
	mean := first / sum
	return math.Sqrt(max(0, second/sum-mean*mean))
}

// lookup reads the hazard of b on ground of class.
func (study *Study) lookup(b *inventory.Building, class hazard.SiteClass, site *hazard.Site) (err error) {
	if code, ok := study.field.(*field.Code); ok {
		err = code.LookupNear(b.Lon, b.Lat, class, b.FaultDistance/1000, site)
	} else {
		err = study.field.Lookup(b.Lon, b.Lat, class, site)
	}
	if err == nil {
		study.shake(b, site)
	}
	return err
}

// Locate fills site with the hazard at the place and on the ground of b.
func (study *Study) Locate(b *inventory.Building, site *hazard.Site) (err error) {
	defer CatchPanic(b, &err)
	return study.lookup(b, b.SiteClass, site)
}

// GroundWarnings returns what a person should look at in the zones of the ground.
func (study *Study) GroundWarnings() []string { return study.ground.warnings() }

// SoilStandard returns the standard whose letters the site classes are.
func (study *Study) SoilStandard() hazard.SoilStandard { return study.ground.standard }

// A Ground describes the ground of one building and the shaking that depends on it.
type Ground struct {
	Origin   string  // of the site class: given, derived, zone, assumed, in the hazard
	Spread   float64 // standard deviation of ln Sa for the class that was assumed
	Period   float64 // s, of the site; 0 for rock, NaN for unknown ground
	Known    bool    // the site period is the register's
	Vertical float64 // g, vertical spectral acceleration at 0.05 to 0.15 s and the design return period
	SS       float64 // g, the rock acceleration the vertical coefficient was read at
	S1       float64 // g, on rock at 1 s and 2475 years
	Cv       float64
}

// verticalPeriod in s is where the vertical spectrum of ASCE 7-16 11.9.2 has its
// plateau, and where floors and stiff contents have their vertical periods (judgement).
const verticalPeriod = 0.1

// onGround fills a.Ground. The site and the archetype are known.
func (a *Assessment) onGround() {
	b, study, g := a.Building, a.study, &a.Ground
	*g = Ground{Origin: a.classOrigin(), Spread: a.classSpread(), Period: b.SitePeriod, Known: true}
	class := a.SiteClass()
	if math.IsNaN(g.Period) {
		g.Period, g.Known = study.ground.standard.SitePeriod(class, b.Vs30), false
	}
	row, _, err := hazard.ASCE7ClassOf(study.ground.standard.ASCE7(class), false)
	if err != nil { // class F, under spectra that hold for the ground
		row = hazard.ASCE7E
	}
	mce, k := nearestLevel(a.Site.ReturnPeriod, mceReturnPeriod)
	on := &a.Site
	if !study.soilIncluded {
		on = &a.Rock
	}
	g.SS, g.S1 = on.Spectra[mce].Sa(0.2)*k, on.Spectra[mce].Sa(1)*k
	g.Cv = hazard.ASCE7Cv(row, g.SS)
	design := &a.Site.Spectra[study.design]
	g.Vertical = hazard.ASCE7Vertical(verticalPeriod, g.Cv, design.Sa(0.2), design)
}

// SiteClass returns the class of the ground: the one the spectra hold for or, where
// they hold for any ground, the register's.
func (a *Assessment) SiteClass() hazard.SiteClass {
	if a.Site.Class != 0 {
		return a.Site.Class
	}
	return a.Building.SiteClass
}

// Resonant reports whether a building of period t in s may resonate with its site.
func (a *Assessment) Resonant(t float64) bool { return hazard.Resonant(t, a.Ground.Period) }

// SlopeKnown reports whether the hazard says how shaking grows with return period. Where it does
// not, annual values are shown by a default and decide nothing.
func (a *Assessment) SlopeKnown() bool { return a.Site.Status&hazard.SlopeUnknown == 0 }

// NearFault reports whether the site lies near a fault of the plan's magnitude
// (ASCE 7-16 11.4.1); false where the register gives no distance.
func (a *Assessment) NearFault() bool {
	return hazard.NearFault(a.Building.FaultDistance/1000, a.study.plan.Hazard.FaultSize)
}
