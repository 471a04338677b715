package output

import (
	"bufio"
	"io"
	"math"
	"strconv"
)

// The formats of GeoJSON: one collection, and one feature a line.
const (
	FormatGeoJSON  = "geojson"
	FormatGeoLines = "geojsonl"
)

// geoJSONFormat declares the format of one collection.
func geoJSONFormat[R any]() format[R] {
	return format[R]{
		Format: Format{Name: FormatGeoJSON, Map: true, Audited: true},
		open:   func(f *File, t *Table[R], _ About) (rowWriter[R], error) { return NewGeoJSON(f, t), nil },
	}
}

// geoLinesFormat declares the format of one feature a line.
func geoLinesFormat[R any]() format[R] {
	return format[R]{
		Format: Format{Name: FormatGeoLines, Map: true, Audited: true},
		open:   func(f *File, t *Table[R], _ About) (rowWriter[R], error) { return NewGeoJSONLines(f, t), nil },
	}
}

// A GeoJSON writes the rows of a table with points as GeoJSON (RFC 7946), one feature a line, and
// does not hold them. It writes either one FeatureCollection or, for big runs, lines that each are
// a Feature.
//
// There is no crs member: coordinates are longitude and latitude on WGS 84. They have seven
// decimals, about 1 cm. The properties lon and lat are those of the other formats. A row without
// coordinates has a null geometry. A feature has the owner's id as its id if the id alone tells the
// rows apart. The caution is a foreign member of the collection, or of the first line.
type GeoJSON[R any] struct {
	t     *Table[R]
	geo   *geoColumn[R]
	w     *bufio.Writer
	line  []byte
	lines bool // no collection around
	n     int64
	shown box // of the points as written
}

// NewGeoJSON returns a GeoJSON that writes a FeatureCollection to w. The caller closes w after
// Close.
func NewGeoJSON[R any](w io.Writer, t *Table[R]) *GeoJSON[R] {
	g := &GeoJSON[R]{t: t, geo: newGeoColumn(t), w: bufio.NewWriterSize(w, 64<<10)}
	g.line = appendCaution(append(g.line, `{"type":"FeatureCollection",`...))
	g.w.Write(append(g.line, `,"features":[`...)) // an error stays in g.w
	return g
}

// NewGeoJSONLines returns a GeoJSON that writes newline-delimited features to w. The caller closes
// w after Close.
func NewGeoJSONLines[R any](w io.Writer, t *Table[R]) *GeoJSON[R] {
	return &GeoJSON[R]{t: t, geo: newGeoColumn(t), w: bufio.NewWriterSize(w, 64<<10), lines: true}
}

// Write writes one row.
func (g *GeoJSON[R]) Write(row *R) error {
	if err := g.t.check(row); err != nil {
		return err
	}
	b := g.line[:0]
	if !g.lines {
		if g.n > 0 {
			b = append(b, ',')
		}
		b = append(b, '\n')
	}
	b = append(b, `{"type":"Feature",`...)
	if g.lines && g.n == 0 {
		b = append(appendCaution(b), ',')
	}
	if len(g.t.Key) == 1 && g.t.Key[0] == g.t.ID {
		b = append(appendJSON(append(b, `"id":`...), g.t.id(row)), ',')
	}
	b = append(g.appendPoint(append(b, `"geometry":`...), row), `,"properties":{`...)
	for i := range g.t.Columns {
		if i > 0 {
			b = append(b, ',')
		}
		b = append(append(append(b, '"'), g.t.Columns[i].Name...), `":`...)
		b = g.t.Columns[i].appendJSON(b, row)
	}
	b = append(b, "}}"...)
	if g.lines {
		b = append(b, '\n')
	}
	g.line = b
	g.n++
	_, err := g.w.Write(b)
	return err
}

// appendPoint appends the geometry of row and widens the box of the file by it.
func (g *GeoJSON[R]) appendPoint(b []byte, row *R) []byte {
	x, y, ok := g.geo.point(row)
	if !ok {
		return append(b, "null"...)
	}
	x, y = sevenDecimals(x), sevenDecimals(y)
	g.shown.extend(x, y)
	b = appendFloat(append(b, `{"type":"Point","coordinates":[`...), x)
	return append(appendFloat(append(b, ','), y), "]}"...)
}

// sevenDecimals returns v to seven decimals, which is finer than any survey of a building and which
// RFC 7946 11.2 allows.
func sevenDecimals(v float64) float64 { return math.Round(v*1e7) / 1e7 }

// Close ends the collection, with its bounding box if it has points, and writes the buffered bytes.
func (g *GeoJSON[R]) Close() error {
	if !g.lines {
		b := append(g.line[:0], "\n]"...)
		if g.shown.x.seen {
			b = append(b, `,"bbox":[`...)
			for i, v := range g.shown.sides() {
				if i > 0 {
					b = append(b, ',')
				}
				b = appendFloat(b, v)
			}
			b = append(b, ']')
		}
		g.w.Write(append(b, "}\n"...))
	}
	return g.w.Flush()
}

// appendJSON appends the value of row in the column as JSON, or null if it is missing.
func (c *Column[R]) appendJSON(b []byte, row *R) []byte {
	switch {
	case c.missing(row):
		return append(b, "null"...)
	case c.Float != nil:
		return appendRounded(b, *c.Float(row), c.digits())
	case c.Text != nil:
		return appendJSON(b, *c.Text(row))
	case c.Int != nil:
		return strconv.AppendInt(b, *c.Int(row), 10)
	default:
		return strconv.AppendBool(b, *c.Bool(row))
	}
}

func appendCaution(b []byte) []byte { return appendJSON(append(b, `"caution":`...), Caution) }

// appendJSON appends s as a JSON string (RFC 8259, 7). It also escapes the line ends U+2028, U+2029
// and U+0085, which some readers of lines obey.
func appendJSON(b []byte, s string) []byte {
	const hex = "0123456789abcdef"
	b = append(b, '"')
	for _, r := range cleanText(s) {
		switch {
		case r == '"' || r == '\\':
			b = append(b, '\\', byte(r))
		case r < ' ' || r == 0x7f:
			b = append(b, '\\', 'u', '0', '0', hex[r>>4], hex[r&15])
		case r == '\u2028' || r == '\u2029' || r == '\u0085':
			b = append(b, '\\', 'u', hex[r>>12], hex[r>>8&15], hex[r>>4&15], hex[r&15])
		default:
			b = append(b, string(r)...)
		}
	}
	return append(b, '"')
}
