package retrofit

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write the figures and tables of docs/measures again")

// checkFile compares a file of docs/measures with the program's output, or writes it.
func checkFile(t *testing.T, name string, want []byte) {
	t.Helper()
	path := filepath.Join("..", "docs", "measures", name)
	if *update {
		require.NoError(t, os.WriteFile(path, want, 0o644))
	}
	have, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.True(t, bytes.Equal(have, want), "%s is out of date; run go test ./retrofit -run Pages -update",
		path)
}

// Inks of the drawings: what stands, what is added, what is ground, what is said.
const (
	inkFrame = "#2f3e4e"
	inkNew   = "#b4461e"
	inkPale  = "#f3ddd2"
	inkSoil  = "#8a8072"
	inkText  = "#1d2630"
)

// A drawing is a line drawing in SVG: a building in elevation on the left, a detail
// of the device on the right, with labels.
type drawing struct {
	out strings.Builder
}

// The canvas, and the elevation: three bays of four storeys.
const (
	canvasWidth, canvasHeight = 760, 430

	left, bay, bays      = 120.0, 92.0, 3
	storey, floorsDrawn  = 58.0, 4
	groundLine           = 330.0
	right                = left + bays*bay
	detailX, detailWidth = 500.0, 220.0
)

func newDrawing(title string) *drawing {
	d := &drawing{}
	fmt.Fprintf(&d.out,
		`<svg xmlns="http://www.w3.org/2000/svg" width="%d" height="%d" viewBox="0 0 %d %d" role="img" `+
			`aria-label="%s" font-family="Helvetica, Arial, sans-serif">`+"\n",
		canvasWidth, canvasHeight, canvasWidth, canvasHeight, title)
	fmt.Fprintf(&d.out, `<title>%s</title>`+"\n"+`<rect width="100%%" height="100%%" fill="white"/>`+"\n",
		title)
	d.text(24, 34, 17, "start", "bold", title)
	return d
}

func (d *drawing) bytes() []byte { return []byte(d.out.String() + "</svg>\n") }

func (d *drawing) line(x1, y1, x2, y2, width float64, ink string) {
	fmt.Fprintf(&d.out,
		`<line x1="%.1f" y1="%.1f" x2="%.1f" y2="%.1f" stroke="%s" stroke-width="%.1f" `+
			`stroke-linecap="round"/>`+"\n", x1, y1, x2, y2, ink, width)
}

func (d *drawing) dashed(x1, y1, x2, y2 float64, ink string) {
	fmt.Fprintf(&d.out,
		`<line x1="%.1f" y1="%.1f" x2="%.1f" y2="%.1f" stroke="%s" stroke-width="1.2" stroke-dasharray="5 `+
			`4"/>`+"\n", x1, y1, x2, y2, ink)
}

func (d *drawing) rect(x, y, w, h float64, fill, ink string) {
	fmt.Fprintf(&d.out,
		`<rect x="%.1f" y="%.1f" width="%.1f" height="%.1f" fill="%s" stroke="%s" stroke-width="1.4"/>`+"\n",
		x, y, w, h, fill, ink)
}

func (d *drawing) circle(x, y, r float64, fill, ink string) {
	fmt.Fprintf(&d.out,
		`<circle cx="%.1f" cy="%.1f" r="%.1f" fill="%s" stroke="%s" stroke-width="1.4"/>`+"\n", x, y, r, fill,
		ink)
}

func (d *drawing) path(data, fill, ink string, width float64) {
	fmt.Fprintf(&d.out,
		`<path d="%s" fill="%s" stroke="%s" stroke-width="%.1f" stroke-linejoin="round" `+
			`stroke-linecap="round"/>`+"\n", data, fill, ink, width)
}

func (d *drawing) text(x, y, size float64, anchor, weight, s string) {
	fmt.Fprintf(&d.out,
		`<text x="%.1f" y="%.1f" font-size="%.0f" text-anchor="%s" font-weight="%s" fill="%s">%s</text>`+"\n",
		x, y, size, anchor, weight, inkText, s)
}

// label writes s at x, y with a leader to a point of the drawing: from above its
// beginning for "above", else from the end that anchor names.
func (d *drawing) label(x, y float64, anchor, s string, toX, toY float64) {
	fromX, fromY := x-5, y-4
	switch anchor {
	case "above":
		fromX, fromY, anchor = x+12, y-14, "start"
	case "end":
		fromX = x + 5
	}
	d.line(fromX, fromY, toX, toY, 0.8, inkText)
	d.circle(toX, toY, 1.6, inkText, inkText)
	d.text(x, y, 13, anchor, "normal", s)
}

// both draws a measure with an arrow at both ends, level at y.
func (d *drawing) both(x1, x2, y float64) {
	d.line(x1, y, x2, y, 1, inkText)
	for _, a := range [][2]float64{{x1, 4}, {x2, -4}} {
		d.path(fmt.Sprintf("M%.1f %.1f l%.1f -3 v6 z", a[0], y, a[1]), inkText, inkText, 0.5)
	}
}

// columnX returns the x of column line i, 0 to bays.
func columnX(i int) float64 { return left + float64(i)*bay }

// frame draws the bare frame with its foot at y.
func (d *drawing) frame(foot float64) {
	for i := range bays + 1 {
		d.line(columnX(i), foot, columnX(i), foot-floorsDrawn*storey, 5, inkFrame)
	}
	for j := 1; j <= floorsDrawn; j++ {
		y := foot - float64(j)*storey
		d.line(left-6, y, right+6, y, 6, inkFrame)
	}
}

// ground draws the surface between x1 and x2 with hatching.
func (d *drawing) ground(x1, x2, y float64) {
	d.line(x1, y, x2, y, 2, inkSoil)
	for x := x1 + 6; x < x2; x += 12 {
		d.line(x, y+2, x-7, y+10, 1, inkSoil)
	}
}

// footings draws a footing under every column at y.
func (d *drawing) footings(y float64) {
	for i := range bays + 1 {
		d.rect(columnX(i)-14, y, 28, 12, "#d7dce1", inkFrame)
	}
}

// detail draws the box of the detail and its title.
func (d *drawing) detail(title string) {
	d.rect(detailX-20, 62, detailWidth+40, 330, "#fafafa", "#c8cdd2")
	d.text(detailX+detailWidth/2, 86, 13, "middle", "bold", title)
}
