package pipeline

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"plinth/hazard"
	"plinth/pipeline/assess"
	"plinth/pipeline/internal/trial"
	"plinth/pipeline/output"
)

// TestOneBuildingOfTheReadme holds the way of a building in README.md to what the program says of
// it. UPDATE=1 rewrites the block.
func TestOneBuildingOfTheReadme(t *testing.T) {
	study := trial.Open(t, 240, nil)
	a, err := study.AssessOne(t.Context(), "CS-00001")
	require.NoError(t, err)
	const begin, end = "<!-- one building: make docs rewrites what follows -->\n", "<!-- /one building -->"
	path := filepath.Join("..", "README.md")
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	before, rest, found := strings.Cut(string(text), begin)
	require.True(t, found)
	_, after, found := strings.Cut(rest, end)
	require.True(t, found)
	want := before + begin + oneBuilding(study, a) + end + after
	if os.Getenv("UPDATE") != "" {
		require.NoError(t, os.WriteFile(path, []byte(want), 0o644))
		return
	}
	require.Equal(t, want, string(text), "run `make docs`")
}

// oneBuilding returns a line a stage of the way of the building that a holds.
func oneBuilding(study *assess.Study, a *assess.Assessment) string {
	b, arch, o := a.Building, &a.Archetype, a.Best()
	sp, as, with := &a.Site.Spectra[study.Design()], &a.AsIs[study.Design()], &o.Levels[study.Design()]
	years, currency := study.Plan().Hazard.Design, study.Plan().Measures.Currency
	var out strings.Builder
	line := func(stage, format string, args ...any) {
		fmt.Fprintf(&out, "    %-14s %s\n", stage, fmt.Sprintf(format, args...))
	}
	out.WriteString("\n")
	line("register", "%s, %s of %d, %d storeys, %.0f m2", b.ID, b.System, b.Year, b.Storeys, b.FloorArea)
	line("-> site", "ground %s, Sa(1 s) %.2f g at %g years", a.Site.Class, sp.Sa(1), years)
	line("-> archetype", "period %.2f s, strength %.3f of the weight, life safety to %.1f %% drift",
		arch.Period, arch.StrengthRatio, 100*arch.Limits.LifeSafety)
	line("-> as it stands", "drift %.1f %%, largest floor acceleration %.2f g", 100*as.DriftRatio,
		as.PeakAccel/hazard.Gravity)
	line("-> "+o.Measure.Slug(), "drift %.1f %%, %.2f g, for about %s %s, verdict %s", 100*with.DriftRatio,
		with.PeakAccel/hazard.Gravity, output.Short(o.Cost.Likely), currency, o.Verdict)
	line("-> worth", "annual loss %s to %s %s, net benefit %s over %g years", output.Short(a.Before.Total),
		output.Short(o.After.Total), currency, output.Short(o.Benefits[0].Net), study.Plan().Consequence.LifeYears)
	line("-> ranked", "against every other building by net benefit; the files say why, and how sure")
	out.WriteString("\n")
	return out.String()
}
