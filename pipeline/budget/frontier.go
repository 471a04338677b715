package budget

import (
	"errors"
	"image/color"
	"io"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"

	"plinth/pipeline/output"
)

// FrontierFile is the name of the picture of a budget.
const FrontierFile = "frontier.svg"

// writeFrontier writes the frontiers of spend against each benefit, one panel each, with
// the budget as a line.
func (s *Spending) writeFrontier(set *output.Set) error {
	f, err := set.Create(FrontierFile)
	if err != nil {
		return err
	}
	return errors.Join(s.draw(f), f.Close())
}

var frontTitles = map[string]string{
	"net-benefit": "net benefit, millions", "life-safety": "deaths avoided over the life",
	"contents": "contents loss avoided, millions", "continuity": "days closed avoided, thousands",
}

var frontScale = map[string]float64{"net-benefit": 1e6, "life-safety": 1, "contents": 1e6, "continuity": 1e3}

func (s *Spending) draw(to io.Writer) error {
	const width, height = 18 * vg.Centimeter, 13 * vg.Centimeter
	canvas := vgsvg.New(width, height)
	tiles := draw.Tiles{Rows: 2, Cols: 2, PadX: 6 * vg.Millimeter, PadY: 6 * vg.Millimeter,
		PadTop: 2 * vg.Millimeter, PadRight: 4 * vg.Millimeter}
	whole := draw.New(canvas)
	var budget float64
	for _, m := range s.Money {
		budget += m
	}
	for i := range s.Fronts {
		p, err := s.Fronts[i].plot(budget, s.About.Currency)
		if err != nil {
			return err
		}
		p.Draw(tiles.At(whole, i%2, i/2))
	}
	_, err := canvas.WriteTo(to)
	return err
}

// plot draws one frontier.
func (f *Front) plot(budget float64, currency string) (*plot.Plot, error) {
	p := plot.New()
	scale := frontScale[f.Objective.Slug]
	var line plotter.XYs
	for _, q := range f.Points {
		line = append(line, plotter.XY{X: q.Spent / 1e6, Y: q.Gain / scale})
	}
	l, err := plotter.NewLine(line)
	if err != nil {
		return nil, err
	}
	l.Width, l.Color = vg.Points(1.4), color.RGBA{R: 0x1f, G: 0x4e, B: 0x79, A: 0xff}
	top := line[len(line)-1].Y
	mark, err := plotter.NewLine(plotter.XYs{{X: budget / 1e6, Y: 0}, {X: budget / 1e6, Y: top}})
	if err != nil {
		return nil, err
	}
	mark.Dashes, mark.Color = []vg.Length{vg.Points(3), vg.Points(2)}, color.Gray{Y: 0x60}
	p.Add(plotter.NewGrid(), l, mark)
	p.X.Label.Text, p.Y.Label.Text = "spent, millions of "+currency, frontTitles[f.Objective.Slug]
	return p, nil
}
