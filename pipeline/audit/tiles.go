package audit

import (
	"bytes"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"

	"github.com/klauspost/compress/gzip"
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/mvt"
	"github.com/paulmach/orb/encoding/mvt/vectortile"
	"github.com/paulmach/orb/geojson"
	"github.com/paulmach/orb/maptile"

	"plinth/pipeline/output"
	"plinth/pipeline/sizes"
)

// tilesEqualRows compares what the tiles show with the rows. The last zoom must show all rows but
// the number that the description says it leaves out. A zoom before it may show some of those.
func tilesEqualRows(r *run, n *notes) error {
	for _, table := range ranked {
		name := table + "." + output.FormatTiles
		if !r.has(name) {
			continue
		}
		if err := r.compareTiles(table, name, n); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
	}
	return nil
}

// A pin is what the tiles show of one row at the last zoom that has it.
type pin struct {
	id    string
	tied  any // true or false, nil where tiles do not show it
	place orb.Point
	zoom  int
}

func (r *run) compareTiles(table, name string, n *notes) error {
	db, err := sizes.OpenDatabase(r.path(name))
	if err != nil {
		return err
	}
	defer db.Close()
	out, last, err := tilesSay(db)
	if err != nil {
		return err
	}
	pins := map[int]pin{} // by rank
	err = r.eachPin(db, func(rank int, p pin) {
		switch known, ok := pins[rank]; {
		case !ok:
			pins[rank] = p
		case p.zoom == last:
			n.wrong("%s shows rank %d twice at zoom %d", name, rank, last)
		case known.id != p.id:
			n.wrong("%s shows rank %d as %q at zoom %d and as %q at zoom %d", name, rank, p.id, p.zoom, known.id,
				known.zoom)
		}
	})
	if err != nil {
		return err
	}
	n.saw("%d points of %s", len(pins), name)
	if !r.holds(table) {
		return nil
	}
	missing, err := r.comparePins(table, name, pins, last, n)
	if err == nil && missing != out {
		n.wrong("%s lacks %d rows at its last zoom, its description says %d", name, missing, out)
	}
	return err
}

// comparePins compares the pins with the rows of a table. It returns the number of rows that the
// last zoom lacks.
func (r *run) comparePins(table, name string, pins map[int]pin, last int, n *notes) (missing int, err error) {
	for w, err := range r.rows(table) {
		if err != nil {
			return missing, err
		}
		rank, _ := strconv.Atoi(w.text("rank"))
		p, ok := pins[rank]
		if !ok || p.zoom != last {
			missing++
		}
		if !ok {
			continue
		}
		delete(pins, rank)
		// A tile holds its points as whole numbers of this unit, in degrees. There are 4096 of them a
		// side, the usual extent of the Vector Tile Specification 2.1.
		unit := 360 / (4096 * math.Exp2(float64(p.zoom)))
		away := max(math.Abs(p.place[0]-w.float("lon")), math.Abs(p.place[1]-w.float("lat")))
		if !sameText(w.text("building_id"), p.id) || !(away <= unit) {
			n.wrong("%s has another building or place than %s", name, w.where())
		}
		if tied, is := p.tied.(bool); p.tied != nil && (!is || strconv.FormatBool(tied) != w.text("tied")) {
			n.wrong("%s has tied = %v, %s has %s", name, p.tied, w.where(), w.text("tied"))
		}
	}
	if len(pins) > 0 {
		n.wrong("%s shows %d points that are of no row", name, len(pins))
	}
	return missing, nil
}

// leftOut matches the sentence of a description that states how many rows the last zoom lacks.
var leftOut = regexp.MustCompile(`all but (\d+) of \d+ rows`)

// tilesSay returns the number of rows that the tiles leave out, by their own description, and their
// last zoom.
func tilesSay(db *sql.DB) (out, last int, err error) {
	var said string
	const ask = "SELECT (SELECT value FROM metadata WHERE name = 'description'), (SELECT value FROM metadata " +
		"WHERE name = 'maxzoom')"
	if err := db.QueryRow(ask).Scan(&said, &last); err != nil {
		return 0, 0, err
	}
	m := leftOut.FindStringSubmatch(said)
	if m == nil {
		return 0, 0, fmt.Errorf("the description does not say how many rows are left out: %.80q", said)
	}
	out, err = strconv.Atoi(m[1])
	return out, last, err
}

// eachPin calls f for every point of every tile, the last zoom first.
func (r *run) eachPin(db *sql.DB, f func(rank int, p pin)) error {
	rows, err := db.QueryContext(r.ctx,
		"SELECT zoom_level, tile_column, tile_row, tile_data FROM tiles ORDER BY zoom_level DESC")
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		var z, x, y uint32
		var data []byte
		if err := rows.Scan(&z, &x, &y, &data); err != nil {
			return err
		}
		var layers mvt.Layers
		at := maptile.New(x, 1<<z-1-y, maptile.Zoom(z)) // rows are counted from the south
		if err := guard(func() (err error) { layers, err = readTile(data, at); return err }); err != nil {
			return fmt.Errorf("tile %d/%d/%d: %w", z, x, y, err)
		}
		for _, layer := range layers {
			for _, feature := range layer.Features {
				f(pinOf(feature, int(z)))
			}
		}
	}
	return rows.Err()
}

// mostTile is more than any tile unpacks to: 20,000 points of about 100 bytes.
const mostTile = 32 << 20

// readTile reads a tile of points. It refuses a tile of anything else before the library makes room
// for the number of corners that the tile states.
func readTile(data []byte, at maptile.Tile) (mvt.Layers, error) {
	in, err := gzip.NewReader(bytes.NewReader(data))
	if err != nil {
		return nil, err
	}
	plain, err := io.ReadAll(io.LimitReader(in, mostTile+1))
	if err != nil {
		return nil, err
	}
	if len(plain) > mostTile {
		return nil, fmt.Errorf("unpacks to more than %d MB", mostTile>>20)
	}
	var raw vectortile.Tile
	if err := raw.Unmarshal(plain); err != nil {
		return nil, err
	}
	for _, layer := range raw.Layers {
		for _, f := range layer.Features {
			if g := f.Geometry; f.GetType() != vectortile.Tile_POINT || len(g) != 3 || g[0] != moveOnce {
				return nil, errors.New("shows something that is no point")
			}
		}
	}
	layers, err := mvt.Unmarshal(plain)
	if err != nil {
		return nil, err
	}
	layers.ProjectToWGS84(at)
	return layers, nil
}

// moveOnce begins the geometry of a point (Mapbox Vector Tile 2.1, 4.3.1: MoveTo, once).
const moveOnce = 1<<3 | 1

// pinOf returns what a feature shows. A rank or a place of the wrong type becomes one that no row
// has.
func pinOf(f *geojson.Feature, zoom int) (rank int, p pin) {
	number, _ := f.Properties["rank"].(float64)
	p.id, _ = f.Properties["building_id"].(string)
	p.tied = f.Properties["tied"]
	p.place, _ = f.Geometry.(orb.Point)
	p.zoom = zoom
	return int(number), p
}
