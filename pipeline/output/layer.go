package output

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
)

// Layer is the format of a table that Gather puts into the GeoPackage of another: one that a Sheet may
// be asked for, and no plan.
const Layer = "layer"

// layerFormat declares the format: a GeoPackage of its own until it is gathered. A table of points is
// written as one of attributes there, since the points are those of the buildings it joins to.
func layerFormat[R any]() format[R] {
	return format[R]{
		Format: Format{Name: Layer},
		open: func(f *File, t *Table[R], about About) (rowWriter[R], error) {
			plain := *t
			plain.Point = false
			return NewGeoPackage(f.Path(), &plain, about)
		},
	}
}

// Gather moves the layers of tables into the GeoPackage of table, in the order of tables. All of them
// must have been written and closed. Tables without a layer are left out.
func (s *Set) Gather(table string, tables ...string) error {
	into := s.file(table + "." + FormatGeoPackage)
	if into == nil {
		return nil
	}
	for _, name := range tables {
		layer := s.file(name + "." + Layer)
		if layer == nil {
			continue
		}
		if err := moveLayer(into.tmp, layer.tmp, name); err != nil {
			return fmt.Errorf("geopackage %s, layer %s: %w", table, name, err)
		}
		if err := os.Remove(layer.tmp); err != nil {
			return fmt.Errorf("geopackage %s, layer %s: %w", table, name, err)
		}
		s.files = slices.DeleteFunc(s.files, func(f *File) bool { return f == layer })
	}
	return into.again()
}

// file returns the unfinished file called name, nil for none.
func (s *Set) file(name string) *File {
	for _, f := range s.files {
		if f.Name == name {
			return f
		}
	}
	return nil
}

// again takes size and hash of a closed file anew that was changed through its path.
func (f *File) again() error {
	open, err := os.OpenFile(f.tmp, os.O_RDWR, 0)
	if err != nil {
		return fmt.Errorf("output file %s: %w", f.path, err)
	}
	f.sum.Reset()
	n, err := io.Copy(f.sum, open)
	f.Bytes, f.SHA256 = n, fmt.Sprintf("%x", f.sum.Sum(nil))
	if err := errors.Join(err, open.Sync(), open.Close()); err != nil {
		return fmt.Errorf("output file %s: %w", f.path, err)
	}
	return nil
}

// moveLayer copies a table from one GeoPackage to another, with all that is said of it. Rows come in
// the order of their keys, so that equal tables give equal bytes.
func moveLayer(into, from, table string) error {
	db, err := openDatabase(into)
	if err != nil {
		return err
	}
	if _, err := db.Exec("ATTACH ? AS layer", from); err != nil {
		return errors.Join(err, db.Close())
	}
	tx, err := db.BeginTx(context.Background(), nil)
	if err != nil {
		return errors.Join(err, db.Close())
	}
	if err := copyLayer(tx, table); err != nil {
		return errors.Join(err, tx.Rollback(), db.Close())
	}
	return errors.Join(tx.Commit(), db.Close())
}

// copyLayer copies the table of the attached GeoPackage.
func copyLayer(tx *sql.Tx, table string) error {
	definition := func(kind string) (out []string, err error) {
		rows, err := tx.Query("SELECT sql FROM layer.sqlite_master WHERE type = ? AND tbl_name = ? "+
			"AND sql NOT NULL ORDER BY name", kind, table)
		if err != nil {
			return nil, err
		}
		for text := ""; rows.Next() && err == nil; {
			err = rows.Scan(&text)
			out = append(out, text)
		}
		return out, errors.Join(err, rows.Err(), rows.Close())
	}
	var steps []string
	for _, kind := range []string{"table", "index"} {
		list, err := definition(kind)
		if err != nil {
			return err
		}
		steps = append(steps, list...)
		if kind == "table" {
			steps = append(steps, "INSERT INTO main.{t} SELECT * FROM layer.{t} ORDER BY fid",
				"INSERT INTO main.gpkg_contents SELECT * FROM layer.gpkg_contents WHERE table_name = '{t}'",
				"INSERT INTO main.gpkg_geometry_columns SELECT * FROM layer.gpkg_geometry_columns",
				"INSERT INTO main.gpkg_extensions SELECT * FROM layer.gpkg_extensions WHERE table_name = '{t}'",
				"INSERT INTO main.gpkg_data_columns SELECT * FROM layer.gpkg_data_columns ORDER BY rowid",
				"INSERT OR IGNORE INTO main.gpkg_data_column_constraints "+
					"SELECT * FROM layer.gpkg_data_column_constraints ORDER BY rowid")
		}
	}
	var placed bool
	if err := tx.QueryRow("SELECT count(*) FROM layer.gpkg_geometry_columns").Scan(&placed); err != nil {
		return err
	}
	if placed {
		tree := "rtree_{t}_geometry"
		steps = append(steps, "INSERT INTO main.layer_styles SELECT NULL, f_table_catalog, f_table_schema, "+
			"f_table_name, f_geometry_column, styleName, styleQML, styleSLD, useAsDefault, description, owner, ui, "+
			"update_time FROM layer.layer_styles",
			"CREATE VIRTUAL TABLE main."+tree+" USING rtree(id, minx, maxx, miny, maxy)",
			"INSERT INTO main."+tree+" SELECT * FROM layer."+tree+" ORDER BY id")
		triggers, err := definition("trigger")
		if err != nil {
			return err
		}
		steps = append(steps, triggers...)
	}
	for _, step := range steps {
		if _, err := tx.Exec(strings.ReplaceAll(step, "{t}", table)); err != nil {
			return err
		}
	}
	return nil
}
