package report

import (
	"fmt"
	"html/template"
	"image/color"
	"regexp"
	"strconv"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"plinth/pipeline/output"
)

// maxIntervals is the number of buildings that are drawn with the interval of their rank.
const maxIntervals = 30

// intervals draws, for the first buildings, the rank, the interval from 5 to 95 % of the draws, and
// the group of buildings that cannot be told apart. Without draws there is no chart. Each name is a
// link to its building.
func intervals(bs []output.Building) (chart, error) {
	n := 0
	for n < min(len(bs), maxIntervals) && bs[n].RankLow != output.NoInt && bs[n].RankHigh != output.NoInt {
		n++
	}
	if n == 0 {
		return chart{}, nil
	}
	bs = bs[:n]
	p := newPlot("Rank", "")
	p.X.Tick.Marker, p.Y.Tick.Marker = plot.TickerFunc(even),
		plot.TickerFunc(func(_, _ float64) []plot.Tick { return places(n) })
	p.Y.Tick.Label.XAlign, p.Y.Tick.Length, p.Y.LineStyle.Width = text.XLeft, 0, 0
	var most int64
	for i := range bs {
		most = max(most, bs[i].RankHigh, bs[i].Rank)
	}
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, 1.1*float64(most), -0.6, float64(n)-0.4
	grid := plotter.NewGrid()
	grid.Horizontal.Width, grid.Vertical.Color = 0, color.NRGBA{128, 128, 128, 70}
	p.Add(grid)
	if err := addGroups(p, bs); err != nil {
		return chart{}, err
	}
	if err := addIntervals(p, bs); err != nil {
		return chart{}, err
	}
	svg, err := drawSVG(p, 20, vg.Length(2.6+0.55*float64(n)))
	if err != nil {
		return chart{}, err
	}
	within, apart := 0, 0
	for i := range bs {
		within += count(bs[i].RankHigh <= int64(n))
		apart += count(i > 0 && bs[i].TieGroup != bs[i-1].TieGroup)
	}
	return chart{
		Title: "How sure the order is", Wide: true, SVG: template.HTML(nameRows(string(svg), bs)),
		Caption: fmt.Sprintf("The first %d buildings. Diamond: rank by best estimate. Bar and circle: 5 to 95 %% "+
			"and median of the draws of everything uncertain. Where bars overlap, the order may turn round; %s Names "+
			"lead to the buildings.",
			n, groupWords(bs[0].TieGroup, apart)),
		Alt: fmt.Sprintf("Chart of the ranks of the first %d buildings with the interval that holds 90 %% of the "+
			"draws. For %d of them the whole interval lies among the first %d; the widest reaches rank %d.", n, within,
			n, most),
	}, nil
}

// groupWords says how many groups the rows fall into.
func groupWords(first int64, changes int) string {
	switch {
	case first == output.NoInt:
		return "no groups are known."
	case changes == 0:
		return "all of these are one group, whose order cannot be told."
	}
	return "a shaded band holds buildings that cannot be told apart from its first."
}

// row returns the height of row i of n, the first on top.
func row(i, n int) float64 { return float64(n - 1 - i) }

// addGroups shades every second group of rows and numbers all groups.
func addGroups(p *plot.Plot, bs []output.Building) error {
	n := len(bs)
	for from, odd := 0, true; from < n; odd = !odd {
		to := from
		for to < n && bs[to].TieGroup == bs[from].TieGroup {
			to++
		}
		top, foot := row(from, n)+0.5, row(to-1, n)-0.5
		if odd {
			band, err := plotter.NewPolygon(plotter.XYs{{X: 0, Y: foot}, {X: p.X.Max, Y: foot}, {X: p.X.Max, Y: top},
				{X: 0, Y: top}})
			if err != nil {
				return err
			}
			band.Color, band.LineStyle.Width = color.NRGBA{128, 128, 128, 45}, 0
			p.Add(band)
		}
		if bs[from].TieGroup != output.NoInt {
			label, err := plotter.NewLabels(plotter.XYLabels{XYs: plotter.XYs{{X: p.X.Max, Y: row(from, n)}},
				Labels: []string{"group " + strconv.FormatInt(bs[from].TieGroup, 10)}})
			if err != nil {
				return err
			}
			label.TextStyle[0].Font, label.TextStyle[0].XAlign, label.TextStyle[0].YAlign = sans(9), text.XRight,
				text.YCenter
			p.Add(label)
		}
		from = to
	}
	return nil
}

// addIntervals draws the bars and the marks.
func addIntervals(p *plot.Plot, bs []output.Building) error {
	n := len(bs)
	var rank, median plotter.XYs
	for i := range bs {
		b, y := &bs[i], row(i, n)
		bar, err := plotter.NewLine(plotter.XYs{{X: float64(b.RankLow), Y: y}, {X: float64(b.RankHigh), Y: y}})
		if err != nil {
			return err
		}
		bar.Width, bar.Color = 5, color.RGBA{86, 180, 233, 255}
		p.Add(bar)
		rank = append(rank, plotter.XY{X: float64(b.Rank), Y: y})
		median = append(median, plotter.XY{X: float64(b.RankMedian), Y: y})
	}
	for _, m := range []struct {
		at   plotter.XYs
		kind draw.GlyphDrawer
	}{{median, draw.RingGlyph{}}, {rank, diamond{}}} {
		dots, err := plotter.NewScatter(m.at)
		if err != nil {
			return err
		}
		dots.GlyphStyle = draw.GlyphStyle{Color: ink, Radius: 3.2, Shape: m.kind}
		p.Add(dots)
	}
	return nil
}

// A diamond is a glyph: a filled square that stands on its corner.
type diamond struct{}

// DrawGlyph draws the diamond.
func (diamond) DrawGlyph(c *draw.Canvas, s draw.GlyphStyle, at vg.Point) {
	c.FillPolygon(s.Color, []vg.Point{{X: at.X, Y: at.Y + s.Radius}, {X: at.X + s.Radius, Y: at.Y},
		{X: at.X, Y: at.Y - s.Radius}, {X: at.X - s.Radius, Y: at.Y}})
}

// longestName is the largest number of characters of a name beside a row.
const longestName = 28

// places returns a tick for every row, with a label that leaves room for a name.
func places(n int) []plot.Tick {
	var out []plot.Tick
	for i := range n {
		out = append(out, plot.Tick{Value: row(i, n),
			Label: fmt.Sprintf("@%02d%s", i, strings.Repeat("n", longestName-2))})
	}
	return out
}

var placeLabel = regexp.MustCompile(`(?s)<text (x="[^"]*" y="[^"]*" transform="[^"]*")([^>]*)>@(\d\d)n*</text>`)

// nameRows replaces each label by a link with the name of its building. The owner's text is made
// harmless, cut and escaped.
func nameRows(svg string, bs []output.Building) string {
	svg = strings.Replace(svg, ` aria-hidden="true" focusable="false"`, ` class="linked"`, 1)
	return placeLabel.ReplaceAllStringFunc(svg, func(label string) string {
		m := placeLabel.FindStringSubmatch(label)
		i, _ := strconv.Atoi(m[3])
		b := &bs[i]
		name := b.Name
		if name == "" {
			name = b.ID
		}
		return fmt.Sprintf(`<a href="#building-%d"><text %s text-anchor="end"%s>%d. %s</text></a>`, i, m[1], m[2],
			b.Rank, template.HTMLEscapeString(cut(shown(name), longestName)))
	})
}

// cut returns the first n characters of s, and a sign if there were more.
func cut(s string, n int) string {
	for i := range s {
		if n--; n < 0 {
			return strings.TrimSpace(s[:i]) + "\u2026"
		}
	}
	return s
}
