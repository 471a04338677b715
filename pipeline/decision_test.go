package pipeline

import (
	"bytes"
	"context"
	"fmt"
	"image/color"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"

	"plinth/pipeline/assess"
	"plinth/pipeline/budget"
	"plinth/pipeline/inspect"
	"plinth/pipeline/internal/town"
	"plinth/pipeline/internal/trial"
	"plinth/pipeline/output"
	"plinth/pipeline/screen"
)

// A decision is the worked decision of the demo town.
type decision struct {
	list     []map[string]string // rows of buildings.csv
	screen   *screen.Result
	spending *budget.Spending
	search   *inspect.Search
}

// TestDecisionPage keeps docs/decision.md and its pictures as the program says it;
// UPDATE=1 rewrites them. Every number on the page comes from this run.
func TestDecisionPage(t *testing.T) {
	if testing.Short() {
		t.Skip("takes seconds")
	}
	study := trial.Open(t, 240, nil)
	var d decision
	var err error
	d.screen, err = screen.Stock(context.Background(), study, assess.Settings{})
	require.NoError(t, err)
	d.spending, err = budget.Choose(context.Background(), study, assess.Settings{})
	require.NoError(t, err)
	d.search, err = inspect.Find(context.Background(), study, assess.Settings{})
	require.NoError(t, err)
	out := study.Plan().Output.Folder
	b, err := os.ReadFile(filepath.Join(out, "buildings.csv"))
	require.NoError(t, err)
	d.list = town.Rows(t, b)
	frontier, err := os.ReadFile(filepath.Join(out, "budget", budget.FrontierFile))
	require.NoError(t, err)
	page := d.page(t)
	for name, want := range map[string][]byte{"decision.md": []byte(page), "decision-frontier.svg": frontier, "decision-ranks.svg": d.ranks(t)} {
		path := filepath.Join("..", "docs", name)
		if os.Getenv("UPDATE") != "" {
			require.NoError(t, os.WriteFile(path, want, 0o644))
		}
		got, err := os.ReadFile(path)
		require.NoError(t, err)
		assert.True(t, bytes.Equal(want, got), "docs/%s is not what the program says; run `make docs`", name)
	}
}

// ranks draws the rank intervals of the first thirty buildings.
func (d *decision) ranks(t *testing.T) []byte {
	p := plot.New()
	p.X.Label.Text, p.Y.Label.Text = "rank by net benefit", "rank in 5 to 95 % of draws"
	p.Add(plotter.NewGrid())
	for i, r := range d.list[:30] {
		x := float64(i + 1)
		line, err := plotter.NewLine(plotter.XYs{{X: x, Y: town.Number(t, r["rank_low"])}, {X: x, Y: town.Number(t, r["rank_high"])}})
		require.NoError(t, err)
		line.Width, line.Color = vg.Points(2.5), color.RGBA{R: 0x8f, G: 0xb0, B: 0xcc, A: 0xff}
		dot, err := plotter.NewScatter(plotter.XYs{{X: x, Y: town.Number(t, r["rank_median"])}})
		require.NoError(t, err)
		dot.Shape, dot.Radius, dot.Color = draw.CircleGlyph{}, vg.Points(2.2), color.RGBA{R: 0x1f, G: 0x4e, B: 0x79, A: 0xff}
		p.Add(line, dot)
	}
	c := vgsvg.New(16*vg.Centimeter, 8*vg.Centimeter)
	p.Draw(draw.New(c))
	var b bytes.Buffer
	_, err := c.WriteTo(&b)
	require.NoError(t, err)
	return b.Bytes()
}

// page writes the page.
func (d *decision) page(t *testing.T) string {
	var b strings.Builder
	say := func(format string, args ...any) { fmt.Fprintf(&b, format, args...) }
	c := d.screen.Summary.Counts
	say("# A worked decision: Calder Sound\n\nMade by a test from a run of the demo; do not edit. The town is invented, and so is every building.\n\n")
	say("    plinth sample town\n    plinth screen town/plan.toml\n    plinth budget town/plan.toml\n    plinth inspect town/plan.toml\n\n")
	say("%d rows were read, %d buildings assessed, %d rejected with their reasons (`rejects.csv`).\n\n", c.In, c.Out, c.Rejected)
	say("## Whom to call today\n\nIn %d buildings the person who is most inside dies of an earthquake oftener than once in 10,000 years, or a collapse that kills 50 comes oftener than once in 5,000. Their rank does not matter: ", d.screen.Summary.Now)
	say("an engineer should look at them now (column `look_now`). The first are %s.\n\n", strings.Join(d.screen.Summary.NowFirst, ", "))
	say("## Which first\n\n| rank | as it stands | by life safety | 5 to 95 %% of draws | among first 10 | building | measure | stays best | data |\n| --- | --- | --- | --- | --- | --- | --- | --- | --- |\n")
	for _, r := range d.list[:10] {
		say("| %s | %s | %s | %s to %s | %.0f %% | %s %s | %s | %.0f %% | %s |\n", r["rank"], r["rank_as_is"], r["rank_life_safety"], r["rank_low"], r["rank_high"],
			100*town.Number(t, r["top_k_frequency"]), r["building_id"], r["building_name"], r["best_measure"], 100*town.Number(t, r["best_measure_frequency"]), r["data_grade"])
	}
	say("\n![rank intervals](decision-ranks.svg)\n\nPoints are medians over 199 draws, bars hold 90 %%. ")
	group := 0
	for _, r := range d.list {
		if r["tie_group"] == "1" {
			group++
		}
	}
	say("The first tie group has %d buildings: the order among them is not known, only that work belongs there before it belongs elsewhere. ", group)
	for i, k := range d.screen.Summary.Checks {
		if i > 0 {
			say("; against ")
		} else {
			say("Against ")
		}
		say("%s Kendall's tau is %.2f and %.0f of the first %d are the same", k.Order, k.Tau, k.Overlap*float64(k.Top), k.Top)
	}
	say(".\n\n## What the money does\n\n![frontiers](decision-frontier.svg)\n\n")
	say("Spend against four benefits, each for the programme that is best for it; the dashed line is the plan's money. What `plinth budget` says:\n\n```\n")
	var text bytes.Buffer
	require.NoError(t, d.spending.Write(&text))
	say("%s```\n\n## What to find out before\n\n", strings.ReplaceAll(text.String(), "\n\n\n", "\n\n"))
	text.Reset()
	require.NoError(t, d.search.Write(&text))
	say("```\n%s```\n\n", text.String())
	d.note(t, say)
	return b.String()
}

// note writes the page an owner could sign.
func (d *decision) note(t *testing.T, say func(string, ...any)) {
	s := d.spending
	var low, high, deaths float64
	first := s.Works[0].Year
	var now []string
	for _, w := range s.Works {
		low, high, deaths = low+w.CostLow, high+w.CostHigh, deaths+w.DeathsAvoided
		if w.Year == first {
			now = append(now, w.ID)
		}
	}
	v := d.search.Visits[0]
	say("## Note for decision\n\n**Calder Sound, public and private buildings: first programme of seismic retrofit**\n\n")
	say("1. *Now*: engineers look at the %d buildings of the list `look_now`. No rank is waited for.\n", d.screen.Summary.Now)
	say("2. *This season*: the first visit, to %s, for %s. Knowing these before choosing is worth about %s %s in expectation.\n",
		strings.Join(v.Buildings, ", "), strings.Join(v.Fields, ", "), output.Short(v.Worth), s.About.Currency)
	say("3. *Programme*: design studies for %d buildings, %s %s at likely cost (%s to %s if all were low or all high) over %d years, those of %d first: %s.\n",
		len(s.Works), output.Short(s.Schedule.Spent), s.About.Currency, output.Short(low), output.Short(high), len(s.Money), first, strings.Join(now, ", "))
	say("4. *What it buys in expectation*: a net benefit of %s %s and %.1f deaths avoided over 50 years. No other programme of the same money gains more than %s.\n",
		output.Short(s.Schedule.Gain), s.About.Currency, deaths, output.Short(s.Schedule.Bound))
	say("5. *What it does not say*: the first building of the list is among the first ten in %.0f %% of draws. The order may change with what the visits find, and the programme is run again then.\n",
		100*town.Number(t, d.list[0]["top_k_frequency"]))
	say("6. *Not covered*: %s Costs leave out decanting, asbestos, access and fire upgrades.\n\n", "fault rupture, liquefaction, landslide, tsunami, fire after earthquake.")
	say("%s\n\nReviewed by a licensed engineer (name, registration, no interest in the property): ______________________\n\nDecided by the owner: ______________________  Date: ______________\n", output.Caution)
}
