package field

import (
	"fmt"
	"io"
	"math"
	"slices"

	"github.com/paulmach/orb"

	"plinth/hazard"
)

// Raster is one file of a source that has one file for each return period and spectral period.
type Raster struct {
	ReturnPeriod float64 // yr
	Period       float64 // s; 0 for the peak ground acceleration
	File         string  // name, for problems
	Content      io.Reader
}

// ReadRasters reads a regular grid from Esri ASCII rasters: a header of ncols,
// nrows, xllcorner or xllcenter, yllcorner or yllcenter, cellsize (or dx and dy)
// and NODATA_value (optional, -9999), then the values row by row from the north.
// A value holds for the centre of its cell. All rasters must have the same header
// and the same cells without data, and there must be one for each return period
// and period.
func ReadRasters(rasters []Raster, o Options) (*Nodes, error) {
	const file = "rasters"
	var ps Problems
	o.check(file, &ps)
	o.checkDegrees(file, "rasters", &ps)
	if err := ps.err(); err != nil {
		return nil, err
	}
	if len(rasters) == 0 {
		ps.add(Problem{File: file, Rule: "there are none",
			Remedy: "name a file for each return period and period"})
		return nil, ps.err()
	}
	t := stack(rasters, o, &ps)
	if err := ps.err(); err != nil {
		return nil, err
	}
	return newNodes(t, Regular, o)
}

// stack reads the rasters into a table.
func stack(rasters []Raster, o Options, ps *Problems) *table {
	var levels, periods []float64
	for _, r := range rasters {
		if !isReturnPeriod(r.ReturnPeriod) || r.Period != 0 && !isPeriod(r.Period) {
			ps.add(Problem{File: r.File, Column: "return period, period", Value: number(r.ReturnPeriod) +
				", " + number(r.Period),
				Rule:   "no return period or period",
				Remedy: "give years from 0.01 to 1e9, and 0 for the peak or seconds from 0.001 to 100"})
		}
		levels, periods = append(levels, r.ReturnPeriod), append(periods, r.Period)
	}
	slices.Sort(levels)
	slices.Sort(periods)
	levels, periods = slices.Compact(levels), slices.Compact(periods)
	if len(periods) < 2 || periods[0] != 0 || len(periods) > 1+maxPeriods {
		ps.add(Problem{File: rasters[0].File, Column: "period",
			Rule:   fmt.Sprintf("the peak (period 0) and 1 to %d periods are needed", maxPeriods),
			Remedy: "name files for them"})
	}
	if ps.err() != nil {
		return nil
	}

	layer := make([]*raster, len(levels)*len(periods))
	for _, r := range rasters {
		l, _ := slices.BinarySearch(levels, r.ReturnPeriod)
		k, _ := slices.BinarySearch(periods, r.Period)
		at := &layer[l*len(periods)+k]
		if *at != nil {
			ps.add(Problem{File: r.File, Rule: "another file has the same return period and period: " +
				(*at).file, Remedy: "name one of the two"})
			continue
		}
		*at = readRaster(r, o, ps)
	}
	for i, r := range layer {
		if r == nil {
			ps.add(Problem{File: "rasters", Column: "return period, period",
				Value: number(levels[i/len(periods)]) + ", " + number(periods[i%len(periods)]),
				Rule:  "there is no file for it", Remedy: "name one for each return period and period"})
		}
	}
	if ps.err() != nil {
		return nil
	}
	return layered(layer, levels, periods, ps)
}

// layered makes nodes of the cells that have data in the layers.
func layered(layer []*raster, levels, periods []float64, ps *Problems) *table {
	first := layer[0]
	for _, r := range layer[1:] {
		if r.head != first.head {
			ps.add(Problem{File: r.file, Rule: "the header differs from that of " + first.file,
				Remedy: "cut all rasters alike"})
		}
	}
	if ps.err() != nil {
		return nil
	}
	got := rows{file: first.file}
	ln := make([]float64, len(periods))
	for c := range first.ln {
		p := first.head.centre(c)
		lon, ok := place(p[0], p[1])
		if !ok {
			ps.add(Problem{File: first.file, Value: where(p),
				Rule:   "the centre of a cell is no place on earth",
				Remedy: "the raster looks projected: convert it to degrees, EPSG:4326"})
			return nil
		}
		sea := math.IsNaN(first.ln[c])
		for _, r := range layer {
			if math.IsNaN(r.ln[c]) != sea {
				ps.add(Problem{File: r.file, Value: where(p),
					Rule:   "the cell has data in one raster and none in another: " + first.file,
					Remedy: "give all rasters the same cells"})
				return nil
			}
		}
		for l := range levels {
			for k := range periods {
				ln[k] = layer[l*len(periods)+k].ln[c]
			}
			if !sea {
				got.add(orb.Point{lon, p[1]}, levels[l], 1, ln, hazard.Shaking{})
			}
		}
	}
	if len(got.node) == 0 {
		ps.add(Problem{File: first.file, Rule: "no cell has data", Remedy: "check NODATA_value"})
		return nil
	}
	return got.table(periods[1:], ps)
}
