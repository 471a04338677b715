package field

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"plinth/hazard"
)

// Field is hazard by location. It never changes once made, so any number of goroutines may read
// it.
type Field interface {
	// ReturnPeriods returns the levels a lookup fills, in yr, ascending.
	ReturnPeriods() []float64

	// Periods returns the periods of the spectra in s, ascending; nil if they differ from place
	// to place.
	Periods() []float64

	// Bound returns the extent of the nodes. Its east edge is above 180 where
	// the coverage crosses the antimeridian.
	Bound() orb.Bound

	// Lookup fills site for the place lon, lat in degrees and its ground class, 0 if unknown.
	// It keeps the storage of site and allocates nothing once site has been filled before. The
	// error is an *OutsideError, ErrNoClass, or that of a class without site coefficients (F);
	// the content of site is then meaningless.
	Lookup(lon, lat float64, class hazard.SiteClass, site *hazard.Site) error

	// Coverage describes the source for the user to check.
	Coverage() Coverage
}

// OutsideError is returned for a place outside the coverage of a field. DistanceM is NaN if the
// place is not a pair of finite numbers within range.
type OutsideError struct {
	Lon, Lat  float64   // degrees, as asked
	Nearest   orb.Point // nearest node
	DistanceM float64   // to it
}

// Error says how far away the hazard is.
func (e *OutsideError) Error() string {
	if math.IsNaN(e.DistanceM) {
		return fmt.Sprintf("longitude %g, latitude %g is no place on earth", e.Lon, e.Lat)
	}
	return fmt.Sprintf("longitude %g, latitude %g is outside the hazard: the nearest node (%g, %g) is %.1f "+
		"km away",
		e.Lon, e.Lat, e.Nearest[0], e.Nearest[1], e.DistanceM/1000)
}

// place returns lon in [-180, 180) and whether lon, lat is a place on earth.
func place(lon, lat float64) (float64, bool) {
	if !(lon >= -180 && lon <= 360 && lat >= -90 && lat <= 90) {
		return lon, false
	}
	if lon >= 180 {
		lon -= 360
	}
	return lon, true
}

// nowhere returns the error for a place that is not on earth.
func nowhere(lon, lat float64) error {
	return &OutsideError{Lon: lon, Lat: lat, DistanceM: math.NaN()}
}
