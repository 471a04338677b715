package report

import (
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg/draw"

	"plinth/hazard"
	"plinth/retrofit/history"
)

// A profile is one quantity over the height by both methods.
type profile struct {
	spectral []float64
	history  []history.Spread
	band     float64 // ln standard deviation stated for the largest
}

// times multiplies the elements of the profile by the factors that by returns.
func (p *profile) times(by func(i int) float64) {
	for i := range p.spectral {
		p.spectral[i] *= by(i)
		p.history[i].Median *= by(i)
	}
}

// drifts returns the storey drifts in % of the storey height.
func (s *Subject) drifts(st *Stand) profile {
	c := st.Check
	p := profile{append([]float64(nil), c.Spectral.Drift...), append([]history.Spread(nil), c.History.Drift...),
		c.Compared[history.StoreyDrift].Band}
	p.times(func(i int) float64 { return 100 / s.Height[i] })
	return p
}

// accels returns the floor accelerations in g, the ground floor first.
func accels(st *Stand) profile {
	c := st.Check
	p := profile{append([]float64{c.Spectral.BaseAccel}, c.Spectral.Accel...),
		append([]history.Spread{c.History.BaseAccel}, c.History.Accel...), c.Compared[history.FloorAccel].Band}
	p.times(func(int) float64 { return 1 / hazard.Gravity })
	return p
}

// most returns the largest finite value of p, its bands and spreads included.
func (p *profile) most() float64 {
	most := 0.0
	for i, v := range p.spectral {
		h := p.history[i]
		most = max(most, known(v*math.Exp(p.band)), known(h.Median*math.Exp(known(h.Dispersion))))
	}
	return most
}

// driftPanels returns a function that draws the drifts of a stand, all to one scale.
func (s *Subject) driftPanels() func(*Stand) (panel, error) {
	levels, most := s.levels(), 0.0
	for i := range s.Stands {
		d := s.drifts(&s.Stands[i])
		most = max(most, d.most())
	}
	var middle []float64
	for i, h := range s.Height {
		middle = append(middle, levels[i]+h/2)
	}
	return func(st *Stand) (panel, error) {
		return drawProfile("Storey drift, %", s.drifts(st), middle, levels[len(levels)-1], most, st)
	}
}

// accelPanels returns a function that draws the accelerations of a stand, all to one scale.
func (s *Subject) accelPanels() func(*Stand) (panel, error) {
	levels, most := s.levels(), 0.0
	for i := range s.Stands {
		a := accels(&s.Stands[i])
		most = max(most, a.most())
	}
	return func(st *Stand) (panel, error) {
		return drawProfile("Floor acceleration, g", accels(st), levels, levels[len(levels)-1], most, st)
	}
}

// drawProfile draws both methods over the height.
func drawProfile(x string, q profile, at []float64, height, most float64, st *Stand) (panel, error) {
	p := small(x, "Height, m")
	var line, band plotter.XYs
	worst := 0
	for i, v := range q.spectral {
		line = append(line, plotter.XY{X: v, Y: at[i]})
		band = append(band, plotter.XY{X: v * math.Exp(-q.band), Y: at[i]})
		if v > q.spectral[worst] {
			worst = i
		}
	}
	for i := len(line) - 1; i >= 0; i-- {
		band = append(band, plotter.XY{X: line[i].X * math.Exp(q.band), Y: line[i].Y})
	}
	if q.band > 0 && len(line) > 1 {
		shade, err := plotter.NewPolygon(band)
		if err != nil {
			return panel{}, err
		}
		shade.Color, shade.LineStyle.Width = bandColour, 0
		p.Add(shade)
	}
	if err := stroke(p, line, spectralColour, 2); err != nil {
		return panel{}, err
	}
	if len(line) == 1 { // one storey: a mark, and the band as a bar
		if err := stroke(p, band, bandColour, 6); err != nil {
			return panel{}, err
		}
		if err := dots(p, line, spectralColour, draw.BoxGlyph{}); err != nil {
			return panel{}, err
		}
	}
	if err := addSpreads(p, q.history, at); err != nil {
		return panel{}, err
	}
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, 1.05*most, 0, height
	return finish(p, "%s over the height, %s: spectral at most %s, median of the records there %s.", x,
		st.name(), twoDigits(q.spectral[worst]), median(q.history[worst].Median))
}

// median returns a median in words. It is "endless" if most records bring the building down.
func median(v float64) string {
	if math.IsInf(v, 1) {
		return "collapse"
	}
	return twoDigits(v)
}

// addSpreads draws medians with their spread.
func addSpreads(p *plot.Plot, spreads []history.Spread, at []float64) error {
	var middle plotter.XYs
	for i, h := range spreads {
		if math.IsNaN(h.Median - h.Median) {
			continue
		}
		middle = append(middle, plotter.XY{X: h.Median, Y: at[i]})
		if d := known(h.Dispersion); d > 0 {
			err := stroke(p, plotter.XYs{{X: h.Median * math.Exp(-d), Y: at[i]},
				{X: h.Median * math.Exp(d), Y: at[i]}}, ink, 1)
			if err != nil {
				return err
			}
		}
	}
	return dots(p, middle, ink, draw.CircleGlyph{})
}
