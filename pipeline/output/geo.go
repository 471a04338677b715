package output

import (
	"encoding/binary"
	"encoding/json"
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkb"
)

// A geoColumn adds a geometry (WKB) and its bounding box to a table, by GeoParquet 1.1.0: a point
// by the columns lon and lat, or the polygon of Shape. Longitude comes before latitude. There is no
// crs, which means OGC:CRS84. A row without a place has a null in both columns.
type geoColumn[R any] struct {
	lon, lat *Column[R]
	shape    func(*R) orb.Polygon // nil for points
	box
}

// A box is the bounding box of the points that were added to it.
type box struct{ x, y span[float64] }

func (b *box) extend(x, y float64) {
	b.x.add(x)
	b.y.add(y)
}

// sides returns the least longitude and latitude, then the largest, in the order that GeoJSON and
// GeoParquet ask for.
func (b *box) sides() []float64 { return []float64{b.x.min, b.y.min, b.x.max, b.y.max} }

func newGeoColumn[R any](t *Table[R]) *geoColumn[R] {
	return &geoColumn[R]{lon: t.column("lon"), lat: t.column("lat"), shape: t.Shape}
}

// point returns the coordinates of row, rounded as its columns are written. ok is false for a row
// without coordinates.
func (g *geoColumn[R]) point(row *R) (x, y float64, ok bool) {
	x, y = g.lon.float(row), g.lat.float(row)
	return x, y, !math.IsNaN(x) && !math.IsNaN(y)
}

// kind returns the type of the geometry.
func (g *geoColumn[R]) kind() string {
	if g.shape != nil {
		return "Polygon"
	}
	return "Point"
}

// bound returns the bounding box of row's geometry. ok is false for a row without one.
func (g *geoColumn[R]) bound(row *R) (b orb.Bound, ok bool) {
	if g.shape != nil {
		shape := g.shape(row)
		return shape.Bound(), len(shape) > 0
	}
	x, y, ok := g.point(row)
	return orb.Bound{Min: orb.Point{x, y}, Max: orb.Point{x, y}}, ok
}

// wkb returns row's geometry as well-known binary, little-endian. The row has one.
func (g *geoColumn[R]) wkb(row *R) string {
	if g.shape != nil {
		return string(wkb.MustMarshal(g.shape(row), binary.LittleEndian))
	}
	x, y, _ := g.point(row)
	return pointWKB(x, y)
}

// see adds the geometry of row to the bounding box of the file.
func (g *geoColumn[R]) see(row *R) {
	if b, ok := g.bound(row); ok {
		g.extend(b.Min[0], b.Min[1])
		g.extend(b.Max[0], b.Max[1])
	}
}

// leaves returns the columns geometry and bbox. Both are optional, as GeoParquet 1.1 asks for a
// bbox beside an optional geometry.
func (g *geoColumn[R]) leaves() []leaf[R] {
	geometry := leaf[R]{name: "geometry", optional: true}
	geometry.text(kindBytes, func(r *R) (string, bool) {
		if _, ok := g.bound(r); !ok {
			return "", false
		}
		return g.wkb(r), true
	}, func(*stats, string) {})
	out := []leaf[R]{geometry}
	for _, side := range []struct {
		name string
		get  func(orb.Bound) float64
	}{{"xmin", orb.Bound.Left}, {"ymin", orb.Bound.Bottom}, {"xmax", orb.Bound.Right}, {"ymax", orb.Bound.Top}} {
		l := leaf[R]{group: "bbox", name: side.name, optional: true}
		l.double(func(r *R) (float64, bool) { b, ok := g.bound(r); return side.get(b), ok })
		out = append(out, l)
	}
	return out
}

// pointWKB returns a point as well-known binary, little-endian (OGC 06-103r4, 8.2.5: byte order 1,
// geometry type 1, x, y).
func pointWKB(x, y float64) string {
	var b [21]byte
	b[0] = 1
	binary.LittleEndian.PutUint32(b[1:], 1)
	binary.LittleEndian.PutUint64(b[5:], math.Float64bits(x))
	binary.LittleEndian.PutUint64(b[13:], math.Float64bits(y))
	return string(b[:])
}

// metadata returns the value of the key geo. Its geometry_types lists the types that occur, and so
// none for a file without points.
func (g *geoColumn[R]) metadata() string {
	type covering struct {
		XMin [2]string `json:"xmin"`
		YMin [2]string `json:"ymin"`
		XMax [2]string `json:"xmax"`
		YMax [2]string `json:"ymax"`
	}
	type column struct {
		Encoding string              `json:"encoding"`
		Types    []string            `json:"geometry_types"`
		BBox     []float64           `json:"bbox,omitempty"`
		Covering map[string]covering `json:"covering"`
	}
	c := column{Encoding: "WKB", Types: []string{}, Covering: map[string]covering{
		"bbox": {[2]string{"bbox", "xmin"}, [2]string{"bbox", "ymin"}, [2]string{"bbox", "xmax"},
			[2]string{"bbox", "ymax"}},
	}}
	if g.x.seen {
		c.Types, c.BBox = []string{g.kind()}, g.sides()
	}
	b, err := json.Marshal(struct {
		Version string            `json:"version"`
		Primary string            `json:"primary_column"`
		Columns map[string]column `json:"columns"`
	}{"1.1.0", "geometry", map[string]column{"geometry": c}})
	if err != nil {
		panic("output: geo metadata of finite numbers cannot fail to encode")
	}
	return string(b)
}
