package trial

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"plinth/pipeline/assess"
	"plinth/pipeline/plan"
)

// Small opens a register of one building, with the cells site_class, vs30 and fault_distance
// (km), under a plan with the given [hazard] table.
func Small(t *testing.T, hazardTable, cells string) *assess.Study {
	t.Helper()
	dir := t.TempDir()
	write := func(name, text string) {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600))
	}
	write("b.csv", "ID,X,Y,SYSTEM,FLOORS,AREA,CLASS,VS30,FAULT\nA,-30.5,40.5,concrete-frame,4,2000,"+cells+"\n")
	write("soil.geojson", `{"type": "FeatureCollection", "features": [{"type": "Feature", "properties": {"site_class": "E"},
		"geometry": {"type": "Polygon", "coordinates": [[[-31, 40], [-30, 40], [-30, 41], [-31, 41], [-31, 40]]]}}]}`)
	write("ms2.csv", "lon,lat,return_period_yr,pga,sa_0.2,sa_1\n-31,40,475,2.1,5.2,2\n-30,40,475,2.2,5.4,2.1\n-31,41,475,2.1,5.2,2\n-30,41,475,4.9,12.3,4.7\n")
	write("overlap.geojson", `{"type": "FeatureCollection", "features": [
		{"type": "Feature", "properties": {"site_class": "E"}, "geometry": {"type": "Polygon", "coordinates": [[[-31, 40], [-30, 40], [-30, 41], [-31, 41], [-31, 40]]]}},
		{"type": "Feature", "properties": {"vs30": 400}, "geometry": {"type": "Polygon", "coordinates": [[[-30.6, 40], [-29, 40], [-29, 41], [-30.6, 41], [-30.6, 40]]]}}]}`)
	write("plan.toml", `[inventory]
path = "b.csv"
[inventory.columns]
id = "ID"
lon = "X"
lat = "Y"
system = "SYSTEM"
storeys = "FLOORS"
floor_area = "AREA"
site_class = "CLASS"
vs30 = "VS30"
fault_distance = "FAULT"
[inventory.units]
floor_area = "m2"
fault_distance = "km"
`+hazardTable)
	p, err := plan.Load(filepath.Join(dir, "plan.toml"))
	require.NoError(t, err)
	study, err := assess.Open(p)
	require.NoError(t, err)
	return study
}

// OnRock is a [hazard] table of one spectrum on rock.
const OnRock = "[hazard]\nkind = \"constant\"\npga = 0.3\nperiods_s = [0.2, 1, 4]\nsa = [0.75, 0.3, 0.05]\nk = 3\nsoil_included = false\n"
