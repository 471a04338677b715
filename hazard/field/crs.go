package field

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/wroge/wgs84"
)

// Projection converts easting and northing in m to longitude and latitude in degrees on WGS 84.
// It is nil for coordinates already in degrees.
type Projection func(east, north float64) (lon, lat float64)

// ProjectionOf returns the projection that a CRS names:
//
//	EPSG:4326, OGC:CRS84           longitude and latitude
//	those of NearWGS84             longitude and latitude, used unchanged
//	EPSG:3857                      Web Mercator
//	EPSG:32601-32660, 32701-32760  UTM on WGS 84, north and south
//	EPSG:25828-25838               UTM on ETRS89
//	EPSG:26901-26923               UTM on NAD83
//	EPSG:28348-28358               UTM south on GDA94
//	EPSG:7846-7859                 UTM south on GDA2020
//
// ETRS89, NAD83, GDA94 and GDA2020 are treated as WGS 84, as in NearWGS84.
//
// The conversion is that of github.com/wroge/wgs84, whose inverse is within 15 m of Karney's
// series (2011, Transverse Mercator with an accuracy of a few nanometers, Journal of Geodesy
// 85, 475-485) to half a degree beyond a zone: negligible for nodes kilometres apart, and less
// than the size of a building.
func ProjectionOf(crs string) (Projection, error) {
	name := strings.ToUpper(strings.TrimSpace(crs))
	if name == "" || name == "EPSG:4326" || name == "OGC:CRS84" || NearWGS84(name) != "" {
		return nil, nil
	}
	code, err := strconv.Atoi(strings.TrimPrefix(name, "EPSG:"))
	if err == nil && code == 3857 {
		return webMercator, nil
	}
	zone, north := utmZone(code)
	if err != nil || zone == 0 {
		return nil, fmt.Errorf("longitude and latitude on WGS 84 or near it, Web Mercator, and UTM on WGS " +
			"84, ETRS89, NAD83, GDA94 or GDA2020, are read")
	}
	to := wgs84.UTM(zone, north).To(wgs84.LonLat())
	middle := zone*6 - 183
	return func(e, n float64) (lon, lat float64) {
		// Far outside a zone the series is meaningless, and degrees are not eastings.
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

// utmZone returns the UTM zone that an EPSG code names, 0 for none, and whether it is a
// northern one. All are in the EPSG dataset (https://epsg.org), from memory.
func utmZone(code int) (zone float64, north bool) {
	switch {
	case code > 32600 && code <= 32660, code >= 25828 && code <= 25838, code > 26900 && code <= 26923:
		return float64(code % 100), true
	case code > 32700 && code <= 32760, code >= 28348 && code <= 28358:
		return float64(code % 100), false
	case code >= 7846 && code <= 7859:
		return float64(code - 7800), false
	}
	return 0, false
}

var fromMercator = wgs84.WebMercator().To(wgs84.LonLat())

// webMercator converts Web Mercator to degrees; it is not defined outside its square.
func webMercator(e, n float64) (lon, lat float64) {
	const edge = math.Pi * 6378137 // m, half the side
	if !(math.Abs(e) <= edge && math.Abs(n) <= edge) {
		return math.NaN(), math.NaN()
	}
	lon, lat, _ = fromMercator(e, n, 0)
	return lon, lat
}

// nearWGS84 lists the systems of longitude and latitude that lie within about 2 m of WGS 84,
// which is less than the size of a building (common practice, no source; the codes are those of
// the EPSG dataset, from memory). A plate-fixed system drifts with its plate, some cm a year.
var nearWGS84 = map[string]string{
	"EPSG:4258": "ETRS89", "EPSG:4269": "NAD83", "OGC:CRS83": "NAD83", "EPSG:4617": "NAD83(CSRS)",
	"EPSG:6318": "NAD83(2011)",
	"EPSG:6668": "JGD2011", "EPSG:7844": "GDA2020", "EPSG:4283": "GDA94", "EPSG:4167": "NZGD2000",
	"EPSG:4674": "SIRGAS 2000",
	"EPSG:4490": "CGCS2000", "EPSG:4979": "WGS 84 with heights",
}

// NearWGS84 returns the name of a system of longitude and latitude, other than WGS 84, that is
// treated as WGS 84; "" for any other.
func NearWGS84(crs string) string { return nearWGS84[strings.ToUpper(strings.TrimSpace(crs))] }

// checkDegrees reports a projected CRS for a source whose form requires degrees.
func (o *Options) checkDegrees(file, form string, ps *Problems) {
	if to, err := ProjectionOf(o.CRS); err == nil && to != nil {
		ps.add(Problem{File: file, Column: "option CRS", Value: o.CRS, Rule: form +
			" are read in degrees alone", Remedy: "convert the file to EPSG:4326"})
	}
}
