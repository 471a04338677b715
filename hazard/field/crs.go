package field

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/wroge/wgs84"
)

// A Projection takes easting and northing in m to longitude and latitude in degrees
// on WGS 84; nil for coordinates that are so already.
type Projection func(east, north float64) (lon, lat float64)

// ProjectionOf returns the projection a CRS names:
//
//	EPSG:4326, OGC:CRS84         longitude and latitude
//	EPSG:32601-32660, 32701-32760  UTM on WGS 84, north and south
//	EPSG:25828-25838             UTM on ETRS89, which is taken for WGS 84 (under 1 m)
//
// The conversion is that of github.com/wroge/wgs84, whose inverse is within 15 m of
// Karney's series (2011, Transverse Mercator with an accuracy of a few nanometers,
// Journal of Geodesy 85, 475-485) to half a degree beyond a zone: nothing to nodes kilometres apart,
// and less than a building to the place of one.
func ProjectionOf(crs string) (Projection, error) {
	name := strings.ToUpper(strings.TrimSpace(crs))
	if name == "" || name == "EPSG:4326" || name == "OGC:CRS84" {
		return nil, nil
	}
	code, err := strconv.Atoi(strings.TrimPrefix(name, "EPSG:"))
	utm := code > 32600 && code <= 32660 || code > 32700 && code <= 32760 || code >= 25828 && code <= 25838
	if err != nil || !utm {
		return nil, fmt.Errorf("longitude and latitude on WGS 84, and UTM on WGS 84 or ETRS89, are read")
	}
	zone, north := float64(code%100), code < 32700
	to := wgs84.UTM(zone, north).To(wgs84.LonLat())
	middle := zone*6 - 183
	return func(e, n float64) (lon, lat float64) {
		// Far outside a zone the series has no meaning, and degrees are no eastings.
		if !(e >= 1e5 && e <= 9e5 && n >= 0 && n <= 1e7) {
			return math.NaN(), math.NaN()
		}
		lon, lat, _ = to(e, n, 0)
		if !(math.Abs(lon-middle) < 9) {
			return math.NaN(), math.NaN()
		}
		return lon, lat
	}, nil
}

// checkDegrees reports a projected CRS of a source whose form needs degrees.
func (o *Options) checkDegrees(file, form string, ps *Problems) {
	if to, err := ProjectionOf(o.CRS); err == nil && to != nil {
		ps.add(Problem{File: file, Column: "option CRS", Value: o.CRS, Rule: form + " are read in degrees alone", Remedy: "convert the file to EPSG:4326"})
	}
}
