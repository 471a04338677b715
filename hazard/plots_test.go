package hazard

import (
	"bytes"
	"flag"
	"fmt"
	"image/color"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"
)

var update = flag.Bool("update", false, "write the figures of docs/methods again")

// inks tell lines apart by shade and, with dashes, in print.
var inks = []color.RGBA{
	{20, 40, 80, 255}, {180, 70, 30, 255}, {40, 120, 90, 255}, {120, 60, 130, 255}, {130, 110, 40, 255},
}

var dashes = [][]vg.Length{
	nil, {vg.Points(6), vg.Points(2)}, {vg.Points(2), vg.Points(2)},
	{vg.Points(8), vg.Points(2), vg.Points(2), vg.Points(2)}, {vg.Points(4), vg.Points(4)},
}

// A figure is one plot of docs/methods: lines by this package, marks at values
// printed elsewhere.
type figure struct {
	*plot.Plot
	lines int
}

func newFigure(title, x, y string, top float64) *figure {
	p := plot.New()
	p.Title.Text, p.X.Label.Text, p.Y.Label.Text = title, x, y
	p.Title.TextStyle.Font.Size = vg.Points(11)
	p.Title.Padding = vg.Points(6)
	p.Legend.Top = true
	p.Legend.Padding = vg.Points(3)
	p.Legend.TextStyle.Font.Size = vg.Points(9)
	p.X.Min, p.Y.Min, p.Y.Max = 0, 0, top
	grid := plotter.NewGrid()
	grid.Vertical.Color, grid.Horizontal.Color = color.Gray{225}, color.Gray{225}
	p.Add(grid)
	return &figure{Plot: p}
}

// line adds a named line through the points of f from x0 to x1, and marks in the
// same ink.
func (f *figure) line(t *testing.T, name string, x0, x1 float64, y func(x float64) float64,
	marks plotter.XYs) {
	const n = 400
	xy := make(plotter.XYs, n+1)
	for i := range xy {
		x := x0 + (x1-x0)*float64(i)/n
		xy[i] = plotter.XY{X: x, Y: y(x)}
	}
	l, err := plotter.NewLine(xy)
	require.NoError(t, err)
	ink := inks[f.lines%len(inks)]
	l.Color, l.Dashes, l.Width = ink, dashes[f.lines%len(dashes)], vg.Points(1.2)
	f.lines++
	f.Add(l)
	f.Legend.Add(name, l)
	if len(marks) > 0 {
		s, err := plotter.NewScatter(marks)
		require.NoError(t, err)
		s.Color, s.Shape, s.Radius = ink, draw.RingGlyph{}, vg.Points(2.4)
		f.Add(s)
	}
}

// check compares the figure with the file in docs/methods, or writes it.
func (f *figure) check(t *testing.T, name string) {
	c := vgsvg.New(16*vg.Centimeter, 9*vg.Centimeter)
	edge := vg.Points(6)
	f.Draw(draw.Crop(draw.New(c), edge, -2*edge, edge, -edge))
	var b bytes.Buffer
	_, err := c.WriteTo(&b)
	require.NoError(t, err)
	path := filepath.Join("..", "docs", "methods", name)
	if *update {
		require.NoError(t, os.WriteFile(path, b.Bytes(), 0o644))
	}
	have, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.True(t, bytes.Equal(have, b.Bytes()),
		"%s is out of date; run go test ./hazard -run Figures -update", path)
}

func points(x, y []float64) plotter.XYs {
	xy := make(plotter.XYs, len(x))
	for i := range xy {
		xy[i] = plotter.XY{X: x[i], Y: y[i]}
	}
	return xy
}

func TestFigures(t *testing.T) {
	t.Run("ASCE 7", func(t *testing.T) {
		f := newFigure("ASCE 7-16 two-period spectrum, SDS 1.5384 g, SD1 0.8248 g, TL 4 s", "period, s",
			"Sa, g", 1.8)
		var s Spectrum
		require.NoError(t, TwoPeriod(&s, 1.5384, 0.8248, 4))
		f.line(t, "this package; rings: printed by the USGS web service", 0, 3, s.Sa,
			points([]float64{0, 0.05, 0.10, 0.3, 0.55, 1, 2},
				[]float64{0.6154, 1.0458, 1.4762, 1.5384, 1.4996, 0.8248, 0.4124}))
		f.check(t, "hazard-asce7.svg")
	})
	t.Run("EN 1998-1", func(t *testing.T) {
		f := newFigure("EN 1998-1 type 1 elastic spectra, ag 0.25 g", "period, s", "Se, g", 1.0)
		for _, ground := range []SiteClass{'A', 'B', 'C', 'D', 'E'} {
			var s Spectrum
			require.NoError(t, Eurocode8Type1.Elastic(&s, ground, 0.25))
			var marks plotter.XYs
			if ground == 'B' {
				marks = points([]float64{0, 0.1, 0.3, 0.5, 1, 2, 3},
					[]float64{0.300, 0.600, 0.750, 0.750, 0.375, 0.1875, 0.08333})
			}
			f.line(t, "ground type "+ground.String(), 0, 4, s.Sa, marks)
		}
		f.check(t, "hazard-en1998.svg")
	})
	t.Run("NZS 1170.5", func(t *testing.T) {
		f := newFigure("NZS 1170.5 spectral shape; rings: Table 3.1", "period, s", "Ch(T)", 3.5)
		for _, class := range []SiteClass{'B', 'C', 'D', 'E'} {
			var s Spectrum
			require.NoError(t, NZS1170Site{Z: 1, R: 1, Class: class, FaultDistance: math.Inf(1)}.Fill(&s))
			f.line(t, "class "+class.String(), 0, 4.5, s.Sa, points(nzs1170Table.t, nzs1170Table.ch[class]))
		}
		f.check(t, "hazard-nzs1170.svg")
	})
	t.Run("damping", func(t *testing.T) {
		f := newFigure("Damping reduction; rings: rows of the ASCE 7-16 tables",
			"damping, fraction of critical", "B", 3)
		marks := map[string]plotter.XYs{
			"asce-7-isolation": points(isolationDamping, isolationB),
			"asce-7-dampers":   points(damperDamping[:7], damperB[:7]),
		}
		for _, slug := range []string{"asce-41", "asce-7-isolation", "asce-7-dampers", "en-1998-1", "nz"} {
			b, err := ReductionNamed(slug)
			require.NoError(t, err)
			f.line(t, slug, 0.02, 0.5, b, marks[slug])
		}
		f.Legend.Left = true
		f.check(t, "hazard-damping.svg")
	})
	t.Run("curve", func(t *testing.T) {
		f := newFigure("Hazard curve of PGA near Los Angeles (USGS 2008; rings) and a power law through "+
			"two levels", "PGA, g", "annual frequency, 1/yr", 1)
		f.X.Scale, f.Y.Scale = plot.LogScale{}, plot.LogScale{}
		f.X.Tick.Marker, f.Y.Tick.Marker = plot.LogTicks{Prec: -1}, plot.LogTicks{Prec: -1}
		f.X.Min, f.X.Max, f.Y.Min = 0.01, 2.2, 1e-5
		c := curve(t, losAngelesPGA)
		a1, _ := c.Sa(AnnualFrequency(0.10, 50))
		a2, _ := c.Sa(AnnualFrequency(0.02, 50))
		p := powerCurveThrough(a1, AnnualFrequency(0.10, 50), a2, AnnualFrequency(0.02, 50))
		f.line(t, "this package", 0.0137, 2.13, func(a float64) float64 { v, _ := c.Frequency(a); return v },
			points(losAngelesPGA[0][3:], losAngelesPGA[1][3:]))
		f.line(t, fmt.Sprintf("power law through 10 %% and 2 %% in 50 years, k = %.2f", p.k), 0.05, 2.13,
			p.frequency, nil)
		f.check(t, "hazard-curve.svg")
	})
}
