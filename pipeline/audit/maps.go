package audit

import (
	"encoding/binary"
	"encoding/json"
	"fmt"
	"iter"
	"math"
	"strconv"
	"strings"
)

func placesRight(r *run, n *notes) error {
	return r.eachOf(n, ranked, func(w *row) {
		x, y := w.float("lon"), w.float("lat")
		if math.IsNaN(x) != math.IsNaN(y) {
			n.wrong("%s has half a place", w.where())
		}
		if math.Abs(x) > 180 || math.Abs(y) > 90 {
			n.wrong("%s stands at longitude %g, latitude %g", w.where(), x, y)
		}
	})
}

// geo is the part of the metadata of GeoParquet 1.1.0 that is checked.
type geo struct {
	Version string `json:"version"`
	Primary string `json:"primary_column"`
	Columns map[string]struct {
		Encoding string          `json:"encoding"`
		Types    []string        `json:"geometry_types"`
		BBox     []float64       `json:"bbox"`
		CRS      json.RawMessage `json:"crs"`
	} `json:"columns"`
}

func geoParquet(r *run, n *notes) error {
	for _, table := range ranked {
		name := table + ".parquet"
		if !r.has(name) {
			continue
		}
		if err := geoFile(r.path(name), name, n); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		n.saw("%s", name)
	}
	return nil
}

func geoFile(path, name string, n *notes) error {
	text, err := footer(path, "geo")
	if err != nil {
		return err
	}
	var g geo
	if err := json.Unmarshal([]byte(text), &g); err != nil {
		return fmt.Errorf("metadata geo: %w", err)
	}
	c := g.Columns["geometry"]
	if g.Version != "1.1.0" || g.Primary != "geometry" || c.Encoding != "WKB" || c.CRS != nil {
		n.wrong("%s: geo is not version 1.1.0 of WKB points in OGC:CRS84", name)
	}
	west, south, east, north := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for w, err := range parquetRows(path, name) {
		if err != nil {
			return err
		}
		x, y, ok := point(w.text("geometry"))
		if !ok {
			if w.text("geometry") != "" || w.text("lon") != "" {
				n.wrong("%s: the geometry is no point", w.where())
			}
			continue
		}
		if x != w.float("lon") || y != w.float("lat") || x != w.float("bbox.xmin") || x != w.float("bbox.xmax") ||
			y != w.float("bbox.ymin") || y != w.float("bbox.ymax") {
			n.wrong("%s: geometry, box, longitude and latitude do not agree", w.where())
		}
		west, south, east, north = min(west, x), min(south, y), max(east, x), max(north, y)
	}
	if len(c.BBox) == 4 && (c.BBox[0] != west || c.BBox[1] != south || c.BBox[2] != east || c.BBox[3] != north) {
		n.wrong("%s: the box of the file is not that of its rows", name)
	}
	return nil
}

// point reads a point of well-known binary, little-endian (OGC 06-103r4, 8.2).
func point(s string) (x, y float64, ok bool) {
	if len(s) != 21 || s[0] != 1 || binary.LittleEndian.Uint32([]byte(s[1:5])) != 1 {
		return 0, 0, false
	}
	f := func(at int) float64 { return math.Float64frombits(binary.LittleEndian.Uint64([]byte(s[at : at+8]))) }
	return f(5), f(13), true
}

func parquetEqualsCSV(r *run, n *notes) error {
	for _, table := range ranked {
		if !r.has(table+".csv") || !r.has(table+".parquet") {
			continue
		}
		if err := r.compare(table, n); err != nil {
			return err
		}
	}
	return nil
}

// compare reads the Parquet and the CSV file of a table side by side.
func (r *run) compare(table string, n *notes) error {
	next, stop := iter.Pull2(parquetRows(r.path(table+".parquet"), table+".parquet"))
	defer stop()
	rows := 0
	for c, err := range csvRows(r.path(table+".csv"), table+".csv") {
		if err != nil {
			return err
		}
		p, err, ok := next()
		if err != nil {
			return err
		}
		if !ok {
			n.wrong("%s.parquet ends after %d rows, the CSV does not", table, rows)
			return nil
		}
		rows++
		for name, i := range c.place {
			j, ok := p.place[name]
			if !ok {
				n.wrong("%s.parquet has no column %s", table, name)
				return nil
			}
			if !equal(c.cells[i], p.cells[j], p.number[j]) {
				n.wrong("%s: %s is %.40q in CSV and %.40q in Parquet", c.where(), name, c.cells[i], p.cells[j])
			}
		}
	}
	if _, err, ok := next(); ok || err != nil {
		n.wrong("%s.parquet goes on after %d rows, the CSV does not", table, rows)
	}
	n.saw("%d rows of %s", rows, table)
	return nil
}

// equal compares a cell of CSV with one of Parquet.
func equal(c, p string, number bool) bool {
	if number {
		v, err := strconv.ParseFloat(c, 64)
		w, _ := strconv.ParseFloat(p, 64)
		return err == nil && v == w
	}
	return sameText(c, p)
}

// sameText reports whether a text of a row equals that of another format. The reader of CSV turns
// CRLF inside a cell into LF.
func sameText(row, other string) bool {
	return row == other || row == strings.ReplaceAll(other, "\r\n", "\n")
}
