package inventory

import (
	"fmt"
	"math"
	"strings"

	"github.com/paulmach/orb"

	"plinth/pipeline/page"
)

// identified rejects a row without an id.
func (w *row) identified() bool {
	if w.id == "" {
		return w.reject(MissingID, ID, "")
	}
	if page.Legible(w.id) != w.id {
		return w.reject(UnseenID, ID, "")
	}
	return true
}

// located rejects a row whose place cannot be trusted. Exchanged axes are reported and never corrected
// silently. Only swap in the plan corrects them.
func (w *row) located() bool {
	if w.m.swap && !w.drawn {
		w.num[Lon], w.num[Lat] = w.num[Lat], w.num[Lon]
		w.origin[Lon], w.origin[Lat] = w.origin[Lat], w.origin[Lon]
		w.way[Lon], w.way[Lat] = w.way[Lat], w.way[Lon]
	}
	for _, f := range [...]Field{Lon, Lat} {
		if w.known(f) {
			continue
		}
		if _, raw := w.source(f); raw != "" && w.flags.Has(NotANumber) {
			return w.reject(BadCoordinate, f, "")
		}
		return w.reject(MissingCoordinate, f, "")
	}
	if w.m.degrees != nil && !w.drawn {
		return w.projected()
	}
	lon, lat := w.num[Lon], w.num[Lat]
	switch {
	case lon == 0 && lat == 0:
		return w.reject(ZeroCoordinates, Lon, "")
	case math.Abs(lat) > 90 && math.Abs(lat) <= 180 && math.Abs(lon) <= 90:
		return w.reject(SwappedCoordinates, Lat, "no latitude is beyond 90 degrees")
	case math.Abs(lon) > 180 && math.Abs(lat) > 90:
		return w.reject(ProjectedCoordinates, Lon, "")
	case math.Abs(lon) > 180:
		return w.reject(BadCoordinate, Lon, "beyond 180 degrees")
	case math.Abs(lat) > 90:
		return w.reject(BadCoordinate, Lat, "beyond 90 degrees")
	}
	return w.covered(lon, lat) && w.precise(lon, lat)
}

// projected converts eastings and northings to degrees. It rejects those that are not of the plan's
// grid.
func (w *row) projected() bool {
	lon, lat := w.m.degrees(w.num[Lon], w.num[Lat])
	if math.IsNaN(lon) || math.IsNaN(lat) {
		return w.reject(BadCoordinate, Lon, "not an easting and northing of the plan's map grid")
	}
	w.num[Lon], w.num[Lat] = lon, lat
	return w.covered(lon, lat)
}

// covered rejects a place outside the coverage of the hazard if a slip explains it, such as a wrong
// sign. Any other place outside is left to the hazard, which knows how far it reaches.
func (w *row) covered(lon, lat float64) bool {
	c := w.r.opt.Coverage
	if c.IsZero() || c.IsEmpty() || c.Contains(orb.Point{lon, lat}) {
		return true
	}
	if c.Contains(orb.Point{lat, lon}) {
		return w.reject(SwappedCoordinates, Lon,
			fmt.Sprintf("%g, %g is outside the hazard's coverage, %g, %g inside", lon, lat, lat, lon))
	}
	for _, p := range [...]orb.Point{{-lon, lat}, {lon, -lat}, {-lon, -lat}} {
		if c.Contains(p) {
			return w.reject(SignOfCoordinate, Lon, fmt.Sprintf("%g, %g would be inside", p[0], p[1]))
		}
	}
	return true
}

// precise rejects whole degrees and flags coordinates with fewer than three
// decimals (0.005 degrees are about 500 m; a building is some tens).
func (w *row) precise(lon, lat float64) bool {
	if lon == math.Trunc(lon) && lat == math.Trunc(lat) {
		return w.reject(WholeDegrees, Lon, "")
	}
	_, a := w.source(Lon)
	_, b := w.source(Lat)
	if a != "" && b != "" && max(w.decimals(a), w.decimals(b)) < 3 {
		w.noteField(CoarseCoordinates, Lon, "")
	}
	return true
}

// decimals returns the number of digits behind the decimal mark.
func (w *row) decimals(s string) int {
	_, behind, _ := strings.Cut(s, string(rune(w.m.decimal)))
	return len(behind)
}
