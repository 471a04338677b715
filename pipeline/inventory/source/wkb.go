package source

import (
	"encoding/binary"
	"errors"
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// Codes of the geometries in well-known binary (OGC 06-103r4 section 8.2.8). Z,
// M and ZM add 1000, 2000 and 3000; an older way sets high bits instead.
const (
	wkbPoint        = 1
	wkbPolygon      = 3
	wkbMultiPoint   = 4
	wkbMultiPolygon = 6

	wkbHighZ, wkbHighM, wkbHighSRID = 1 << 31, 1 << 30, 1 << 29
)

// wkbNames are the names of the types by code (OGC 06-103r4 Table 7).
var wkbNames = [...]string{
	"Geometry", "Point", "LineString", "Polygon", "MultiPoint", "MultiLineString", "MultiPolygon",
	"GeometryCollection", "CircularString", "CompoundCurve", "CurvePolygon", "MultiCurve", "MultiSurface",
	"Curve", "Surface", "PolyhedralSurface", "TIN", "Triangle",
}

// errShortWKB is the error of a geometry that ends before its counts say.
var errShortWKB = errors.New("a geometry that ends too early")

// parseWKB reads a point, a polygon or a multipolygon; a polygon becomes a
// multipolygon of one, a multipoint of one a point. Heights and measures are left out. An empty point is nil.
// No count is believed before the bytes behind it are there, so the memory is
// bounded by the length of b.
func parseWKB(b []byte) (orb.Geometry, error) {
	r := wkbReader{b: b}
	kind := r.header()
	var g orb.Geometry
	switch kind {
	case wkbPoint:
		if p := r.point(); !math.IsNaN(p[0]) || !math.IsNaN(p[1]) {
			g = p
		}
	case wkbMultiPoint:
		g = r.multiPoint()
	case wkbPolygon:
		g = orb.MultiPolygon{r.polygon()}
	case wkbMultiPolygon:
		n := r.count(1 + 4 + 4)
		many := make(orb.MultiPolygon, 0, n)
		for range n {
			if r.header() != wkbPolygon && r.err == nil {
				r.err = errors.New("a multipolygon of other things than polygons")
			}
			many = append(many, r.polygon())
		}
		g = many
	default:
		if r.err == nil {
			r.err = unread(kind)
		}
	}
	if r.err != nil {
		return nil, r.err
	}
	return g, nil
}

// unread is the error of a geometry that is no place of one building.
func unread(kind uint32) error {
	if kind < uint32(len(wkbNames)) {
		return errors.New("a " + wkbNames[kind])
	}
	return fmt.Errorf("a geometry of the unknown code %d", kind)
}

// A wkbReader reads from the front of b until the first error.
type wkbReader struct {
	b     []byte
	order binary.ByteOrder
	size  int // bytes a point
	err   error
}

// take returns the next n bytes, or nil once there are fewer.
func (r *wkbReader) take(n int) []byte {
	if r.err != nil || len(r.b) < n {
		if r.err == nil {
			r.err = errShortWKB
		}
		return nil
	}
	b := r.b[:n]
	r.b = r.b[n:]
	return b
}

// header reads the byte order and the type, and returns the type without its
// dimensions.
func (r *wkbReader) header() (kind uint32) {
	r.order = binary.BigEndian
	if b := r.take(1); b != nil && b[0] == 1 {
		r.order = binary.LittleEndian
	}
	kind = r.uint32()
	if kind&wkbHighSRID != 0 {
		r.take(4)
	}
	dims := 2
	if kind&wkbHighZ != 0 {
		dims++
	}
	if kind&wkbHighM != 0 {
		dims++
	}
	kind &^= wkbHighZ | wkbHighM | wkbHighSRID
	switch kind / 1000 {
	case 1, 2:
		dims = 3
	case 3:
		dims = 4
	}
	r.size = 8 * dims
	return kind % 1000
}

func (r *wkbReader) uint32() uint32 {
	if b := r.take(4); b != nil {
		return r.order.Uint32(b)
	}
	return 0
}

// count reads a number of things of at least size bytes each.
func (r *wkbReader) count(size int) int {
	n := uint64(r.uint32())
	if n*uint64(size) > uint64(len(r.b)) {
		r.take(len(r.b) + 1)
		return 0
	}
	return int(n)
}

func (r *wkbReader) point() orb.Point {
	b := r.take(r.size)
	if b == nil {
		return orb.Point{}
	}
	return orb.Point{math.Float64frombits(r.order.Uint64(b)), math.Float64frombits(r.order.Uint64(b[8:]))}
}

// multiPoint reads a multipoint and returns its point, if it has one only.
func (r *wkbReader) multiPoint() orb.Geometry {
	n := r.count(1 + 4 + 16)
	many := make(orb.MultiPoint, 0, n)
	for range n {
		if r.header() != wkbPoint && r.err == nil {
			r.err = errors.New("a MultiPoint of other things than points")
		}
		if p := r.point(); !math.IsNaN(p[0]) || !math.IsNaN(p[1]) {
			many = append(many, p)
		}
	}
	if r.err != nil {
		return nil
	}
	g, bad := single(many)
	if bad != "" {
		r.err = errors.New(bad)
	}
	return g
}

func (r *wkbReader) polygon() orb.Polygon {
	n := r.count(4)
	polygon := make(orb.Polygon, 0, n)
	for range n {
		points := r.count(r.size)
		ring := make(orb.Ring, 0, points)
		for range points {
			ring = append(ring, r.point())
		}
		polygon = append(polygon, ring)
	}
	return polygon
}
