package audit

import (
	"database/sql"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"iter"
	"math"
	"net/url"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	_ "modernc.org/sqlite" // driver "sqlite"
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
		if x != w.float("lon") || y != w.float("lat") || x != w.float("bbox.xmin") || x != w.float("bbox.xmax") || y != w.float("bbox.ymin") || y != w.float("bbox.ymax") {
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

// compare walks Parquet and CSV of a table side by side.
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

// equal compares a cell of CSV with one of Parquet. The reader of CSV turns CRLF
// inside a cell into LF.
func equal(c, p string, number bool) bool {
	if number {
		v, err := strconv.ParseFloat(c, 64)
		w, _ := strconv.ParseFloat(p, 64)
		return err == nil && v == w
	}
	return c == p || c == strings.ReplaceAll(p, "\r\n", "\n")
}

// A spot is what a format for maps must agree in.
type spot struct {
	id, rank string
	x, y     float64
	located  bool
}

func mapsEqualRows(r *run, n *notes) error {
	for _, table := range ranked {
		for _, f := range []struct {
			name  string
			spots func(path, table string) iter.Seq2[spot, error]
		}{{table + ".gpkg", geoPackageSpots}, {table + ".geojson", geoJSONSpots}, {table + ".geojsonl", geoJSONSpots}} {
			if !r.has(f.name) {
				continue
			}
			if err := r.compareSpots(table, f.name, f.spots(r.path(f.name), table), n); err != nil {
				return fmt.Errorf("%s: %w", f.name, err)
			}
			n.saw("%s", f.name)
		}
	}
	return nil
}

func (r *run) compareSpots(table, name string, spots iter.Seq2[spot, error], n *notes) error {
	next, stop := iter.Pull2(spots)
	defer stop()
	for w, err := range r.rows(table) {
		if err != nil {
			return err
		}
		s, err, ok := next()
		if err != nil {
			return err
		}
		if !ok {
			n.wrong("%s ends before %s", name, w.where())
			return nil
		}
		x, y := w.float("lon"), w.float("lat")
		// Places of GeoJSON have seven decimals.
		if s.rank != w.text("rank") || strings.ReplaceAll(s.id, "\r\n", "\n") != w.text("building_id") || s.located == math.IsNaN(x) ||
			s.located && (math.Abs(s.x-x) > 0.51e-7 || math.Abs(s.y-y) > 0.51e-7) {
			n.wrong("%s has another building or place than %s", name, w.where())
		}
	}
	if _, _, ok := next(); ok && r.holds(table) {
		n.wrong("%s goes on after the last row", name)
	}
	return nil
}

// openDatabase opens the SQLite file at path to be read and never written.
func openDatabase(path string) (*sql.DB, error) {
	path, err := filepath.Abs(path)
	if err != nil {
		return nil, err
	}
	return sql.Open("sqlite", (&url.URL{Scheme: "file", Path: filepath.ToSlash(path), RawQuery: "mode=ro&immutable=1"}).String())
}

// geoPackageSpots reads the points of a GeoPackage 1.3 with an envelope.
func geoPackageSpots(path, table string) iter.Seq2[spot, error] {
	return func(yield func(spot, error) bool) {
		db, err := openDatabase(path)
		if err != nil {
			yield(spot{}, err)
			return
		}
		defer db.Close()
		var id, srs int
		if err := db.QueryRow("SELECT (SELECT application_id FROM pragma_application_id), srs_id FROM gpkg_contents").Scan(&id, &srs); err != nil {
			yield(spot{}, err)
			return
		}
		if id != 0x47504B47 || srs != 4326 {
			yield(spot{}, fmt.Errorf("application id %#x, spatial reference %d", id, srs))
			return
		}
		rows, err := db.Query("SELECT building_id, CAST(rank AS TEXT), geometry FROM " + table + " ORDER BY fid")
		if err != nil {
			yield(spot{}, err)
			return
		}
		defer rows.Close()
		for rows.Next() {
			var s spot
			var blob []byte
			if err := rows.Scan(&s.id, &s.rank, &blob); err != nil {
				yield(s, err)
				return
			}
			if len(blob) == 61 {
				s.x, s.y, s.located = point(string(blob[40:]))
			}
			if !yield(s, nil) {
				return
			}
		}
		if err := rows.Err(); err != nil {
			yield(spot{}, err)
		}
	}
}

// geoJSONSpots reads a collection of features, or features one after the other.
func geoJSONSpots(path, _ string) iter.Seq2[spot, error] {
	return func(yield func(spot, error) bool) {
		f, err := os.Open(path)
		if err != nil {
			yield(spot{}, err)
			return
		}
		defer f.Close()
		d := json.NewDecoder(f)
		if strings.HasSuffix(path, ".geojson") {
			for t, err := d.Token(); t != "features"; t, err = d.Token() {
				if err != nil {
					yield(spot{}, fmt.Errorf("no features: %w", err))
					return
				}
				if t == "crs" {
					yield(spot{}, errors.New("has a crs member, which RFC 7946 removed"))
					return
				}
			}
			if _, err := d.Token(); err != nil {
				yield(spot{}, err)
				return
			}
		}
		for d.More() {
			var s struct {
				Geometry   *struct{ Coordinates [2]float64 }
				Properties struct {
					ID   string      `json:"building_id"`
					Rank json.Number `json:"rank"`
				}
			}
			if err := d.Decode(&s); err != nil {
				if !errors.Is(err, io.EOF) {
					yield(spot{}, err)
				}
				return
			}
			out := spot{id: s.Properties.ID, rank: s.Properties.Rank.String()}
			if g := s.Geometry; g != nil {
				out.x, out.y, out.located = g.Coordinates[0], g.Coordinates[1], true
			}
			if !yield(out, nil) {
				return
			}
		}
	}
}
