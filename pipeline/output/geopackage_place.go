package output

import (
	"database/sql"
	"encoding/binary"
	"math"
	"strings"

	"github.com/paulmach/orb"
)

// place puts the geometry of row last among the values, and its box into the R-tree.
func (g *GeoPackage[R]) place(row *R) error {
	last := len(g.values) - 1
	g.values[last] = nil
	b, ok := g.geo.bound(row)
	if !ok {
		return nil
	}
	g.values[last] = geometryGPKG(b, g.geo.wkb(row))
	g.geo.see(row)
	_, err := g.index.Exec(g.rows, b.Left(), b.Right(), b.Bottom(), b.Top())
	return err
}

// geometryGPKG returns a geometry as a GeoPackage stores it (clause 2.1.3): "GP", version 0, flags for
// little-endian and an envelope of x and y, the spatial reference, the envelope as least and
// largest x and y, then well-known binary.
func geometryGPKG(b orb.Bound, wkb string) []byte {
	out := append(make([]byte, 0, 40+len(wkb)), 'G', 'P', 0, 1|1<<1)
	out = binary.LittleEndian.AppendUint32(out, gpkgSRS)
	for _, v := range [...]float64{b.Left(), b.Right(), b.Bottom(), b.Top()} {
		out = binary.LittleEndian.AppendUint64(out, math.Float64bits(v))
	}
	return append(out, wkb...)
}

// beginIndex creates the R-tree and returns the statement that fills it.
func (g *GeoPackage[R]) beginIndex() (*sql.Stmt, error) {
	tree := "rtree_" + g.t.Name + "_geometry"
	_, err := g.tx.Exec("CREATE VIRTUAL TABLE " + tree + " USING rtree(id, minx, maxx, miny, maxy)")
	if err != nil {
		return nil, err
	}
	return g.tx.Prepare("INSERT INTO " + tree + " VALUES (?, ?, ?, ?, ?)")
}

// endIndex writes the box of the whole table and the triggers that keep the R-tree.
func (g *GeoPackage[R]) endIndex() error {
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
	return g.index.Close()
}
