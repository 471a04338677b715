package inventory

import "plinth/hazard"

// A Ground returns the site class of a place from its shear wave velocity in m/s,
// NaN if the register has none, or from elsewhere; 0 where it knows none.
type Ground func(lon, lat, vs30 float64) hazard.SiteClass

// ground derives the site class of a row that gives none. What it finds has precedence over a class
// that the plan assumes for all buildings.
func (w *row) ground() {
	if w.r.opt.Ground == nil || w.origin[SiteClass] == Given {
		return
	}
	if c := w.r.opt.Ground(w.num[Lon], w.num[Lat], w.num[Vs30]); c != 0 {
		w.word[SiteClass] = uint8(c)
		way := byZone
		if w.known(Vs30) {
			way = byVelocity
		}
		w.set(SiteClass, Derived, way)
	}
}
