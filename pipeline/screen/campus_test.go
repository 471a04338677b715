package screen

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/assess"
	"plinth/pipeline/plan"
)

// campusPlan screens an open register of a real campus (443 buildings, Public
// Domain Dedication and Licence 1.0) under a made-up constant spectrum.
const campusPlan = `
name = "campus"
[inventory]
path = "REGISTER"
swap = SWAP
[inventory.columns]
id = "BLDG_UID"
name = "NAME"
lon = "LONG"
lat = "LAT"
system = "CONSTR_TYPE"
year = "OCCU_DATE"
storeys_total = "MAX_FLOORS"
height = "BLDG_HEIGHT"
floor_area = "GBA"
use = "BLDG_USAGE"
[inventory.units]
height = "m"
floor_area = "m2"
[inventory.values.system]
Concrete = "concrete-wall"
Wood = "timber-frame"
Steel = "steel-braced-frame"
OtherMixed = "unknown-mix"
[inventory.values.use]
Academic = "university"
Administrative = "office"
Athletics = "sports-hall"
Commons = "assembly"
Housing = "apartments"
Operations = "plant"
Other = "other"
Parking = "parking"
Research = "laboratory"
StudentHousing = "hostel"
Commercial = "shop"
[hazard]
kind = "constant"
soil_included = true
reference_return_period_yr = 475
k = 3
pga = 0.3
periods_s = [0.1, 0.2, 0.4, 1, 2, 4]
sa = [0.6, 0.7, 0.7, 0.35, 0.17, 0.06]
[output]
folder = "OUT"
`

// campus returns the run of the campus register, or skips where there is none.
func campus(t *testing.T, swap string) *assess.Study {
	t.Helper()
	shared := os.Getenv("PLINTH_SHARED")
	if shared == "" {
		shared = filepath.Join("..", "..", "..", "shared")
	}
	register, err := filepath.Abs(filepath.Join(shared, "data", "campus", "buildings.csv"))
	require.NoError(t, err)
	if _, err := os.Stat(register); err != nil {
		t.Skipf("no campus register at %s: set PLINTH_SHARED to the folder that holds data/campus", register)
	}
	doc := strings.NewReplacer("REGISTER", register, "SWAP", swap, "OUT", t.TempDir()).Replace(campusPlan)
	p, err := plan.Parse("campus.toml", []byte(doc))
	require.NoError(t, err)
	study, err := assess.Open(p)
	require.NoError(t, err)
	return study
}

// The register names its columns of longitude and latitude the wrong way round in
// every row. A check says so, rejects every row, and does not set it right unasked.
func TestCampusSwappedColumns(t *testing.T) {
	c, err := CheckRegister(context.Background(), campus(t, "false"))
	require.NoError(t, err)
	assert.Equal(t, 443, c.Register.Tally.In)
	assert.Zero(t, c.Usable())
	assert.EqualValues(t, 443, c.Rejected())
	var text strings.Builder
	require.NoError(t, c.Write(&text))
	assert.Contains(t, text.String(), "swapped-coordinates, 443")
	assert.Contains(t, text.String(), "swap = true")
}

// With the columns exchanged by the plan, every row is a building or a reject, and
// the thirteen-storey residence listed 3.46 m high is reported.
func TestCampus(t *testing.T) {
	study := campus(t, "true")
	c, err := CheckRegister(context.Background(), study)
	require.NoError(t, err)
	assert.EqualValues(t, 443, c.Usable()+c.Rejected())
	var text strings.Builder
	require.NoError(t, c.Write(&text))
	assert.Contains(t, text.String(), `BLDG_HEIGHT = "3.46`)

	res, err := Stock(context.Background(), study, assess.Settings{})
	require.NoError(t, err)
	n := res.Summary.Counts
	assert.EqualValues(t, 443, n.In)
	assert.Equal(t, n.In, n.Out+n.Rejected)
	assert.EqualValues(t, c.Usable(), n.Out)
	assert.Greater(t, n.Out, int64(430))
}
