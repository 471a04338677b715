package inventory

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"plinth/pipeline/plan"
)

// headFeatures is the number of features looked at for the names of properties.
const headFeatures = 100

// isGeoJSON reports whether the register of inv is GeoJSON.
func isGeoJSON(inv *plan.Inventory) bool { return strings.EqualFold(inv.Format, "geojson") }

// A geoSource splits a GeoJSON feature collection (RFC 7946) feature by feature.
// Properties are the cells of a row; ids are among them.
type geoSource struct {
	file  string
	json  *json.Decoder
	head  []feature // read ahead for the names of properties
	names []string  // of the mapped properties
	last  int       // number of the last feature read
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

func (r *Reader) openGeoJSON(in io.Reader, name string, inv *plan.Inventory) error {
	b := bufio.NewReaderSize(in, bufferSize)
	if mark, _ := b.Peek(3); string(mark) == "\uFEFF" {
		b.Discard(len(mark)) // it was peeked, so it can be discarded
	}
	s := &geoSource{file: name, json: json.NewDecoder(b)}
	s.json.UseNumber()
	if err := s.open(); err != nil {
		return err
	}
	header, err := s.readHead()
	if err != nil {
		return err
	}
	r.source = s
	r.mapping, err = newMapping(name, inv, header, func(at int) []string { return s.samples(header[at]) })
	if err != nil {
		return err
	}
	for _, c := range r.mapping.columns {
		s.names = append(s.names, c.header)
	}
	return nil
}

// open reads up to the first feature.
func (s *geoSource) open() error {
	t, err := s.json.Token()
	if err == io.EOF {
		return &FileError{File: s.file, Rule: "the file is empty", Remedy: "export the register again"}
	}
	if err != nil || t != json.Delim('{') {
		return s.invalid(err)
	}
	for s.json.More() {
		key, err := s.json.Token()
		if err != nil {
			return s.invalid(err)
		}
		if key == "features" {
			if t, err := s.json.Token(); err != nil || t != json.Delim('[') {
				return s.invalid(err)
			}
			return nil
		}
		if err := s.member(key); err != nil {
			return err
		}
	}
	return &FileError{File: s.file, Rule: "no member called features", Remedy: "the register must be one GeoJSON FeatureCollection"}
}

// member reads a member of the collection other than its features.
func (s *geoSource) member(key json.Token) error {
	var value json.RawMessage
	if err := s.json.Decode(&value); err != nil {
		return s.invalid(err)
	}
	if key != "crs" || string(value) == "null" {
		return nil
	}
	var crs struct {
		Properties struct {
			Name string `json:"name"`
		} `json:"properties"`
	}
	if json.Unmarshal(value, &crs) == nil {
		if n := crs.Properties.Name; strings.Contains(n, "CRS84") || strings.HasSuffix(n, "4326") {
			return nil
		}
	}
	return &FileError{File: s.file, Value: clip(string(value)), Rule: "its coordinates are not longitude and latitude on WGS 84",
		Remedy: "reproject the register to EPSG:4326; RFC 7946 knows no other"}
}

// readHead reads the first features and returns the names of their properties.
func (s *geoSource) readHead() ([]string, error) {
	names := make(map[string]bool)
	for len(s.head) < headFeatures {
		var f feature
		err := s.nextOrEnd(&f)
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

// next reads a feature, or the end of the file.
func (s *geoSource) next(f *feature) error {
	if s.json.More() {
		err := s.json.Decode(f)
		var kind *json.UnmarshalTypeError
		if errors.As(err, &kind) { // well-formed, but not a feature
			*f = feature{bad: fmt.Sprintf("%s where %s belongs", kind.Value, strings.TrimPrefix(kind.Field, "."))}
			return nil
		}
		if err == nil {
			return nil
		}
		return s.invalid(err)
	}
	if _, err := s.json.Token(); err != nil { // the closing bracket
		return s.invalid(err)
	}
	for s.json.More() {
		key, err := s.json.Token()
		if err != nil {
			return s.invalid(err)
		}
		if err := s.member(key); err != nil {
			return err
		}
	}
	if _, err := s.json.Token(); err != nil {
		return s.invalid(err)
	}
	return io.EOF
}

func (s *geoSource) invalid(err error) error {
	var syntax *json.SyntaxError
	if err == nil || errors.As(err, &syntax) || errors.Is(err, io.ErrUnexpectedEOF) || err == io.EOF {
		return &FileError{File: s.file, Rule: fmt.Sprintf("not GeoJSON at byte %d, behind feature %d", s.json.InputOffset(), s.last), Remedy: "export the register again as GeoJSON (RFC 7946)", Err: err}
	}
	return &FileError{File: s.file, Rule: "reading failed", Remedy: "check the disk or the connection and run again", Err: err}
}

// read appends up to n features to raw.
func (s *geoSource) read(raw *Raw, n int) error {
	for end := raw.Rows + n; raw.Rows < end; {
		var f feature
		if len(s.head) > 0 {
			f, s.head = s.head[0], s.head[1:]
		} else if err := s.nextOrEnd(&f); err != nil {
			return err
		}
		s.last++
		raw.Rows++
		shape, bad := f.shape()
		if f.bad != "" {
			bad = f.bad
		}
		if bad != "" {
			raw.rejects = append(raw.rejects, Reject{File: s.file, Line: s.last, Rule: BadFeature, Detail: bad})
			continue
		}
		raw.lines = append(raw.lines, s.last)
		raw.shapes = append(raw.shapes, shape)
		for _, name := range s.names {
			raw.cells = append(raw.cells, cell(f.Properties[name]))
		}
	}
	return nil
}

// nextOrEnd is next, and io.EOF again once the file has ended.
func (s *geoSource) nextOrEnd(f *feature) error {
	if s.json == nil {
		return io.EOF
	}
	err := s.next(f)
	if err == io.EOF {
		s.json = nil
	}
	return err
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
	case "Polygon":
		var p orb.Polygon
		err = json.Unmarshal(c, &p)
		g = orb.MultiPolygon{p}
	case "MultiPolygon":
		var p orb.MultiPolygon
		err = json.Unmarshal(c, &p)
		g = p
	default:
		return nil, fmt.Sprintf("a geometry of type %q", clip(f.Geometry.Type))
	}
	if err != nil {
		return nil, "coordinates of another kind than the geometry's type"
	}
	return g, ""
}

// cell returns a property as the text a cell would have.
func cell(v any) string {
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

// samples returns up to three values of a property.
func (s *geoSource) samples(name string) []string {
	var out []string
	for i := range s.head {
		if c := strings.TrimSpace(cell(s.head[i].Properties[name])); c != "" && len(out) < 3 {
			out = append(out, clip(c))
		}
	}
	return out
}
