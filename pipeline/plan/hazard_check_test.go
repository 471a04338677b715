package plan

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const before = "[inventory]\npath = \"b.csv\"\n[inventory.columns]\nid = \"ID\"\nlon = \"X\"\nlat = \"Y\"\n"

// Every [hazard] table of the methods page is one to copy: it must be a plan, and
// every kind must have one.
func TestSnippetsOfTheMethodsPage(t *testing.T) {
	page, err := os.ReadFile(filepath.Join("..", "..", "docs", "methods", "hazard-by-location.md"))
	require.NoError(t, err)
	found := map[string]bool{}
	for _, m := range regexp.MustCompile("(?s)```toml\n(.*?)```").FindAllStringSubmatch(string(page), -1) {
		p, err := Parse("p.toml", []byte(before+m[1]))
		if assert.NoError(t, err, m[1]) {
			found[p.Hazard.Kind] = true
		}
	}
	for _, k := range Reference() {
		if k.Key == "hazard.kind" {
			for _, kind := range strings.Split(k.Choices, ", ") {
				assert.True(t, found[kind], "no snippet of kind %s", kind)
			}
		}
	}
}

func TestHazardProblems(t *testing.T) {
	for _, c := range []struct{ name, hazard, want string }{
		{"no ag", "kind = \"en1998-1\"\nk = 3\n", "hazard.ag: missing for kind en1998-1"},
		{"ag without k", "kind = \"en1998-1\"\nag = 0.2\n", "hazard.k: missing"},
		{"no Z", "kind = \"nzs1170.5\"\n", "hazard.z: missing for kind nzs1170.5"},
		{"soil in a code", "kind = \"nzs1170.5\"\nz = 0.4\nsoil_included = true\n", "hazard.soil_included = true: cannot be for kind nzs1170.5"},
		{"foreign soil", "kind = \"en1998-1\"\nag = 0.2\nk = 3\nsoil_standard = \"asce7-16\"\n", "hazard.soil_standard = \"asce7-16\": is not that of kind en1998-1"},
		{"lists of two lengths", "kind = \"ntc2018\"\nntc_return_periods_yr = [475]\nntc_ag = [0.2]\nntc_f0 = [2.4]\n", "has 1 values for 1 of ntc_ag, 1 of ntc_f0 and 0 of ntc_tc_s"},
		{"Gs unsaid", "kind = \"japan-1457\"\nz = 1\n", "without the amplification Gs"},
		{"levels exchanged", "kind = \"japan-1457\"\nz = 1\nsoil_included = true\nreference_return_period_yr = 30\n", "hazard.moderate_return_period_yr = 50: not below"},
		{"direction of a code", "kind = \"nzs1170.5\"\nz = 0.4\ndirection = \"maximum\"\n", "hazard.direction = \"maximum\": is of files"},
		{"magnitude alone", "kind = \"nzs1170.5\"\nz = 0.4\nmagnitude = [7]\n", "hazard.source_distance_km: magnitude and source_distance_km say something together only"},
		{"durations too few", "kind = \"nzs1170.5\"\nz = 0.4\nsignificant_duration_s = [10, 20]\n", "hazard.significant_duration_s: has 2 values for 8 return periods"},
		{"zones under soil", "kind = \"grid\"\npath = \"h.csv\"\nsoil_included = true\nsite_zones = \"s.geojson\"\n", "hazard.site_zones = \"s.geojson\": is not used"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Parse("p.toml", []byte(before+"[hazard]\n"+c.hazard))
			require.Error(t, err)
			assert.Contains(t, err.Error(), c.want)
		})
	}
}
