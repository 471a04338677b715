package field

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/hazard"
)

const shakenGrid = "lon,lat,return_period_yr,pga,sa_1,magnitude,distance_km,duration_s,pulse_period_s\n" +
	"10,50,100,0.1,0.1,6,40,9,0\n10,50,1000,0.3,0.3,7,10,16,3\n" +
	"11,50,100,0.1,0.1,5,90,8,0\n11,50,1000,0.3,0.3,6,30,10,0\n" +
	"10,51,100,0.1,0.1,6,40,9,0\n10,51,1000,0.3,0.3,7,10,16,3\n" +
	"11,51,100,0.1,0.1,5,90,8,0\n11,51,1000,0.3,0.3,6,30,10,0\n"

func TestAHazardFileSaysHowTheGroundShakes(t *testing.T) {
	o := Options{ReturnPeriods: []float64{50, 100, 316.22776601683796, 1000, 5000}, SoilIncluded: true, K: 3,
		MaxDistance: 100e3}
	for _, f := range []Field{mustGrid(t, shakenGrid, o), mustPoints(t, shakenGrid, o)} {
		s := look(t, f, 10.2, 50.1) // nearest the first node
		at := func(i int) hazard.Shaking { return s.Spectra[i].Shaking }
		assert.Equal(t, hazard.Shaking{Magnitude: 6, Distance: 40, Duration: 9}, at(1))
		assert.Equal(t, at(1), at(0), "the ends are held")
		assert.Equal(t, hazard.Shaking{Magnitude: 7, Distance: 10, Duration: 16, PulsePeriod: 3}, at(3))
		assert.Equal(t, at(3), at(4), "the power law is of accelerations")
		assert.InEpsilon(t, 6.5, at(2).Magnitude, 1e-9) // half way in ln of the return period
		assert.InEpsilon(t, 20, at(2).Distance, 1e-9)
		assert.InEpsilon(t, 12, at(2).Duration, 1e-9)
		assert.Zero(t, look(t, f, 10.9, 50.9).Spectra[3].PulsePeriod, "of the nearest node")
		assert.Empty(t, f.Coverage().Warnings)
	}
}

func TestAreasSayHowTheGroundShakes(t *testing.T) {
	area := geometryOf("Polygon", "["+box(0, 0, 1, 1)+"]",
		`{"hazard": [{"return_period_yr": 475, "pga": 0.2, "sa_1": 0.2, "magnitude": 6.5, "distance_km": 0}]}`)
	z, err := ReadZones(strings.NewReader(collection(area)), "z.geojson",
		Options{ReturnPeriods: []float64{475}, SoilIncluded: true})
	require.NoError(t, err)
	assert.Equal(t, hazard.Shaking{Magnitude: 6.5}, look(t, z, 0.5, 0.5).Spectra[0].Shaking)
}

func TestShakingThatCannotBe(t *testing.T) {
	head := "lon,lat,return_period_yr,pga,sa_1,"
	for _, c := range []struct{ column, value, want string }{
		{"magnitude,distance_km", "70,5", `magnitude = "70": not from 3 to 10`},
		{"duration_s", "-3", `duration_s = "-3": not from 0.1 to 600`},
		{"duration_s", "", `duration_s: the cell is empty`},
		{"pulse_period_s", "long", `pulse_period_s = "long": not a number`},
	} {
		_, err := ReadPoints(strings.NewReader(head+c.column+"\n0,0,475,0.2,0.2,"+c.value+"\n"), "h.csv",
			Options{ReturnPeriods: []float64{475}, SoilIncluded: true})
		assert.ErrorContains(t, err, c.want)
	}
	f := mustPoints(t, head+"magnitude\n0,0,475,0.2,0.2,7\n", Options{ReturnPeriods: []float64{475},
		SoilIncluded: true})
	assert.Contains(t, f.Coverage().Warnings[0], "together only")
	assert.False(t, look(t, f, 0, 0).Spectra[0].Known())
}
