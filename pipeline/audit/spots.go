package audit

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"iter"
	"math"
	"os"

	"plinth/pipeline/internal/sizes"
	"plinth/pipeline/output"
)

// A spot is one building as a map shows it. It must agree with the row of the table.
type spot struct {
	id, rank string
	x, y     float64
	located  bool
}

// spotReaders read the spots of a table. They are for the formats of maps that hold every row in
// order.
var spotReaders = map[string]func(path, table string) iter.Seq2[spot, error]{
	output.FormatGeoPackage: geoPackageSpots,
	output.FormatGeoJSON:    collectionSpots,
	output.FormatGeoLines:   lineSpots,
}

// mapsEqualRows compares the maps of each table with its rows.
func mapsEqualRows(r *run, n *notes) error {
	for _, table := range ranked {
		for _, format := range output.FormatNames() {
			name := table + "." + format
			spots, ok := spotReaders[format]
			if !ok || !r.has(name) {
				continue
			}
			if err := r.compareSpots(table, name, spots(r.path(name), table), n); err != nil {
				return fmt.Errorf("%s: %w", name, err)
			}
			n.saw("%s", name)
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
		// GeoJSON has places to seven decimals.
		if s.rank != w.text("rank") || !sameText(w.text("building_id"), s.id) || s.located == math.IsNaN(x) ||
			s.located && (math.Abs(s.x-x) > 0.51e-7 || math.Abs(s.y-y) > 0.51e-7) {
			n.wrong("%s has another building or place than %s", name, w.where())
		}
	}
	if _, _, ok := next(); ok && r.holds(table) {
		n.wrong("%s goes on after the last row", name)
	}
	return nil
}

// geoPackageSpots reads the points of a GeoPackage 1.3 with an envelope.
func geoPackageSpots(path, table string) iter.Seq2[spot, error] {
	return func(yield func(spot, error) bool) {
		db, err := sizes.OpenDatabase(path)
		if err != nil {
			yield(spot{}, err)
			return
		}
		defer db.Close()
		var id, srs int
		if err := db.QueryRow("SELECT (SELECT application_id FROM pragma_application_id), srs_id FROM "+
			"gpkg_contents WHERE table_name = ?", table).Scan(&id, &srs); err != nil {
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

// collectionSpots reads a GeoJSON collection of features.
func collectionSpots(path, _ string) iter.Seq2[spot, error] { return geoJSONSpots(path, true) }

// lineSpots reads GeoJSON features that follow each other, one a line.
func lineSpots(path, _ string) iter.Seq2[spot, error] { return geoJSONSpots(path, false) }

// geoJSONSpots reads the features of a collection, or features that follow each other.
func geoJSONSpots(path string, collection bool) iter.Seq2[spot, error] {
	return func(yield func(spot, error) bool) {
		f, err := os.Open(path)
		if err != nil {
			yield(spot{}, err)
			return
		}
		defer f.Close()
		d := json.NewDecoder(f)
		if collection {
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
