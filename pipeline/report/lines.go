package report

import (
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/simplify"
	"gonum.org/v1/plot/plotter"
)

// lineTolerance is the largest distance of a drawn line from a point that it leaves out, over the
// range of the line in that direction. It is a fifth of the width of a pen in a panel.
const lineTolerance = 1e-3

// thin leaves out the points of a line that are within lineTolerance of the line without them, by
// Douglas and Peucker 1973. The ends and the extremes in both directions stay.
func thin(line plotter.XYs) plotter.XYs {
	if len(line) < 3 {
		return line
	}
	xmin, xmax, ymin, ymax := plotter.XYRange(line)
	scale := func(low, high float64) float64 { return 1 / max(high-low, 1e-300) }
	inX, inY := scale(xmin, xmax), scale(ymin, ymax)
	keep := []int{0, len(line) - 1}
	for _, is := range []func(plotter.XY) bool{
		func(p plotter.XY) bool { return p.X == xmin }, func(p plotter.XY) bool { return p.X == xmax },
		func(p plotter.XY) bool { return p.Y == ymin }, func(p plotter.XY) bool { return p.Y == ymax },
	} {
		keep = append(keep, slices.IndexFunc(line, is))
	}
	slices.Sort(keep)
	keep = slices.Compact(keep)
	out := plotter.XYs{line[0]}
	for i := 1; i < len(keep); i++ {
		var part orb.LineString
		for _, p := range line[keep[i-1] : keep[i]+1] {
			part = append(part, orb.Point{p.X * inX, p.Y * inY})
		}
		for _, p := range simplify.DouglasPeucker(lineTolerance).LineString(part)[1:] {
			out = append(out, plotter.XY{X: p[0] / inX, Y: p[1] / inY})
		}
		out[len(out)-1] = line[keep[i]] // to the last digit
	}
	return out
}
