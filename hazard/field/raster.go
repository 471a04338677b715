package field

import (
	"bufio"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/paulmach/orb"
)

// A raster is one file as read.
type raster struct {
	file string
	head rasterHead
	ln   []float64 // ln(a in g) by row from the north, NaN without data
}

// rasterHead gives the position of the cells.
type rasterHead struct {
	cols, rows  int
	west, south float64 // of the centre of the south-west cell, degrees
	dx, dy      float64
}

// centre returns the centre of cell c, counted by row from the north.
func (h *rasterHead) centre(c int) orb.Point {
	return orb.Point{h.west + float64(c%h.cols)*h.dx, h.south + float64(h.rows-1-c/h.cols)*h.dy}
}

// rasterWords are the keywords of a header.
var rasterWords = []string{"ncols", "nrows", "xllcorner", "xllcenter", "yllcorner", "yllcenter", "cellsize",
	"dx", "dy", "nodata_value"}

// readRaster reads one file; problems are recorded.
func readRaster(r Raster, o Options, ps *Problems) *raster {
	bad := func(line int, column, value, rule, remedy string) {
		ps.add(Problem{File: r.File, Line: line, Column: column, Value: value, Rule: rule, Remedy: remedy})
	}
	out := &raster{file: r.File}
	said := map[string]float64{"nodata_value": -9999}
	scan := bufio.NewScanner(r.Content)
	scan.Buffer(nil, 1<<26) // a row of a raster is one line
	for line := 1; scan.Scan(); line++ {
		words := strings.Fields(scan.Text())
		if len(words) == 2 && slices.Contains(rasterWords, strings.ToLower(words[0])) {
			v, err := strconv.ParseFloat(words[1], 64)
			if err != nil {
				bad(line, words[0], words[1], "not a number", "mend the header")
			}
			said[strings.ToLower(words[0])] = v
			continue
		}
		for _, w := range words {
			v, err := strconv.ParseFloat(w, 64)
			a := v * units[o.Unit]
			switch {
			case err != nil:
				bad(line, "", w, "not a number", "write digits with a decimal point")
			case v == said["nodata_value"] || math.IsNaN(v):
				a = math.NaN()
			case !isAcceleration(a):
				bad(line, "", w, "no acceleration of the ground",
					"check the number, its unit and NODATA_value")
			}
			out.ln = append(out.ln, math.Log(a))
		}
	}
	if err := scan.Err(); err != nil {
		bad(0, "", "", err.Error(), "mend the file")
	}
	if len(said) == 1 && len(out.ln) == 0 {
		bad(0, "", "", "the file has neither header nor values", "write an Esri ASCII raster")
		return out
	}
	out.head.set(said, bad)
	if n := out.head.cols * out.head.rows; n > 0 && n != len(out.ln) {
		bad(0, "ncols, nrows", "", fmt.Sprintf("the header promises %d values and the file holds %d", n,
			len(out.ln)), "mend the file")
	}
	return out
}

// set reads the header from its words and their values.
func (h *rasterHead) set(said map[string]float64, bad func(line int, column, value, rule, remedy string)) {
	need := func(names ...string) (string, float64) {
		for _, n := range names {
			if v, ok := said[n]; ok {
				return n, v
			}
		}
		bad(0, names[len(names)-1], "", "the header lacks it", "write it before the values")
		return "", 1 // no further problem is reported for it
	}
	count := func(name string) int {
		name, v := need(name)
		if !(v >= 1 && v <= 1e6) || v != math.Trunc(v) {
			bad(0, name, number(v), "no count", "write a whole number")
			return 0
		}
		return int(v)
	}
	size := func(names ...string) float64 {
		name, v := need(names...)
		if !(v > 0 && v <= 360) {
			bad(0, name, number(v), "no size of a cell", "write degrees above 0")
		}
		return v
	}
	h.cols, h.rows = count("ncols"), count("nrows")
	h.dx, h.dy = size("dx", "cellsize"), size("dy", "cellsize")
	edge := func(center, corner string, size float64) float64 {
		name, v := need(center, corner)
		if name == corner {
			v += size / 2
		}
		return v
	}
	h.west, h.south = edge("xllcenter", "xllcorner", h.dx), edge("yllcenter", "yllcorner", h.dy)
}
