package report

import (
	"bytes"
	"fmt"
	"html/template"
	"image/color"
	"math"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"plinth/pipeline/output"
	"plinth/retrofit"
)

// maxMarks is the largest number of buildings drawn in a chart.
const maxMarks = 1000

// ink is the colour of lines and letters. The page replaces it by the colour of its own text, light
// or dark. It is not quite black, since SVG leaves black unsaid.
var ink = color.RGBA{1, 1, 1, 255}

// sans returns the font of the charts.
func sans(size vg.Length) font.Font {
	return font.Font{Typeface: "Liberation", Variant: "Sans", Size: size}
}

// newPlot returns a plain plot with room for the letters of the page.
func newPlot(x, y string) *plot.Plot {
	p := plot.New()
	p.X.Label.Text, p.Y.Label.Text = x, y
	for _, a := range []*plot.Axis{&p.X, &p.Y} {
		a.Label.TextStyle.Font, a.Tick.Label.Font = sans(11), sans(10)
		a.Label.Padding = 4
		a.LineStyle.Width, a.Tick.LineStyle.Width = 0.75, 0.75
	}
	p.Legend.TextStyle.Font = sans(10)
	p.Legend.Padding, p.Legend.ThumbnailWidth = 3, 14
	return p
}

// treatedOf returns the foremost buildings that have a measure with a cost.
func treatedOf(s *Stock) []output.Building {
	var out []output.Building
	for _, b := range s.buildings {
		if hasMeasure(&b) && b.BestCostLikely > 0 && !math.IsNaN(b.BestNetBenefit) {
			out = append(out, b)
		}
	}
	return out
}

// costBenefit draws the benefit of the best measures against their cost, on scales that double
// alike. A measure above the line is worth more than it costs. Without buildings there is no chart.
func costBenefit(bs []output.Building, m money) (chart, error) {
	p := newPlot("Likely cost, "+m.name, "Loss avoided, "+m.name)
	p.X.Scale, p.Y.Scale = plot.LogScale{}, plot.LogScale{}
	p.X.Tick.Marker, p.Y.Tick.Marker = plot.TickerFunc(decades), plot.TickerFunc(decades)
	low, high := math.Inf(1), math.Inf(-1)
	drawn := 0
	for _, k := range retrofit.Kinds() {
		var xys plotter.XYs
		for j := range bs[:min(len(bs), maxMarks)] {
			x, y := bs[j].BestCostLikely/m.unit, (bs[j].BestCostLikely+bs[j].BestNetBenefit)/m.unit
			if bs[j].Best == k.Slug && y > 0 {
				xys = append(xys, plotter.XY{X: x, Y: y})
				low, high = min(low, x, y), max(high, x, y)
			}
		}
		if len(xys) == 0 {
			continue
		}
		drawn += len(xys)
		points, err := plotter.NewScatter(xys)
		if err != nil {
			return chart{}, err
		}
		points.GlyphStyle = draw.GlyphStyle{Color: k.Mark.Colour, Radius: 3.5, Shape: newMark(k.Slug, k.Mark)}
		p.Add(points)
		p.Legend.Add(k.Name, points)
	}
	if drawn == 0 {
		return chart{}, nil
	}
	low, high = low/1.3, high*1.3
	line, err := plotter.NewLine(plotter.XYs{{X: low, Y: low}, {X: high, Y: high}})
	if err != nil {
		return chart{}, err
	}
	line.Width, line.Color, line.Dashes = 1, ink, []vg.Length{4, 3}
	p.Add(line)
	p.Legend.Add("benefit equals cost", line)
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = low, high, low, high
	svg, err := drawSVG(p, 15, 11)
	return chart{
		Title: "What each measure costs and what it saves",
		Alt: fmt.Sprintf("Scatter chart of %d buildings with a measure: likely cost across, present value of "+
			"the loss avoided up, both on logarithmic scales, with a dashed line where they are equal.", drawn),
		Caption: "One mark is one building with its first choice; the loss avoided is its present value. Above " +
			"the dashed line the loss avoided is worth more than the likely cost; twice as far up is worth twice as " +
			"much.",
		SVG: svg,
	}, err
}

// running draws net benefit against money spent, both summed down the list.
func running(bs []output.Building, m money) (chart, error) {
	if len(bs) < 2 {
		return chart{}, nil
	}
	p := newPlot("Likely cost so far, "+m.name, "Net benefit so far, "+m.name)
	p.X.Tick.Marker, p.Y.Tick.Marker = plot.TickerFunc(even), plot.TickerFunc(even)
	xys := plotter.XYs{{X: 0, Y: 0}}
	var cost, benefit float64
	step := 1 + len(bs)/maxMarks
	for i := range bs {
		cost += bs[i].BestCostLikely / m.unit
		benefit += bs[i].BestNetBenefit / m.unit
		if i%step == 0 || i == len(bs)-1 {
			xys = append(xys, plotter.XY{X: cost, Y: benefit})
		}
	}
	line, err := plotter.NewLine(xys)
	if err != nil {
		return chart{}, err
	}
	line.Width, line.Color = 2, color.RGBA{0, 114, 178, 255}
	p.Add(line)
	if ten := min(10, len(bs)); step == 1 {
		first, err := plotter.NewScatter(xys[ten : ten+1])
		if err != nil {
			return chart{}, err
		}
		first.GlyphStyle = draw.GlyphStyle{Color: color.RGBA{213, 94, 0, 255}, Radius: 4.5,
			Shape: draw.PyramidGlyph{}}
		p.Add(first)
		p.Legend.Add("after the first ten", first)
	}
	p.X.Min, p.Y.Min = 0, min(0, p.Y.Min)
	svg, err := drawSVG(p, 15, 11)
	return chart{
		Title: "How far down the list the money goes",
		Alt: fmt.Sprintf("Line chart: going down the ranking, the summed net benefit against the summed "+
			"likely cost, ending at %s and %s %s.", twoDigits(benefit), twoDigits(cost), m.name),
		Caption: "Measures are taken in order of rank, one building after the other. Where the line runs flat, " +
			"more money buys little; where it falls, it buys less than it costs.",
		SVG: svg,
	}, err
}

// decades returns ticks at 1, 2 and 5 times the powers of ten, with commas between thousands.
func decades(low, high float64) []plot.Tick {
	var out []plot.Tick
	for e := math.Floor(math.Log10(low)); e <= math.Ceil(math.Log10(high)); e++ {
		for _, k := range [...]float64{1, 2, 5} {
			if v := k * math.Pow(10, e); v >= low && v <= high {
				out = append(out, plot.Tick{Value: v, Label: twoDigits(v)})
			}
		}
	}
	return out
}

// even returns the ticks of the plotting library with commas in their labels.
func even(low, high float64) []plot.Tick {
	out := plot.DefaultTicks{}.Ticks(low, high)
	for i := range out {
		if !out[i].IsMinor() {
			out[i].Label = digits(out[i].Value, 3)
		}
	}
	return out
}

// drawSVG returns p as an SVG element of w by h centimetres for use in a page. It has no
// background, and black becomes the colour of the page's text.
func drawSVG(p *plot.Plot, w, h vg.Length) (template.HTML, error) {
	p.BackgroundColor = nil
	to, err := p.WriterTo(w*vg.Centimeter, h*vg.Centimeter, "svg")
	if err != nil {
		return "", err
	}
	var b bytes.Buffer
	if _, err := to.WriteTo(&b); err != nil {
		return "", err
	}
	s := b.String()
	s = s[strings.Index(s, "<svg"):]
	end := strings.Index(s, ">")
	box := s[strings.Index(s, "viewBox"):end]
	box = box[:strings.Index(box[9:], `"`)+10]
	s = `<svg ` + box + ` aria-hidden="true" focusable="false"` + s[end:]
	s = strings.NewReplacer("#000000", "currentColor", "#010101", "currentColor", "font-family:Liberation Sans;",
		`font-family:Liberation Sans,Arial,Helvetica,sans-serif;fill:currentColor;`).Replace(s)
	return template.HTML(s), nil // made above from numbers and words of our own
}
