package source

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"slices"
	"strings"

	"plinth/pipeline/internal/sizes"
	"plinth/pipeline/inventory/fault"
)

// sqliteMark opens every SQLite file (https://sqlite.org/fileformat2.html 1.3).
const sqliteMark = "SQLite format 3\x00"

// applicationIDs stand at byte 68 of a GeoPackage: since version 1.2, 1.0, 1.1
// (OGC 12-128r19 requirement 2).
var applicationIDs = []string{"GPKG", "GP10", "GP11"}

// A packageSource gives the rows of one table of a GeoPackage (OGC 12-128r19),
// in the order of their keys. The file is opened for reading only.
type packageSource struct {
	Frame
	ctx   context.Context // whose end ends every query
	db    *sql.DB
	table string
	shape string   // the column of geometries, "" if the table has none
	srs   int      // of the geometries, as the file numbers it
	names []string // of the picked columns
	rows  *sql.Rows
	last  int // number of the last row read
}

// openGeoPackage opens a table of features, or of attributes if there is none.
func openGeoPackage(ctx context.Context, file string, in io.Reader, layer string) (*packageSource, error) {
	f, ok := in.(*os.File)
	if !ok {
		return nil, &fault.FileError{File: file, Key: "inventory.format",
			Rule: "a GeoPackage is read from a file, not from a stream", Remedy: "save it first"}
	}
	s := &packageSource{ctx: ctx, Frame: Frame{File: file, Typed: true}}
	if err := s.marked(f); err != nil {
		return nil, err
	}
	err := s.open(f.Name(), layer)
	if err != nil {
		return nil, errors.Join(err, s.Close())
	}
	return s, nil
}

// marked checks the first bytes.
func (s *packageSource) marked(f io.ReaderAt) error {
	head := make([]byte, 100)
	if _, err := f.ReadAt(head, 0); err != nil || string(head[:16]) != sqliteMark {
		return &fault.FileError{File: s.File, Key: "inventory.format", Rule: "this is no GeoPackage",
			Remedy: "export the register as a GeoPackage, or write its format"}
	}
	if !slices.Contains(applicationIDs, string(head[68:72])) {
		return &fault.FileError{File: s.File,
			Rule:   "this is a database, but no GeoPackage: its application id is not GPKG",
			Remedy: "export the register as a GeoPackage"}
	}
	return nil
}

func (s *packageSource) open(path, layer string) error {
	if info, err := os.Stat(path + "-wal"); err == nil && info.Size() > 0 {
		return &fault.FileError{File: s.File,
			Rule:   "another program has the GeoPackage open and keeps its last changes beside it",
			Remedy: "close it there and run again"}
	}
	if hotJournal(path + "-journal") {
		return &fault.FileError{File: s.File,
			Rule: "another program is writing the GeoPackage, or ended half-way and left a journal beside it",
			Remedy: "close it there, or open and close the GeoPackage with a program that may write it, " +
				"and run again"}
	}
	var err error
	if s.db, err = sizes.OpenDatabase(path); err != nil {
		return s.damaged("the GeoPackage cannot be opened", err)
	}
	if err := s.choose(layer); err != nil {
		return err
	}
	return s.describe()
}

// hotJournal reports whether a rollback journal holds pages that belong back into the
// database: it is there, not empty, and does not begin with a zero, as one does that is
// over (https://sqlite.org/atomiccommit.html 4.2).
func hotJournal(path string) bool {
	f, err := os.Open(path)
	if err != nil {
		return !errors.Is(err, fs.ErrNotExist)
	}
	defer f.Close()
	var first [1]byte
	n, _ := f.Read(first[:])
	return n == 1 && first[0] != 0
}

// mostLayers is the most tables that are looked at in a GeoPackage (judgement).
const mostLayers = 10_000

// layers returns the names of the tables by their kind.
func (s *packageSource) layers() (map[string][]string, error) {
	names := map[string][]string{}
	rows, err := s.db.QueryContext(s.ctx, `SELECT table_name, data_type FROM gpkg_contents LIMIT ?`,
		mostLayers+1)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for n := 0; rows.Next(); n++ {
		var name, kind string
		if n == mostLayers {
			return nil, fmt.Errorf("more than %d tables", mostLayers)
		}
		if err := rows.Scan(&name, &kind); err != nil {
			return nil, err
		}
		names[kind] = append(names[kind], name)
	}
	for _, of := range names {
		slices.Sort(of)
	}
	return names, rows.Err()
}

// standardTables checks that the tables of the standard are tables. A view may run whatever
// its author likes.
func (s *packageSource) standardTables() error {
	for _, name := range [...]string{"gpkg_contents", "gpkg_geometry_columns", "gpkg_spatial_ref_sys"} {
		if kind, err := s.kindOf(name); err != nil || kind != "table" && kind != "" {
			return s.damaged("what should be the table "+name+" is none", err)
		}
	}
	return nil
}

// kindOf returns what a name of the database is: a table, a view, or "" for nothing.
func (s *packageSource) kindOf(name string) (kind string, err error) {
	err = s.db.QueryRowContext(s.ctx, `SELECT type FROM sqlite_schema WHERE name = ? COLLATE NOCASE`,
		name).Scan(&kind)
	if errors.Is(err, sql.ErrNoRows) {
		err = nil
	}
	return kind, err
}

// choose finds the table to read.
func (s *packageSource) choose(layer string) error {
	if err := s.standardTables(); err != nil {
		return err
	}
	names, err := s.layers()
	if err != nil {
		return s.damaged("the list of tables cannot be read", err)
	}
	all := slices.Concat(names["features"], names["attributes"])
	e := &fault.FileError{File: s.File, Key: "inventory.layer", Value: layer,
		Rule: "no such table of features", Remedy: fault.DidYouMean(layer, all)}
	switch {
	case layer != "" && slices.Contains(all, layer):
		s.table = layer
	case layer != "":
		return e
	case len(names["features"]) == 1:
		s.table = names["features"][0]
	case len(names["features"]) == 0 && len(names["attributes"]) == 1:
		s.table = names["attributes"][0]
	case len(all) == 0:
		e.Key, e.Rule, e.Remedy = "", "the GeoPackage has no table of features", "export the register again"
		return e
	default:
		e.Rule, e.Remedy = fmt.Sprintf("the GeoPackage has %d tables", len(all)),
			"name the register under [inventory], such as layer = \""+all[0]+
				"\"; there are "+strings.Join(all, ", ")
		return e
	}
	if len(all) > 1 {
		s.Note("table %s of the GeoPackage was read; it also has %d others", s.table, len(all)-1)
	}
	return nil
}

// describe reads the table's columns and its geometry's reference system.
func (s *packageSource) describe() error {
	if kind, err := s.kindOf(s.table); err != nil || kind != "table" {
		return &fault.FileError{File: s.File, Key: "inventory.layer", Value: s.table,
			Rule: "not a table but a view, or missing", Remedy: "export the view as a table", Err: err}
	}
	var organization string
	var code int
	err := s.db.QueryRowContext(s.ctx, `
		SELECT g.column_name, g.srs_id, r.organization, r.organization_coordsys_id
		FROM gpkg_geometry_columns g JOIN gpkg_spatial_ref_sys r ON r.srs_id = g.srs_id
		WHERE g.table_name = ? COLLATE NOCASE`, s.table).Scan(&s.shape, &s.srs, &organization, &code)
	switch {
	case errors.Is(err, sql.ErrNoRows): // attributes only
	case err != nil && s.has("gpkg_geometry_columns"):
		return s.damaged("the column of geometries cannot be read", err)
	case err == nil:
		s.Drawn, s.system = true, fmt.Sprintf("%s:%d", strings.ToUpper(organization), code)
		if s.srs == 0 || s.srs == -1 { // not known, whatever it is called: OGC 12-128r19 requirement 11
			s.system = noSystem
		}
	}
	rows, err := s.db.QueryContext(s.ctx, `SELECT name FROM pragma_table_info(?) ORDER BY cid`, s.table)
	if err != nil {
		return s.damaged("the table's columns cannot be read", err)
	}
	defer rows.Close()
	for rows.Next() {
		var name string
		if err := rows.Scan(&name); err != nil {
			return s.damaged("the table's columns cannot be read", err)
		}
		if name != s.shape {
			s.Header = append(s.Header, name)
		}
	}
	return rows.Err()
}

// has reports whether the database has a name, or cannot say.
func (s *packageSource) has(name string) bool {
	kind, err := s.kindOf(name)
	return err != nil || kind != ""
}
