package consequence

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestMethodPageShowsTheTables keeps the numbers of the method page to those of
// the tables.
func TestMethodPageShowsTheTables(t *testing.T) {
	data, err := os.ReadFile("../../docs/methods/consequence.md")
	require.NoError(t, err)
	page := string(data)
	o := DefaultOptions()
	for measure, b := range o.Bands {
		cells := fmt.Sprintf("%.2f | %.2f |", b.Drift, b.Accel)
		if b.Displacement > 0 {
			cells += fmt.Sprintf(" %.2f |", b.Displacement)
		}
		assert.Regexp(t, `(?m)^\| `+measure+`( \([^|]*\))? \| `+cells, page)
	}
	shows := func(line string) {
		t.Helper()
		assert.True(t, strings.Contains(page, line), "the page lacks %q", line)
	}
	for i, s := range o.States {
		dead := fmt.Sprint(s.Dead)
		if i == Collapse {
			dead = "by system"
		}
		shows(fmt.Sprintf("| %.2f | %.0f | %s | %v | %v |", s.LossRatio, s.Days, dead, s.Serious, s.Minor))
	}
	for name, v := range map[string]float64{
		"residual_drift": o.ResidualDrift, "residual_dispersion": o.ResidualDispersion,
		"demolition_share": o.DemolitionShare, "contents_buried": o.ContentsBuried,
		"infill_share": o.InfillShare, "contact_factor": o.ContactFactor, "fit_out_days": o.FitOutDays,
		"light_casualty_factor": o.LightCasualtyFactor, "street_people": o.Street.People,
		"street_fall_life_safety":         o.Street.BeyondLS,
		"street_fall_collapse_prevention": o.Street.BeyondCP, "street_fatality": o.Street.Fatality,
		"class_dispersion": o.ClassDispersion, "known_dispersion": o.KnownDispersion,
		"record_dispersion": o.RecordDispersion, "damping_model_dispersion": o.DampingDispersion,
		"isolator_dispersion":        o.IsolatorDispersion,
		"isolator_record_dispersion": o.IsolatorRecordDispersion,
	} {
		shows(fmt.Sprintf("| `%s` | %v |", name, v))
	}
	for use, w := range o.Worths {
		shows(fmt.Sprintf("| %s | %v | %v |", use, w.Value, w.Downtime))
	}
	for _, steps := range append([][]Step{o.DriftFitOut, o.Infill, o.AccelFitOut}, o.Contents[:]...) {
		format, medians, spreads, losses := "%.2f", "", "", ""
		if steps[0].Median < 0.1 {
			format = "%.3f"
		}
		for i, s := range steps {
			if i > 0 {
				medians, spreads, losses = medians+", ", spreads+", ", losses+", "
			}
			medians += fmt.Sprintf(format, s.Median)
			spreads += fmt.Sprintf("%.1f", s.Dispersion)
			losses += fmt.Sprintf("%.2f", s.Loss)
		}
		shows("| " + medians + " | " + spreads + " | " + losses + " |")
	}
}
