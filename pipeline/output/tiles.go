package output

import (
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strings"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/maptile"
)

// FormatTiles is the format of maps for a browser: vector tiles.
const FormatTiles = "mbtiles"

// tilesFormat declares the format.
func tilesFormat[R any]() format[R] {
	return format[R]{
		Format: Format{Name: FormatTiles, Map: true, Audited: true},
		open: func(f *File, t *Table[R], about About) (rowWriter[R], error) {
			return NewTiles(f.Path(), t, about)
		},
	}
}

// A Tiles writes the rows of a table with points as vector tiles, for browser maps of more
// buildings than one file should hold. The result is an MBTiles 1.3 database (an SQLite file) of
// gzipped Mapbox Vector Tiles 2.1 in the Web Mercator scheme.
//
// Rows come in order of rank. Below the last zoom, a tile shows only the highest ranked of the
// points that would lie over each other. The last zoom shows all points, at most tileMost in a
// tile. The description says how many are left out. Features carry the columns of tileColumns; the
// other files hold the rest.
//
// SQLite sorts the rows by place on disk. A tile is written when its last point has passed, so that
// memory holds one tile of each zoom, whatever the size of the stock.
type Tiles[R any] struct {
	t       *Table[R]
	about   About
	geo     *geoColumn[R]
	columns []*Column[R]
	db      *sql.DB
	tx      *sql.Tx
	insert  *sql.Stmt
	values  []any
	rows    int64
	nowhere int64 // rows without a place on the map
}

// The tiles. All but the standard's extent are judgement.
const (
	tileLast = 14    // zoom at which a unit of a tile is 0.6 m at the equator
	tileUnit = 4096  // units along the side of a tile (orb's default extent)
	tileCell = 64    // units within which points would lie over each other: 8 of 512 pixels
	tileMost = 20000 // points of a tile at the last zoom

	centerZoom = 10 // zoom at which a map opens: a town of some 40 km fills the window
)

// tileColumns are the columns that a feature carries, if the table has them.
var tileColumns = []string{
	"building_id", "building_name", "priority", "system", "year", "use",
	"rank", "tie_group", "rank_as_is", "score", "best_measure", "best_verdict", "tied", "data_grade", "look_now",
	"design_sa_g", "drift_pct", "floor_accel_g", "base_shear_ratio", "best_drift_pct", "best_floor_accel_g",
	"annual_loss", "best_cost_likely", "best_net_benefit", "currency",
}

// mercatorEdge is the latitude in degrees where Web Mercator ends: 2 atan(e^pi) - 90.
const mercatorEdge = 85.051128779806604

// NewTiles returns a Tiles in the empty file at path.
func NewTiles[R any](path string, t *Table[R], about About) (*Tiles[R], error) {
	db, err := openDatabase(path)
	if err != nil {
		return nil, fmt.Errorf("tiles %s: %w", t.Name, err)
	}
	w := &Tiles[R]{t: t, about: about, geo: newGeoColumn(t), db: db}
	for _, name := range tileColumns {
		if c := t.column(name); c != nil {
			w.columns = append(w.columns, c)
		}
	}
	w.values = make([]any, 4+len(w.columns))
	if err := w.begin(); err != nil {
		return nil, errors.Join(fmt.Errorf("tiles %s: %w", t.Name, err), db.Close())
	}
	return w, nil
}

// begin creates the tables of MBTiles, and one for the rows in a temporary file that SQLite
// removes.
func (w *Tiles[R]) begin() error {
	const schema = `PRAGMA application_id = 0x4d504258;
		CREATE TABLE metadata (name text, value text);
		CREATE TABLE tiles (zoom_level integer, tile_column integer, tile_row integer, tile_data blob);`
	if _, err := w.db.Exec(schema); err != nil {
		return err
	}
	var names, marks strings.Builder
	for i := range w.columns {
		fmt.Fprintf(&names, ", c%d", i)
		marks.WriteString(", ?")
	}
	if _, err := w.db.Exec("CREATE TEMP TABLE points (place, seq, x, y" + names.String() + ")"); err != nil {
		return err
	}
	var err error
	if w.tx, err = w.db.Begin(); err != nil {
		return err
	}
	w.insert, err = w.tx.Prepare("INSERT INTO points VALUES (?, ?, ?, ?" + marks.String() + ")")
	return err
}

// Write writes one row.
func (w *Tiles[R]) Write(row *R) error {
	if err := w.t.check(row); err != nil {
		return err
	}
	w.rows++
	lon, lat, ok := w.geo.point(row)
	if !ok || math.Abs(lat) > mercatorEdge || math.Abs(lon) > 180 {
		w.nowhere++
		return nil
	}
	w.geo.extend(lon, lat)
	f := maptile.Fraction(orb.Point{lon, lat}, tileLast)
	const side = tileUnit << tileLast
	x, y := min(int64(f[0]*tileUnit), side-1), min(max(int64(f[1]*tileUnit), 0), side-1)
	tile := maptile.New(uint32(x/tileUnit), uint32(y/tileUnit), tileLast)
	w.values[0], w.values[1], w.values[2], w.values[3] = int64(tile.Quadkey()), w.rows, x, y
	for i, c := range w.columns {
		w.values[4+i] = c.stored(row)
	}
	if _, err := w.insert.Exec(w.values...); err != nil {
		return fmt.Errorf("tiles %s, building %q: %w", w.t.Name, w.t.id(row), err)
	}
	return nil
}

// Close writes the tiles and closes the file.
func (w *Tiles[R]) Close() error {
	if err := errors.Join(w.finish(), w.db.Close()); err != nil {
		return fmt.Errorf("tiles %s: %w", w.t.Name, err)
	}
	return nil
}

func (w *Tiles[R]) finish() error {
	p := newPyramid(w.t.Name, func(t maptile.Tile, data []byte) error {
		row := 1<<t.Z - 1 - t.Y // rows of MBTiles are counted from the south
		_, err := w.tx.Exec("INSERT INTO tiles VALUES (?, ?, ?, ?)", int64(t.Z), int64(t.X), int64(row), data)
		return err
	})
	rows, err := w.tx.Query("SELECT * FROM points ORDER BY place, seq")
	if err != nil {
		return err
	}
	values, to := make([]any, len(w.values)), make([]any, len(w.values))
	for i := range values {
		to[i] = &values[i]
	}
	for rows.Next() && err == nil {
		if err = rows.Scan(to...); err == nil {
			s := spot{seq: values[1].(int64), x: values[2].(int64), y: values[3].(int64), properties: map[string]any{}}
			for i, c := range w.columns {
				if v := c.shown(values[4+i]); v != nil {
					s.properties[c.Name] = v
				}
			}
			err = p.add(uint64(values[0].(int64)), s)
		}
	}
	if err = errors.Join(err, rows.Err(), rows.Close()); err != nil {
		return err
	}
	if err := p.end(); err != nil {
		return err
	}
	if err := w.describe(p.dropped); err != nil {
		return err
	}
	_, err = w.tx.Exec("CREATE UNIQUE INDEX tile_index ON tiles (zoom_level, tile_column, tile_row)")
	return errors.Join(err, w.insert.Close(), w.tx.Commit())
}

// shown returns the value of a cell as tiles show it. SQLite keeps a Bool as 1 or 0; shown turns it
// into true or false.
func (c *Column[R]) shown(kept any) any {
	if n, ok := kept.(int64); ok && c.Bool != nil {
		return n != 0
	}
	return kept
}

// describe writes the metadata that MBTiles asks for.
func (w *Tiles[R]) describe(dropped int64) error {
	fields := map[string]string{}
	for _, c := range w.columns {
		fields[c.Name] = "Number"
		if c.Text != nil {
			fields[c.Name] = "String"
		} else if c.Bool != nil {
			fields[c.Name] = "Boolean"
		}
	}
	layers, err := json.Marshal(map[string]any{"vector_layers": []any{map[string]any{
		"id": w.t.Name, "description": w.t.Doc, "minzoom": 0, "maxzoom": tileLast, "fields": fields,
	}}})
	if err != nil {
		return err
	}
	said := fmt.Sprintf("%s Of points that would lie over each other the highest ranked is shown; zoom %d has "+
		"all but %d of %d rows, of which %d have no place on the map.",
		Caution, tileLast, dropped+w.nowhere, w.rows, w.nowhere)
	all := [][2]string{{"name", w.t.Title}, {"format", "pbf"}, {"type", "overlay"}, {"version", "1"},
		{"minzoom", "0"}, {"maxzoom", fmt.Sprint(tileLast)}, {"description", said}, {"attribution", w.about.attribution()},
		{"json", string(layers)}}
	if x, y := &w.geo.x, &w.geo.y; x.seen {
		all = append(all, [2]string{"bounds", fmt.Sprintf("%g,%g,%g,%g", x.min, y.min, x.max, y.max)},
			[2]string{"center", fmt.Sprintf("%g,%g,%d", w.geo.center()[0], w.geo.center()[1], centerZoom)})
	}
	for _, kv := range append(all, w.about.notes(w.t.ID)...) {
		if _, err := w.tx.Exec("INSERT INTO metadata VALUES (?, ?)", kv[0], kv[1]); err != nil {
			return err
		}
	}
	return nil
}
