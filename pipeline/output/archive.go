package output

import (
	"bytes"
	"cmp"
	"compress/gzip"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/maptile"
)

// FormatArchive is the format of maps for a browser without a tile server: one file that any web
// server hands out in ranges of bytes.
const FormatArchive = "pmtiles"

// archiveFormat declares the format.
func archiveFormat[R any]() format[R] {
	return format[R]{
		Format: Format{Name: FormatArchive, Map: true},
		open: func(f *File, t *Table[R], about About) (rowWriter[R], error) {
			return newArchive(f, t, about)
		},
	}
}

// An Archive writes the vector tiles of a table with points as a PMTiles file (PMTiles specification,
// version 3, github.com/protomaps/PMTiles). The tiles and what is said of them are those of Tiles,
// byte for byte. They are made in a database beside the file, then copied in the order of their ids.
// Memory holds 24 bytes a tile.
type Archive[R any] struct {
	tiles *Tiles[R]
	aside string // path of the database
	out   *File
}

// newArchive returns an Archive in the empty file f.
func newArchive[R any](f *File, t *Table[R], about About) (*Archive[R], error) {
	db, err := os.CreateTemp(filepath.Dir(f.tmp), t.Name+"-*.tiles")
	if err != nil {
		return nil, fmt.Errorf("tiles %s: %w", t.Name, err)
	}
	w := &Archive[R]{aside: db.Name(), out: f}
	err = db.Close()
	if err == nil {
		w.tiles, err = NewTiles(w.aside, t, about)
	}
	if err != nil {
		return nil, errors.Join(err, os.Remove(w.aside))
	}
	return w, nil
}

// Write writes one row.
func (w *Archive[R]) Write(row *R) error { return w.tiles.Write(row) }

// Close writes the file and removes the database.
func (w *Archive[R]) Close() error {
	err := w.tiles.Close()
	if err == nil {
		if err = w.copy(); err != nil {
			err = fmt.Errorf("tiles %s: %w", w.tiles.t.Name, err)
		}
	}
	return errors.Join(err, os.Remove(w.aside))
}

// copy writes the header, the directories, the metadata and the tiles of the database.
func (w *Archive[R]) copy() error {
	db, err := openDatabase(w.aside)
	if err != nil {
		return err
	}
	defer db.Close()
	entries, rows, err := listTiles(db)
	if err != nil {
		return err
	}
	said, err := archiveMetadata(db)
	if err != nil {
		return err
	}
	if said, err = gzipped(said); err != nil {
		return err
	}
	root, leaves, err := directories(entries)
	if err != nil {
		return err
	}
	head := w.header(entries, len(root), len(said), len(leaves))
	for _, part := range [][]byte{head, root, said, leaves} {
		if _, err := w.out.Write(part); err != nil {
			return err
		}
	}
	read, err := db.Prepare("SELECT tile_data FROM tiles WHERE rowid = ?")
	if err != nil {
		return err
	}
	var data []byte
	for _, row := range rows {
		if err := read.QueryRow(row).Scan(&data); err != nil {
			return err
		}
		if _, err := w.out.Write(data); err != nil {
			return err
		}
	}
	return read.Close()
}

// listTiles returns the entries of all tiles in the order of their ids, and the row of each in the
// database.
func listTiles(db *sql.DB) (entries []tileEntry, at []int64, err error) {
	rows, err := db.Query("SELECT rowid, zoom_level, tile_column, tile_row, length(tile_data) FROM tiles")
	if err != nil {
		return nil, nil, err
	}
	type tile struct {
		id, length uint64
		row        int64
	}
	var tiles []tile
	for rows.Next() && err == nil {
		var t tile
		var z, x, y uint32
		err = rows.Scan(&t.row, &z, &x, &y, &t.length)
		t.id = tileID(maptile.New(x, 1<<z-1-y, maptile.Zoom(z)))
		tiles = append(tiles, t)
	}
	if err = errors.Join(err, rows.Err(), rows.Close()); err != nil {
		return nil, nil, err
	}
	slices.SortFunc(tiles, func(a, b tile) int { return cmp.Compare(a.id, b.id) })
	var offset uint64
	for _, t := range tiles {
		entries = append(entries, tileEntry{id: t.id, offset: offset, length: t.length, run: 1})
		at = append(at, t.row)
		offset += t.length
	}
	return entries, at, nil
}

// archiveMetadata returns what the database says of its tiles as one JSON object.
func archiveMetadata(db *sql.DB) ([]byte, error) {
	rows, err := db.Query("SELECT name, value FROM metadata")
	if err != nil {
		return nil, err
	}
	said := map[string]any{}
	for rows.Next() && err == nil {
		var name, value string
		if err = rows.Scan(&name, &value); err == nil && name == "json" {
			err = json.Unmarshal([]byte(value), &said) // vector_layers
		} else {
			said[name] = value
		}
	}
	if err = errors.Join(err, rows.Err(), rows.Close()); err != nil {
		return nil, err
	}
	for _, name := range []string{"format", "minzoom", "maxzoom", "bounds", "center"} {
		delete(said, name) // the header has them
	}
	return json.Marshal(said)
}

// center returns the middle of the points.
func (b *box) center() orb.Point { return orb.Point{(b.x.min + b.x.max) / 2, (b.y.min + b.y.max) / 2} }

func gzipped(b []byte) ([]byte, error) {
	var out bytes.Buffer
	w := gzip.NewWriter(&out)
	_, err := w.Write(b)
	err = errors.Join(err, w.Close())
	return out.Bytes(), err
}
