package output

import (
	"database/sql"
	_ "embed" // the schema
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
)

// FormatGeoPackage is the format of maps for geographical information systems.
const FormatGeoPackage = "gpkg"

// geoPackageFormat declares the format. A style of ranks stands beside it as NAME.sld.
func geoPackageFormat[R any]() format[R] {
	return format[R]{
		Format: Format{Name: FormatGeoPackage, Map: true, Audited: true, Large: FormatTiles},
		open: func(f *File, t *Table[R], about About) (rowWriter[R], error) {
			return NewGeoPackage(f.Path(), t, about)
		},
		beside: &beside[R]{
			ending: "sld",
			suits:  func(t *Table[R]) bool { return t.column("rank") != nil },
			write:  func(w io.Writer, t *Table[R], _ About) error { return WriteStyle(w, t) },
		},
	}
}

// A GeoPackage writes the rows of a table with points as a feature table of a GeoPackage 1.3 (OGC
// 12-128r17), which is an SQLite database. The points are in EPSG:4326 and have an R-tree. The
// meaning of each column stands in gpkg_data_columns, the caution in the description of the table.
//
// The primary key fid is the place of the row in the file and means nothing more. The description
// of the table names the column of the owner's id. The standard demands the time of the last
// change; it is the constant gpkgTime, so that equal runs write equal bytes.
type GeoPackage[R any] struct {
	t      *Table[R]
	about  About
	geo    *geoColumn[R]
	db     *sql.DB
	tx     *sql.Tx
	insert *sql.Stmt
	values []any // of one row, the geometry last
}

// gpkgTime is written wherever a GeoPackage must have a time.
const gpkgTime = "1970-01-01T00:00:00.000Z"

// gpkgSRS is the spatial reference of the points, EPSG:4326. A GeoPackage stores longitude before
// latitude (requirement 19, by ISO 13249-3), whatever the order of axes in the register of EPSG.
const gpkgSRS = 4326

var (
	//go:embed geopackage.sql
	gpkgSchema string
	//go:embed geopackage_rtree.sql
	gpkgIndex string
)

// NewGeoPackage returns a GeoPackage in the empty file at path. There never is a second file beside
// it.
func NewGeoPackage[R any](path string, t *Table[R], about About) (*GeoPackage[R], error) {
	db, err := openDatabase(path)
	if err != nil {
		return nil, fmt.Errorf("geopackage %s: %w", t.Name, err)
	}
	g := &GeoPackage[R]{t: t, about: about, geo: newGeoColumn(t), db: db, values: make([]any, len(t.Columns)+1)}
	if err := g.begin(); err != nil {
		return nil, errors.Join(fmt.Errorf("geopackage %s: %w", t.Name, err), g.db.Close())
	}
	return g, nil
}

// begin creates the tables and prepares the statement for rows.
func (g *GeoPackage[R]) begin() error {
	if _, err := g.db.Exec(gpkgSchema); err != nil {
		return err
	}
	var err error
	if g.tx, err = g.db.Begin(); err != nil {
		return err
	}
	if _, err := g.tx.Exec(g.createTable()); err != nil {
		return err
	}
	if err := g.describe(); err != nil {
		return err
	}
	marks := strings.Repeat("?, ", len(g.t.Columns)) + "?"
	names := make([]string, len(g.t.Columns))
	for i := range g.t.Columns {
		names[i] = g.t.Columns[i].Name
	}
	g.insert, err = g.tx.Prepare(fmt.Sprintf(`INSERT INTO %s ("%s", geometry) VALUES (%s)`,
		g.t.Name, strings.Join(names, `", "`), marks))
	return err
}

// createTable returns the statement that creates the feature table. The names of tables and columns
// are the program's own, never the owner's.
func (g *GeoPackage[R]) createTable() string {
	var b strings.Builder
	fmt.Fprintf(&b, "CREATE TABLE %s (fid INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL, geometry POINT", g.t.Name)
	for i := range g.t.Columns {
		c := &g.t.Columns[i]
		fmt.Fprintf(&b, `, "%s" %s`, c.Name, c.gpkgType())
		if c.Required {
			b.WriteString(" NOT NULL")
		}
	}
	return b.String() + ")"
}

// gpkgType returns the type of the column by table 1 of the standard.
func (c *Column[R]) gpkgType() string {
	switch {
	case c.Float != nil:
		return "DOUBLE"
	case c.Text != nil:
		return "TEXT"
	case c.Int != nil:
		return "INTEGER"
	default:
		return "BOOLEAN"
	}
}

// describe writes what the table is and what its columns mean.
func (g *GeoPackage[R]) describe() error {
	t := g.t
	notes := t.Doc
	for _, kv := range g.about.notes(t.ID) {
		if kv[0] == "caution" {
			notes += " " + kv[1]
			continue
		}
		notes += " " + kv[0] + ": " + kv[1] + "."
	}
	const schema = "http://www.geopackage.org/spec130/#extension_schema"
	const rtree = "http://www.geopackage.org/spec130/#extension_rtree"
	for _, s := range []struct {
		sql  string
		args []any
	}{
		{"INSERT INTO gpkg_contents VALUES (?, 'features', ?, ?, ?, NULL, NULL, NULL, NULL, ?)",
			[]any{t.Name, t.Title, notes, gpkgTime, gpkgSRS}},
		{"INSERT INTO gpkg_geometry_columns VALUES (?, 'geometry', 'POINT', ?, 0, 0)", []any{t.Name, gpkgSRS}},
		{"INSERT INTO gpkg_extensions VALUES ('gpkg_data_columns', NULL, 'gpkg_schema', ?, 'read-write'), " +
			"('gpkg_data_column_constraints', NULL, 'gpkg_schema', ?, 'read-write'), (?, 'geometry', " +
			"'gpkg_rtree_index', ?, 'write-only')",
			[]any{schema, schema, t.Name, rtree}},
	} {
		if _, err := g.tx.Exec(s.sql, s.args...); err != nil {
			return err
		}
	}
	for i := range t.Columns {
		c := &t.Columns[i]
		title := c.Name
		if c.Unit != "" {
			title += ", " + c.Unit
		}
		if _, err := g.tx.Exec("INSERT INTO gpkg_data_columns VALUES (?, ?, ?, ?, ?, NULL, NULL)", t.Name, c.Name,
			c.Name, title, c.Doc); err != nil {
			return err
		}
	}
	return nil
}

// Write writes one row.
func (g *GeoPackage[R]) Write(row *R) error {
	if err := g.t.check(row); err != nil {
		return err
	}
	for i := range g.t.Columns {
		g.values[i] = g.t.Columns[i].stored(row)
	}
	last := len(g.values) - 1
	g.values[last] = nil
	if x, y, ok := g.geo.point(row); ok {
		g.values[last] = pointGPKG(x, y)
		g.geo.extend(x, y)
	}
	if _, err := g.insert.Exec(g.values...); err != nil {
		return fmt.Errorf("geopackage %s, building %q: %w", g.t.Name, g.t.id(row), err)
	}
	return nil
}

// pointGPKG returns a point as a GeoPackage stores it (clause 2.1.3): "GP", version 0, flags for
// little-endian and an envelope of x and y, the spatial reference, the envelope as least and
// largest x and y, then well-known binary.
func pointGPKG(x, y float64) []byte {
	b := append(make([]byte, 0, 61), 'G', 'P', 0, 1|1<<1)
	b = binary.LittleEndian.AppendUint32(b, gpkgSRS)
	for _, v := range [...]float64{x, x, y, y} {
		b = binary.LittleEndian.AppendUint64(b, math.Float64bits(v))
	}
	return append(b, pointWKB(x, y)...)
}

// Close writes the spatial index and ends the file.
func (g *GeoPackage[R]) Close() error {
	if err := errors.Join(g.finish(), g.db.Close()); err != nil {
		return fmt.Errorf("geopackage %s: %w", g.t.Name, err)
	}
	return nil
}

func (g *GeoPackage[R]) finish() error {
	if g.geo.x.seen {
		_, err := g.tx.Exec("UPDATE gpkg_contents SET min_x = ?, min_y = ?, max_x = ?, max_y = ?",
			g.geo.x.min, g.geo.y.min, g.geo.x.max, g.geo.y.max)
		if err != nil {
			return err
		}
	}
	if _, err := g.tx.Exec(strings.ReplaceAll(gpkgIndex, "{t}", g.t.Name)); err != nil {
		return err
	}
	return errors.Join(g.insert.Close(), g.tx.Commit())
}
