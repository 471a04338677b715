package source

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"slices"
	"strconv"

	"github.com/paulmach/orb"

	"plinth/pipeline/inventory/fault"
)

// HeadFeatures is the number of features looked at for the names of properties.
const HeadFeatures = 100

// A geoSource gives the features of GeoJSON (RFC 7946). Properties are the cells
// of a row; ids are among them.
type geoSource struct {
	Frame
	next  func(*feature) error // io.EOF at the end, then and again
	head  []feature            // read ahead for the names of properties
	names []string             // of the picked properties
	last  int                  // number of the last feature read
}

// A feature is one feature of a collection.
type feature struct {
	Type       string         `json:"type"`
	Properties map[string]any `json:"properties"`
	Geometry   *geometry      `json:"geometry"`

	bad string // why it cannot be read
}

type geometry struct {
	Type        string          `json:"type"`
	Coordinates json.RawMessage `json:"coordinates"`
}

// openGeoJSON reads the first features of a collection, or of lines of features.
func openGeoJSON(file string, in io.Reader, lines bool) (*geoSource, error) {
	b := bufio.NewReaderSize(in, bufferSize)
	if mark, _ := b.Peek(len(byteOrderMark)); string(mark) == byteOrderMark {
		b.Discard(len(mark)) // it was peeked, so it can be discarded
	}
	s := &geoSource{Frame: Frame{File: file, Drawn: true, Typed: true}}
	if lines {
		l := &featureLines{Frame: &s.Frame, in: b}
		s.next = l.next
	} else {
		c := &featureCollection{Frame: &s.Frame, ration: ration{in: b, left: longestFeature}}
		c.json = json.NewDecoder(&c.ration)
		if err := c.open(); err != nil {
			return nil, err
		}
		s.next = c.nextOrEnd
	}
	var err error
	s.Header, err = s.readHead()
	return s, err
}

func (s *geoSource) Pick(at []int) {
	for _, i := range at {
		s.names = append(s.names, s.Header[i])
	}
}

// readHead reads the first features and returns the names of their properties.
func (s *geoSource) readHead() ([]string, error) {
	names := make(map[string]bool)
	for len(s.head) < HeadFeatures {
		var f feature
		err := s.next(&f)
		if err == io.EOF {
			break
		}
		if err != nil {
			return nil, err
		}
		for n := range f.Properties {
			names[n] = true
		}
		s.head = append(s.head, f)
	}
	return slices.Sorted(maps.Keys(names)), nil
}

// Next appends up to n features.
func (s *geoSource) Next(to *Rows, n int) error {
	for end := to.N + n; to.N < end; {
		var f feature
		if len(s.head) > 0 {
			f, s.head = s.head[0], s.head[1:]
		} else if err := s.next(&f); err != nil {
			return err
		}
		s.last++
		to.N++
		shape, bad := f.shape()
		if f.bad != "" {
			bad = f.bad
		}
		if bad != "" {
			to.Bad = append(to.Bad, Bad{Line: s.last, Fault: BadFeature, Detail: bad})
			continue
		}
		to.Lines = append(to.Lines, s.last)
		to.Shapes = append(to.Shapes, shape)
		for _, name := range s.names {
			to.Cells = append(to.Cells, property(f.Properties[name]))
		}
	}
	return nil
}

// shape returns the feature's geometry, nil if it has none.
func (f *feature) shape() (g orb.Geometry, bad string) {
	if f.Geometry == nil {
		return nil, ""
	}
	var err error
	c := f.Geometry.Coordinates
	switch f.Geometry.Type {
	case "Point":
		var p orb.Point
		err = json.Unmarshal(c, &p)
		g = p
	case "MultiPoint":
		var p orb.MultiPoint
		if err = json.Unmarshal(c, &p); err == nil {
			return single(p)
		}
	case "Polygon":
		var p orb.Polygon
		err = json.Unmarshal(c, &p)
		g = orb.MultiPolygon{p}
	case "MultiPolygon":
		var p orb.MultiPolygon
		err = json.Unmarshal(c, &p)
		g = p
	default:
		return nil, named(f.Geometry.Type)
	}
	if err != nil {
		return nil, "coordinates of another kind than the geometry's type"
	}
	return g, ""
}

// single returns the point of a MultiPoint with one point. Some programs write every
// geometry as one of many.
func single(p orb.MultiPoint) (g orb.Geometry, bad string) {
	switch len(p) {
	case 0:
		return nil, ""
	case 1:
		return p[0], ""
	}
	return nil, fmt.Sprintf("a MultiPoint of %d points", len(p))
}

// named names a type of geometry that cannot be the place of one building.
func named(kind string) string {
	if slices.Contains(wkbNames[:], kind) {
		return "a " + kind
	}
	return fmt.Sprintf("a geometry of type %s", strconv.QuoteToASCII(fault.Clip(kind)))
}

// property returns a property of a feature as the text a cell would have.
func property(v any) string {
	switch v := v.(type) {
	case nil:
		return ""
	case string:
		return v
	case json.Number:
		return v.String()
	case bool:
		return fmt.Sprint(v)
	}
	text, _ := json.Marshal(v) // it came from JSON
	return string(text)
}

func (s *geoSource) Samples(at int) []string {
	name := s.Header[at]
	var out []string
	for i := range s.head {
		out = sample(out, property(s.head[i].Properties[name]))
	}
	return out
}
