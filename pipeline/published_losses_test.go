package pipeline

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"

	"plinth/archetypes"
	"plinth/pipeline/assess"
	"plinth/pipeline/internal/trial"
	"plinth/pipeline/inventory"
	"plinth/retrofit/consequence"
)

// TestLossesBesidePublishedOnes holds the table of docs/methods/consequence.md that has the annual
// losses and deaths of the demo beside published ranges. UPDATE=1 rewrites it. Nothing is tuned to
// the ranges.
func TestLossesBesidePublishedOnes(t *testing.T) {
	const begin, end = "<!-- beside published values: make docs rewrites what follows -->\n",
		"<!-- /beside published values -->"
	path := filepath.Join("..", "docs", "methods", "consequence.md")
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	before, rest, found := strings.Cut(string(text), begin)
	require.True(t, found)
	_, after, found := strings.Cut(rest, end)
	require.True(t, found)
	want := before + begin + lossTable(t, trial.Open(t, 240, nil)) + end + after
	if os.Getenv("UPDATE") != "" {
		require.NoError(t, os.WriteFile(path, []byte(want), 0o644))
		return
	}
	require.Equal(t, want, string(text), "run `make docs`")
}

// A stockLoss sums the annual values of part of a stock.
type stockLoss struct {
	value, loss, repair, people, dead, street float64
	risk                                      []float64 // of one person always inside, one a building
	collapse                                  []float64 // probability in the design shaking, one a building
}

func (s *stockLoss) add(a *assess.Assessment, inside float64) {
	b := &a.Before
	s.value, s.loss = s.value+a.Building.Value, s.loss+b.Total
	s.repair += b.Structure + b.DriftFitOut + b.AccelFitOut
	s.people, s.dead, s.street = s.people+inside, s.dead+b.Dead, s.street+b.Street
	s.risk = append(s.risk, b.DeathRisk)
	var level consequence.Level
	var loss consequence.Loss
	a.Level(&a.AsIs[a.Study().Design()], &level)
	a.Study().Model().At(&a.Exposure, &level, &loss)
	s.collapse = append(s.collapse, loss.Collapse)
}

// lossTable returns the table for the stock of a study as it stands.
func lossTable(t *testing.T, study *assess.Study) string {
	var all stockLoss
	part := map[archetypes.System]*stockLoss{archetypes.TimberFrame: {}, archetypes.MasonryUnreinforced: {},
		archetypes.ConcreteFrame: {}, archetypes.ConcreteFrameInfilled: {}, archetypes.ConcreteWall: {}}
	reader, err := study.Register(t.Context())
	require.NoError(t, err)
	defer reader.Close()
	var raw inventory.Raw
	var batch inventory.Batch
	a := study.NewAssessment()
	for {
		if err = reader.Read(&raw, &batch); errors.Is(err, io.EOF) {
			break
		}
		require.NoError(t, err)
		for i := range batch.Buildings {
			b := &batch.Buildings[i]
			if a.Assess(b) != nil {
				continue
			}
			inside := study.Model().MeanOccupants(b.OccupantsDay, b.OccupantsNight)
			all.add(a, inside)
			if p := part[b.System]; p != nil {
				p.add(a, inside)
			}
		}
	}
	slices.Sort(all.risk)
	timber, masonry := part[archetypes.TimberFrame], part[archetypes.MasonryUnreinforced]
	var out strings.Builder
	row := func(what, here, published string) { fmt.Fprintf(&out, "| %s | %s | %s |\n", what, here, published) }
	ratio := func(s *stockLoss) string { return fmt.Sprintf("%.2f %%", 100*s.repair/s.value) }
	out.WriteString("\n")
	row("of the demo, as it stands", "here", "elsewhere")
	row("---", "---", "---")
	row("annual loss over value of buildings, contents and days closed with it, all",
		fmt.Sprintf("%.2f %%", 100*all.loss/all.value), "")
	row("annual repair over value of buildings, all", ratio(&all),
		"0.1 to 0.2 %, counties of high hazard in national loss studies (from memory)")
	row("the same, timber", ratio(timber), "0.05 to 0.15 % (from memory)")
	row("the same, unreinforced masonry", ratio(masonry), "0.3 to 1 % (from memory)")
	concrete := slices.Concat(part[archetypes.ConcreteFrame].collapse,
		part[archetypes.ConcreteFrameInfilled].collapse, part[archetypes.ConcreteWall].collapse)
	row("concrete buildings that collapse in the shaking of 475 years, 0.95 g at 0.3 s",
		fmt.Sprintf("%.0f %%, a part of each", 100*stat.Mean(concrete, nil)),
		"0.24 % of 833, all ages, Christchurch 2011, 0.6 to 0.9 g (shaking from memory)")
	row("deaths inside, per person and year, all", fmt.Sprintf("%.1e", all.dead/all.people),
		"1e-6 to 1e-5, a century of earthquakes in like stocks (from memory)")
	row("the same, unreinforced masonry", fmt.Sprintf("%.1e", masonry.dead/masonry.people),
		"1e-5 to 1e-4, poor old buildings of high hazard (from memory)")
	row("one person always inside, median building", fmt.Sprintf("%.1e", all.risk[len(all.risk)/2]),
		"1e-6 new buildings, 1e-4 a limit that is tolerated for old ones (from memory)")
	row("deaths on the street over those inside masonry", fmt.Sprintf("%.2f", masonry.street/masonry.dead),
		"several times those inside: 35 and 4 of 42 killed by single buildings in Christchurch, 2011")
	out.WriteString("\n")
	return out.String()
}
