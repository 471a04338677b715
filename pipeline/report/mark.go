package report

import (
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"plinth/pipeline/output"
	"plinth/retrofit"
)

// A mark is the glyph of a measure, in charts here and on the map by map.js: lines through points
// in radii of the mark, y upwards.
type mark struct {
	Measure string         `json:"measure"`
	Lines   [][][2]float64 `json:"lines"`
	Closed  bool           `json:"closed"` // lines round an area; else strokes
	Hollow  bool           `json:"hollow"` // the area is not filled
}

// marks returns the marks of the measures, and a hollow dot for a building for which no measure
// could be judged.
func marks() []mark {
	var out []mark
	for _, k := range retrofit.Kinds() {
		out = append(out, newMark(k.Slug, k.Mark))
	}
	return append(out, newMark("", retrofit.Mark{Shape: retrofit.Dot, Hollow: true}))
}

// newMark returns the mark of a measure. It panics for a shape that it cannot draw.
func newMark(slug string, m retrofit.Mark) mark {
	out := mark{Measure: slug, Closed: true, Hollow: m.Hollow}
	switch m.Shape {
	case retrofit.Dot:
		out.Lines = [][][2]float64{polygon(0.62)}
	case retrofit.Circle:
		out.Lines = [][][2]float64{polygon(1)}
	case retrofit.Square:
		out.Lines = [][][2]float64{{{-0.9, -0.9}, {0.9, -0.9}, {0.9, 0.9}, {-0.9, 0.9}}}
	case retrofit.Diamond:
		out.Lines = [][][2]float64{{{0, 1.2}, {1.2, 0}, {0, -1.2}, {-1.2, 0}}}
	case retrofit.Triangle:
		out.Lines = [][][2]float64{{{0, 1.2}, {1.15, -0.9}, {-1.15, -0.9}}}
	case retrofit.Plus:
		out.Closed = false
		out.Lines = [][][2]float64{{{-1.1, 0}, {1.1, 0}}, {{0, -1.1}, {0, 1.1}}}
	case retrofit.Cross:
		out.Closed = false
		out.Lines = [][][2]float64{{{-0.85, -0.85}, {0.85, 0.85}}, {{-0.85, 0.85}, {0.85, -0.85}}}
	default:
		panic("report: a mark of a shape that is not drawn")
	}
	return out
}

// polygon returns a polygon that looks like a circle at the size of a mark.
func polygon(radius float64) [][2]float64 {
	out := make([][2]float64, 24)
	for i := range out {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(len(out)))
		out[i] = [2]float64{output.Round(radius*cos, 3), output.Round(radius*sin, 3)}
	}
	return out
}

// Widths of lines. They are wide enough to show their colour.
const (
	strokeWidth  = vg.Length(1.5)
	outlineWidth = vg.Length(1.2)
)

// DrawGlyph draws the mark in a chart.
func (m mark) DrawGlyph(c *draw.Canvas, style draw.GlyphStyle, at vg.Point) {
	width := strokeWidth
	if m.Closed {
		width = outlineWidth
	}
	c.SetLineStyle(draw.LineStyle{Color: style.Color, Width: width})
	for _, line := range m.Lines {
		var p vg.Path
		for i, q := range line {
			to := at.Add(vg.Point{X: vg.Length(q[0]) * style.Radius, Y: vg.Length(q[1]) * style.Radius})
			if i == 0 {
				p.Move(to)
			} else {
				p.Line(to)
			}
		}
		if m.Closed {
			p.Close()
		}
		if m.Closed && !m.Hollow {
			c.SetColor(style.Color)
			c.Fill(p)
		} else {
			c.Stroke(p)
		}
	}
}
