package field

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// karney is the forward transverse Mercator projection of WGS 84 by Karney's series
// (2011, Transverse Mercator with an accuracy of a few nanometers, Journal of Geodesy
// 85, 475-485, Eq. 35 to order 4 in n), with the scale 0.9996 and false easting of UTM.
func karney(lon, lat, middle float64) (east, north float64) {
	const a, f = 6378137.0, 1 / 298.257223563
	n := f / (2 - f)
	n2 := n * n
	radius := a / (1 + n) * (1 + n2/4 + n2*n2/64)
	alpha := [...]float64{
		n/2 - 2./3*n2 + 5./16*n*n2 + 41./180*n2*n2,
		13./48*n2 - 3./5*n*n2 + 557./1440*n2*n2,
		61./240*n*n2 - 103./140*n2*n2,
		49561. / 161280 * n2 * n2,
	}
	phi, lambda := lat*math.Pi/180, (lon-middle)*math.Pi/180
	e := math.Sqrt(f * (2 - f))
	t := math.Sinh(math.Atanh(math.Sin(phi)) - e*math.Atanh(e*math.Sin(phi)))
	xi, eta := math.Atan2(t, math.Cos(lambda)), math.Asinh(math.Sin(lambda)/math.Hypot(t, math.Cos(lambda)))
	y, x := xi, eta
	for j, c := range alpha {
		k := 2 * float64(j+1)
		y += c * math.Sin(k*xi) * math.Cosh(k*eta)
		x += c * math.Cos(k*xi) * math.Sinh(k*eta)
	}
	return 500000 + 0.9996*radius*x, 0.9996 * radius * y
}

// The inverse is within 15 m of Karney's series in a zone of UTM and half a degree
// beyond it, to 84 degrees.
func TestProjectedNodes(t *testing.T) {
	to, err := ProjectionOf("EPSG:32638")
	require.NoError(t, err)
	// 33.3 N 44.4 E is 444140.54 E, 3684706.36 N of zone 38: the example of the
	// documentation of GeographicLib, from memory.
	e, n := karney(44.4, 33.3, 45)
	assert.InDelta(t, 444140.54, e, 0.006)
	assert.InDelta(t, 3684706.36, n, 0.006)
	worst := 0.0
	for lat := 0.0; lat <= 84; lat++ {
		for d := -3.5; d <= 3.5; d += 0.25 {
			e, n := karney(45+d, lat, 45)
			lon, la := to(e, max(n, 0))
			worst = max(worst, math.Hypot((lon-45-d)*math.Cos(lat*math.Pi/180), la-lat)*111320)
		}
	}
	assert.Less(t, worst, 15.0, "m")

	for _, c := range []struct {
		crs  string
		read bool
	}{
		{"", true}, {"ogc:crs84", true}, {"EPSG:3857", true}, {"EPSG:4269", true}, {"epsg:7844", true},
		{"EPSG:26910", true},
		{"EPSG:28355", true}, {"EPSG:7855", true}, {"EPSG:7860", false}, {"EPSG:26924", false},
		{"EPSG:4612", false}, {"EPSG:4267", false}, {"EPSG:32760", true}, {"EPSG:25832", true},
		{"EPSG:32600", false}, {"EPSG:32661", false}, {"EPSG:2193", false}, {"EPSG:2056", false},
		{"UTM 32", false},
	} {
		_, err := ProjectionOf(c.crs)
		assert.Equal(t, c.read, err == nil, c.crs)
	}
}

func TestPointsInUTM(t *testing.T) {
	e, n := karney(10.2, 50.1, 9)
	text := "easting,northing,return_period_yr,pga,sa_0.2,sa_1\n" + number(e) + "," + number(n) +
		",475,0.1,0.2,0.1\n"
	o := Options{ReturnPeriods: []float64{475}, SoilIncluded: true, CRS: "EPSG:25832"}
	p := mustPoints(t, text, o)
	assert.Less(t, look(t, p, 10.2, 50.1).Distance, 10.0)

	// South of the equator northings count from 10,000 km.
	e, n = karney(174.8, 41.3, 177)
	text = "x,y,return_period_yr,pga,sa_0.2,sa_1\n" + number(e) + "," + number(1e7-n) + ",475,0.1,0.2,0.1\n"
	assert.Less(t, look(t, mustPoints(t, text, Options{ReturnPeriods: []float64{475}, SoilIncluded: true,
		CRS: "EPSG:32760"}), 174.8, -41.3).Distance, 10.0)

	_, err := ReadPoints(strings.NewReader("x,y,return_period_yr,pga,sa_0.2,sa_1\n9.5,50,475,0.1,0.2,0.1\n"+
		"5500000,600000,475,0.1,0.2,0.1\n"), "bad.csv", o)
	require.ErrorContains(t, err, "no easting and northing in m")
	_, err = ReadZones(strings.NewReader("{}"), "bad.csv", o)
	want{column: "option CRS", value: "EPSG:25832", rule: "in degrees alone", problems: 1}.meets(t, err,
		"bad.csv")
	_, err = ReadRasters(nil, o)
	want{column: "option CRS", value: "EPSG:25832", rule: "in degrees alone", problems: 1}.meets(t, err,
		"rasters")
}

// The worked example of Popular Visualisation Pseudo-Mercator, EPSG Guidance Note 7-2 section
// 3.2.1.2 (from memory): 24 22 54.433 N, 100 20 0 W is -11169055.58 E, 2800000.00 N.
func TestWebMercator(t *testing.T) {
	to, err := ProjectionOf("EPSG:3857")
	require.NoError(t, err)
	lon, lat := to(-11169055.58, 2800000)
	assert.InDelta(t, -(100 + 20./60), lon, 1e-7)
	assert.InDelta(t, 24+22./60+54.433/3600, lat, 1e-7)
	lon, _ = to(2.1e7, 0)
	assert.True(t, math.IsNaN(lon), "outside the square")
}

// Zones of UTM on the southern systems are those of the south: Sydney, 33.87 S 151.21 E, is in
// zone 56 (EPSG:7856, MGA zone 56).
func TestSouthernZones(t *testing.T) {
	e, n := karney(151.21, 33.87, 153)
	for _, crs := range []string{"EPSG:7856", "EPSG:28356", "EPSG:32756"} {
		to, err := ProjectionOf(crs)
		require.NoError(t, err)
		lon, lat := to(e, 1e7-n)
		assert.InDelta(t, 151.21, lon, 2e-4)
		assert.InDelta(t, -33.87, lat, 2e-4)
	}
}
