package retrofit

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"plinth/retrofit/demand"
)

// A panel is a part of the picture of the method: values over the height, or over the period.
type panel struct {
	*drawing
	x, width float64
	most     float64 // value at the right edge
	floors   int
}

// The panels stand on one line and are as high as the building.
const (
	panelFoot   = 350.0
	panelHeight = 240.0
)

// y returns the height of a floor on the page; 0 is the ground.
func (p panel) y(floor float64) float64 { return panelFoot - panelHeight*floor/float64(p.floors) }

// at returns the place of a value on the page.
func (p panel) at(value float64) float64 { return p.x + p.width*value/p.most }

// heading writes what a panel shows and what its axis measures.
func (p panel) heading(title, axis string) {
	p.text(p.x, 78, 13, "start", "bold", title)
	p.line(p.x, panelFoot, p.x+p.width, panelFoot, 1, inkText)
	p.line(p.x, panelFoot, p.x, panelFoot-panelHeight, 1, inkText)
	p.text(p.x+p.width, panelFoot+18, 12, "end", "normal", axis)
}

// stick draws the chain of floors and storey springs.
func (p panel) stick() {
	p.text(p.x, 78, 13, "start", "bold", "1 stick")
	middle := p.x + p.width/2
	p.line(p.x, panelFoot, p.x+p.width, panelFoot, 3, inkSoil)
	for i := range p.floors {
		foot, head := p.y(float64(i)), p.y(float64(i+1))
		step := (foot - head) / 8
		var s strings.Builder
		fmt.Fprintf(&s, "M%.1f %.1f", middle, foot)
		for j := 1; j < 8; j++ {
			side := float64(j%2*2-1) * 7
			fmt.Fprintf(&s, " L%.1f %.1f", middle+side, foot-float64(j)*step)
		}
		fmt.Fprintf(&s, " L%.1f %.1f", middle, head)
		p.path(s.String(), "none", inkFrame, 1.4)
		p.circle(middle, head, 8, inkFrame, inkFrame)
	}
	p.text(p.x, panelFoot+18, 12, "start", "normal", "m, k, V a storey")
}

// spectrum draws the spectrum with the periods of the modes.
func (p panel) spectrum(c *Case) {
	sp, modes := &c.Site.Spectra[c.Design], &c.Stick.Modes
	longest := 1.3 * modes.Period[0]
	top := 1.1 * sp.Sa(sp.TC)
	place := func(t float64) (x, y float64) {
		return p.x + p.width*t/longest, panelFoot - panelHeight*sp.Sa(t)/top
	}
	p.heading("2 modes in the spectrum", "period")
	var s strings.Builder
	for i := range 80 {
		x, y := place(longest * float64(i+1) / 80)
		fmt.Fprintf(&s, "%c%.1f %.1f", "ML"[min(i, 1)], x, y)
	}
	p.path(s.String(), "none", inkFrame, 1.6)
	for j := range modes.Count {
		x, y := place(modes.Period[j])
		p.dashed(x, y, x, panelFoot, inkNew)
		p.circle(x, y, 4, inkNew, inkNew)
		p.text(x+6, y-6, 12, "start", "normal", fmt.Sprintf("T%d", j+1))
	}
}

// drifts draws storey drift ratios, elastic and with yielding.
func (p panel) drifts(elastic, out *demand.Response, height []float64) {
	p.heading("3 storey drift", fmt.Sprintf("to %.1f %%", 100*p.most))
	for i, h := range height {
		top, bottom := p.y(float64(i)+0.82), p.y(float64(i)+0.18)
		p.rect(p.x, top, p.at(out.Drift[i]/h)-p.x, bottom-top, inkPale, inkNew)
		p.rect(p.x, top, p.at(elastic.Drift[i]/h)-p.x, bottom-top, "none", inkFrame)
	}
}

// accelerations draws the floors' accelerations, elastic and with yielding.
func (p panel) accelerations(elastic, out *demand.Response) {
	p.heading("4 floor acceleration", fmt.Sprintf("to %.1f g", p.most))
	for _, r := range []struct {
		of  *demand.Response
		ink string
	}{{elastic, inkFrame}, {out, inkNew}} {
		x, y := p.at(r.of.BaseAccel/9.80665), p.y(0)
		p.circle(x, y, 3, r.ink, r.ink)
		for i, a := range r.of.Accel {
			nextX, nextY := p.at(a/9.80665), p.y(float64(i+1))
			p.line(x, y, nextX, nextY, 1.4, r.ink)
			p.circle(nextX, nextY, 3, r.ink, r.ink)
			x, y = nextX, nextY
		}
	}
}

// The page of demand opens with the method in four steps, drawn from the values of one frame.
func TestDrawingOfTheMethod(t *testing.T) {
	c := concreteFrame.build(t)
	strong := concreteFrame
	strong.strength = 10
	elastic, out := &strong.build(t).AsIs[designLevel], &c.AsIs[designLevel]
	d := newDrawing("What shaking does to a building, in four steps")
	n := c.Stick.N()
	most := 0.0
	for _, a := range elastic.Accel {
		most = max(most, 1.05*a/9.80665)
	}
	panel{d, 30, 90, 0, n}.stick()
	panel{d, 150, 190, 0, n}.spectrum(c)
	panel{d, 380, 150, 1.05 * max(out.DriftRatio, elastic.DriftRatio), n}.drifts(elastic, out, c.Stick.Height)
	panel{d, 570, 150, most, n}.accelerations(elastic, out)
	d.line(380, 398, 404, 398, 2, inkFrame)
	d.text(410, 402, 12, "start", "normal", "if it stayed elastic")
	d.line(570, 398, 594, 398, 2, inkNew)
	d.text(600, 402, 12, "start", "normal", "as it yields")
	checkFile(t, filepath.Join("..", "methods", "demand-steps.svg"), d.bytes())

	page, err := os.ReadFile(filepath.Join("..", "docs", "methods", "demand.md"))
	require.NoError(t, err)
	require.Contains(t, string(page), "(demand-steps.svg)")
}
