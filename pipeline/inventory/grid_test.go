package inventory

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/plan"
)

// gridPlan maps a register in metres of UTM zone 10 north.
func gridPlan() *plan.Inventory {
	p := plan.Default().Inventory
	p.Path, p.CRS = "grid.csv", "EPSG:32610"
	p.Columns = map[string]string{"id": "ID", "lon": "E", "lat": "N", "system": "S", "storeys": "F", "floor_area": "A"}
	p.Units = map[string]string{"floor_area": "m2"}
	return &p
}

// On the central meridian of a UTM zone, easting 500 000 m, the northing is 0.9996
// times the length of the meridian from the equator: 4 984 944.378 m to 45 degrees
// on WGS 84 (geodesy textbooks, from memory). The tolerance of 2e-5 degrees is 2 m.
// What is no place of the zone is a reject.
func TestRegisterInUTM(t *testing.T) {
	const text = "ID,E,N,S,F,A\n" +
		"A,500000,4982950.4,concrete-frame,3,900\n" +
		"B,-123,45,concrete-frame,3,900\n"
	r, err := NewReader(strings.NewReader(text), "grid.csv", gridPlan(), Options{})
	require.NoError(t, err)
	buildings, rejects, report := read(t, r)
	require.Len(t, buildings, 1)
	assert.InDelta(t, -123, buildings[0].Lon, 2e-5)
	assert.InDelta(t, 45, buildings[0].Lat, 2e-5)
	require.Len(t, rejects, 1)
	assert.Equal(t, BadCoordinate, rejects[0].Rule)
	assert.Contains(t, rejects[0].Error(), "not an easting and northing of the plan's map grid")
	assert.NoError(t, report.Tally.Check())
}
