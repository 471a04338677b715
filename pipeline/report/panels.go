package report

import (
	"fmt"
	"image/color"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"plinth/hazard"
	"plinth/retrofit/history"
)

// A Portrait shows a building of a confirmation in pictures: rows of small panels, one for each
// stand, and a film of all stands.
type Portrait struct {
	Rank              int64
	ID, Title, Record string
	Rows              []panelRow

	NoFilm string // why there is no film

	film []byte
}

// Portray draws s. portraits is the number of portraits on the page.
func Portray(s *Subject, portraits int) (*Portrait, error) {
	out := &Portrait{Rank: s.Rank, ID: s.ID, Title: s.title(), Record: s.Record}
	var err error
	if out.Rows, err = s.pictures(); err != nil {
		return nil, err
	}
	room := filmBytes / max(1, portraits)
	if out.film, err = s.reel(room); out.film == nil {
		out.NoFilm = fmt.Sprintf("even %d s of it would take more than the %d kB that this page has for each "+
			"building. A plan with fewer confirm.pictures leaves more.", filmLeast, room>>10)
	}
	return out, err
}

// A panelRow shows one quantity for every stand.
type panelRow struct {
	Title, Caption string
	Panels         []panel
}

// A panel is one picture. If there is none, Note says why.
type panel struct {
	chart
	Note string
}

// Colours of both methods, from the palette of M. Okabe and K. Ito as those of the marks.
var (
	spectralColour = color.RGBA{0, 114, 178, 255}
	bandColour     = color.NRGBA{86, 180, 233, 90}
	loopColour     = color.RGBA{213, 94, 0, 255}
	groundColour   = color.NRGBA{128, 128, 128, 160}
)

// pictures draws the rows of panels of a subject.
func (s *Subject) pictures() ([]panelRow, error) {
	var out []panelRow
	for _, row := range []struct {
		title, caption string
		draw           func(*Stand) (panel, error)
	}{
		{"Storey drift over the height",
			"Line and shade: spectral value and the band stated for the largest. Dots and whiskers: median of the " +
				"records and one standard deviation of their logarithms. The same scale for all.", s.driftPanels()},
		{"Floor acceleration over the height", "The same for floors, the ground floor included.", s.accelPanels()},
		{"The storey with the largest drift",
			"Force in the frame's storey over the weight of the building, against its drift, under the record that " +
				"stands for the others. Wide loops are energy taken by the frame, which is damage. The same scale for " +
				"all.", s.loopPanels()},
		{"Isolators and devices", "Force in them over the weight of the building against the movement across " +
			"them: of the isolation plane, of the devices of that storey, or of the tuned mass. Each on its own " +
			"scale.", s.devicePanel},
		{"The roof in time", "Movement of the roof against the foot of the frame, under the same record. The " +
			"same " +
			"scale for all.", s.roofPanels()},
		{"Acceleration of the roof in time", "Absolute; grey is the ground. The same scale for all.",
			s.roofAccelPanels()},
	} {
		r := panelRow{Title: row.title, Caption: row.caption}
		for i := range s.Stands {
			p, err := row.draw(&s.Stands[i])
			if err != nil {
				return nil, err
			}
			p.Title = s.Stands[i].name()
			r.Panels = append(r.Panels, p)
		}
		out = append(out, r)
	}
	return out, nil
}

// small returns an empty plot of the size of a panel. Its numbers have signs and commas.
func small(x, y string) *plot.Plot {
	p := newPlot(x, y)
	p.X.Tick.Marker, p.Y.Tick.Marker = plot.TickerFunc(even), plot.TickerFunc(even)
	grid := plotter.NewGrid()
	grid.Vertical.Color, grid.Horizontal.Color = color.NRGBA{128, 128, 128, 60}, color.NRGBA{128, 128, 128, 60}
	p.Add(grid)
	return p
}

// finish draws p as a panel with the given alternative text.
func finish(p *plot.Plot, alt string, args ...any) (panel, error) {
	svg, err := drawSVG(p, 9, 6.5)
	return panel{chart: chart{Alt: fmt.Sprintf(alt, args...), SVG: svg}}, err
}

// stroke adds to p a line through the points that matter (see thin).
func stroke(p *plot.Plot, line plotter.XYs, c color.Color, width vg.Length) error {
	l, err := plotter.NewLine(thin(line))
	if err != nil {
		return err
	}
	l.Color, l.Width = c, width
	p.Add(l)
	return nil
}

// dots adds marks to p. It adds nothing if there are no points.
func dots(p *plot.Plot, at plotter.XYs, c color.Color, shape draw.GlyphDrawer) error {
	if len(at) == 0 {
		return nil
	}
	d, err := plotter.NewScatter(at)
	if err != nil {
		return err
	}
	d.GlyphStyle = draw.GlyphStyle{Color: c, Radius: 2.5, Shape: shape}
	p.Add(d)
	return nil
}

// path returns the line of two series of a Series, each divided by its unit.
func path(x []float64, inX float64, y []float64, inY float64) plotter.XYs {
	out := make(plotter.XYs, len(x))
	for i := range x {
		out[i] = plotter.XY{X: x[i] / inX, Y: y[i] / inY}
	}
	return out
}

// loopPanels returns a function that draws the loops of the storey with the largest drift of a
// stand. All loops have one scale.
func (s *Subject) loopPanels() func(*Stand) (panel, error) {
	var drift, force float64
	for i := range s.Stands {
		st := &s.Stands[i]
		k := s.worst(st)
		drift = max(drift, 100*st.Peaks.Drift[k]/s.Height[k])
		for _, f := range st.Series.Floors()[k].Spring {
			force = max(force, math.Abs(f)/s.Weight)
		}
	}
	return func(st *Stand) (panel, error) {
		i := s.worst(st)
		t := &st.Series.Floors()[i]
		p := small(fmt.Sprintf("Drift of storey %d, %%", i+1), "Force over weight")
		if err := stroke(p, path(t.Drift, s.Height[i]/100, t.Spring, s.Weight), loopColour, 1); err != nil {
			return panel{}, err
		}
		p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = -1.05*drift, 1.05*drift, -1.05*force, 1.05*force
		return finish(p, "Loops of force against drift of storey %d, %s: drift up to %s %%.", i+1, st.name(),
			twoDigits(100*st.Peaks.Drift[i]/s.Height[i]))
	}
}

// devicePanel draws the loops of isolators, devices or a tuned mass.
func (s *Subject) devicePanel(st *Stand) (panel, error) {
	name, t := "Movement of the isolators, cm", st.Series.Isolators()
	var force []float64
	switch st.Check.Kind {
	case history.LeadRubber, history.Slider:
		force = t.Spring
	case history.TunedMass:
		if t = st.Series.TunedMass(); t == nil {
			return panel{Note: "The tuned mass has no weight."}, nil
		}
		name = "Movement of the tuned mass, cm"
		for i := range t.Spring {
			force = append(force, t.Spring[i]+t.Device[i])
		}
	case history.ViscousLinear, history.ViscousNonlinear, history.Yielding:
		i := s.worst(st)
		t = &st.Series.Floors()[i]
		name, force = fmt.Sprintf("Movement of the devices of storey %d, cm", i+1), t.Device
	default:
		return panel{Note: "There are none."}, nil
	}
	p := small(name, "Force over weight")
	if err := stroke(p, path(t.Drift, 0.01, force, s.Weight), loopColour, 1); err != nil {
		return panel{}, err
	}
	most := 0.0
	for _, x := range t.Drift {
		most = max(most, math.Abs(x))
	}
	return finish(p, "Loops of force against movement, %s: up to %s cm.", st.name(), twoDigits(100*most))
}

// roofPanels returns a function that draws the movement of the roof, all to one scale.
func (s *Subject) roofPanels() func(*Stand) (panel, error) {
	most := 0.0
	for i := range s.Stands {
		most = max(most, 100*s.Stands[i].Peaks.Roof)
	}
	return func(st *Stand) (panel, error) {
		p := small("Time, s", "Roof, cm")
		if err := stroke(p, path(st.Series.Time, 1, st.Series.Roof, 0.01), spectralColour, 1); err != nil {
			return panel{}, err
		}
		p.Y.Min, p.Y.Max = -1.05*most, 1.05*most
		return finish(p, "Movement of the roof in time, %s: up to %s cm.", st.name(), twoDigits(100*st.Peaks.Roof))
	}
}

// roofAccelPanels returns a function that draws the acceleration of the roof, all to one scale.
func (s *Subject) roofAccelPanels() func(*Stand) (panel, error) {
	roof := len(s.Height)
	most := 0.0
	for i := range s.Stands {
		most = max(most, s.Stands[i].Peaks.PeakAccel/hazard.Gravity)
	}
	return func(st *Stand) (panel, error) {
		p := small("Time, s", "Roof, g")
		ground := path(st.Series.Time, 1, st.Series.Ground, hazard.Gravity)
		if err := stroke(p, ground, groundColour, 1); err != nil {
			return panel{}, err
		}
		above := path(st.Series.Time, 1, st.floorAccel(roof), hazard.Gravity)
		if err := stroke(p, above, spectralColour, 1); err != nil {
			return panel{}, err
		}
		p.Y.Min, p.Y.Max = -1.05*most, 1.05*most
		return finish(p, "Acceleration of the roof in time, %s: up to %s g.", st.name(),
			twoDigits(st.Peaks.Accel[roof-1]/hazard.Gravity))
	}
}
