package output

import (
	"database/sql"
	_ "embed" // the schema
	"errors"
	"fmt"
	"io"
	"strings"
)

// FormatGeoPackage is the format of maps for geographical information systems.
const FormatGeoPackage = "gpkg"

// geoPackageFormat declares the format. A style of ranks stands beside it as NAME.sld, themes for QGIS
// as NAME.qml.
func geoPackageFormat[R any]() format[R] {
	return format[R]{
		Format: Format{Name: FormatGeoPackage, Map: true, Audited: true, Large: FormatTiles},
		open: func(f *File, t *Table[R], about About) (rowWriter[R], error) {
			return NewGeoPackage(f.Path(), t, about)
		},
		beside: []beside[R]{
			{
				ending: "sld",
				suits:  func(t *Table[R]) bool { return t.column("rank") != nil },
				write:  func(w io.Writer, t *Table[R], _ About) error { return WriteStyle(w, t) },
			}, {
				ending: "qml",
				suits:  func(t *Table[R]) bool { return t.Name == Buildings.Name },
				write:  func(w io.Writer, t *Table[R], about About) error { return WriteThemes(w, t, about) },
			},
		},
	}
}

// A GeoPackage writes the rows of a table as a table of a GeoPackage 1.3 (OGC 12-128r17), which is an
// SQLite database. Points and outlines are in EPSG:4326 and have an R-tree; a table without either is
// one of attributes. The title and the meaning of each column stand in gpkg_data_columns, the words it
// may hold in gpkg_data_column_constraints, the caution in the description of the table.
//
// The primary key fid is the place of the row in the file and means nothing more. The description
// of the table names the column of the owner's id. The standard demands the time of the last
// change; it is the constant gpkgTime, so that equal runs write equal bytes.
type GeoPackage[R any] struct {
	t      *Table[R]
	about  About
	geo    *geoColumn[R] // nil for a table of attributes
	db     *sql.DB
	tx     *sql.Tx
	insert *sql.Stmt
	index  *sql.Stmt // into the R-tree, nil for a table of attributes
	rows   int64
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
	//go:embed geopackage_styles.sql
	gpkgStyles string
)

// NewGeoPackage returns a GeoPackage in the empty file at path. There never is a second file beside
// it.
func NewGeoPackage[R any](path string, t *Table[R], about About) (*GeoPackage[R], error) {
	db, err := openDatabase(path)
	if err != nil {
		return nil, fmt.Errorf("geopackage %s: %w", t.Name, err)
	}
	g := &GeoPackage[R]{t: t, about: about, db: db, values: make([]any, len(t.Columns), len(t.Columns)+1)}
	if t.placed() {
		g.geo = newGeoColumn(t)
		g.values = append(g.values, nil)
	}
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
	names := make([]string, len(g.t.Columns), len(g.values))
	for i := range g.t.Columns {
		names[i] = g.t.Columns[i].Name
	}
	if g.geo != nil {
		names = append(names, "geometry")
		if g.index, err = g.beginIndex(); err != nil {
			return err
		}
	}
	g.insert, err = g.tx.Prepare(fmt.Sprintf(`INSERT INTO %s ("%s") VALUES (?%s)`,
		g.t.Name, strings.Join(names, `", "`), strings.Repeat(", ?", len(names)-1)))
	return err
}

// createTable returns the statement that creates the feature table. The names of tables and columns
// are the program's own, never the owner's.
func (g *GeoPackage[R]) createTable() string {
	var b strings.Builder
	fmt.Fprintf(&b, "CREATE TABLE %s (fid INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL", g.t.Name)
	if g.geo != nil {
		b.WriteString(", geometry " + strings.ToUpper(g.geo.kind()))
	}
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

// Write writes one row.
func (g *GeoPackage[R]) Write(row *R) error {
	if err := g.t.check(row); err != nil {
		return err
	}
	g.rows++
	for i := range g.t.Columns {
		g.values[i] = g.t.Columns[i].stored(row)
	}
	if g.geo != nil {
		if err := g.place(row); err != nil {
			return fmt.Errorf("geopackage %s, building %q: %w", g.t.Name, g.t.id(row), err)
		}
	}
	if _, err := g.insert.Exec(g.values...); err != nil {
		return fmt.Errorf("geopackage %s, building %q: %w", g.t.Name, g.t.id(row), err)
	}
	return nil
}

// Close writes the triggers of the spatial index and ends the file.
func (g *GeoPackage[R]) Close() error {
	if err := errors.Join(g.finish(), g.db.Close()); err != nil {
		return fmt.Errorf("geopackage %s: %w", g.t.Name, err)
	}
	return nil
}

func (g *GeoPackage[R]) finish() error {
	if g.geo != nil {
		if err := g.endIndex(); err != nil {
			return err
		}
	}
	for _, column := range []string{"building_id", "rule"} { // what tables of attributes are joined by
		if g.geo == nil && g.t.column(column) != nil {
			create := fmt.Sprintf("CREATE INDEX %[1]s_%[2]s ON %[1]s (%[2]s)", g.t.Name, column)
			if _, err := g.tx.Exec(create); err != nil {
				return err
			}
		}
	}
	return errors.Join(g.insert.Close(), g.tx.Commit())
}
