package trial

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"plinth/hazard"
	"plinth/hazard/field"
	"plinth/pipeline/assess"
	"plinth/pipeline/internal/town"
	"plinth/pipeline/plan"
	"plinth/pipeline/sample"
	"plinth/retrofit"
)

// A faultyField is a hazard with a mistake in it: it panics at one place.
type faultyField struct {
	field.Field
	lon, lat float64
}

func (f faultyField) Lookup(lon, lat float64, class hazard.SiteClass, site *hazard.Site) error {
	if lon == f.lon && lat == f.lat {
		var none []hazard.Spectrum
		site.Spectra[0] = none[len(none)]
	}
	return f.Field.Lookup(lon, lat, class, site)
}

// Faulty opens the demo in dir with a hazard that panics at the place of a building.
func Faulty(t testing.TB, dir, id string, change func(*plan.Plan)) *assess.Study {
	t.Helper()
	study, err := assess.Open(town.Plan(t, dir, func(p *plan.Plan) {
		p.Uncertainty.Draws = 0
		if change != nil {
			change(p)
		}
	}))
	require.NoError(t, err)
	a, err := study.AssessOne(t.Context(), id)
	require.NoError(t, err)
	return under(t, study, faultyField{study.Hazard(), a.Building.Lon, a.Building.Lat})
}

// FaultyID is the building of the demo that trials fail on.
const FaultyID = "CS-00002"

// Sound returns a study of Faulty without the mistake in its hazard.
func Sound(t testing.TB, study *assess.Study) *assess.Study {
	return under(t, study, study.Hazard().(faultyField).Field)
}

// under returns the study under another hazard.
func under(t testing.TB, study *assess.Study, f field.Field) *assess.Study {
	t.Helper()
	out, err := study.Under(study.Plan(), f)
	require.NoError(t, err)
	return out
}

// Without removes the row of a building from the register in dir.
func Without(t testing.TB, dir, id string) {
	t.Helper()
	path := filepath.Join(dir, sample.RegisterFile)
	b, err := os.ReadFile(path)
	require.NoError(t, err)
	lines := strings.SplitAfter(string(b), "\n")
	for i, line := range lines {
		if strings.HasPrefix(line, id+",") {
			lines = append(lines[:i:i], lines[i+1:]...)
			break
		}
	}
	require.NoError(t, os.WriteFile(path, []byte(strings.Join(lines, "")), 0o600))
}

// A faultyMeasure has a mistake in it: it panics for one building where its period is not
// the one that is described.
type faultyMeasure struct {
	retrofit.Measure
	area, period float64
}

func (m faultyMeasure) Evaluate(w *retrofit.Work, c *retrofit.Case, out *retrofit.Outcome) {
	if c.Facts.FloorArea == m.area && c.Stick.Modes.Period[0] != m.period {
		panic("retrofit: no such period")
	}
	m.Measure.Evaluate(w, c, out)
}

// FaultyAway opens the demo in dir with measures that panic for one building away from
// its description.
func FaultyAway(t testing.TB, dir, id string, change func(*plan.Plan)) *assess.Study {
	study := Sound(t, Faulty(t, dir, id, change))
	a, err := study.AssessOne(t.Context(), id)
	require.NoError(t, err)
	for i, m := range study.Measures() {
		study.Measures()[i] = faultyMeasure{m, a.Case.Facts.FloorArea, a.Stick.Modes.Period[0]}
	}
	return study
}
