package source

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"

	"plinth/pipeline/inventory/fault"
)

// A featureCollection gives the features of one GeoJSON feature collection.
type featureCollection struct {
	*Frame
	json   *json.Decoder // nil once the collection has ended
	ration ration        // of one feature
	last   int           // number of the last feature read
}

// A ration gives a limited number of bytes of its input. The decoder keeps a value in memory
// until the value has ended, so that a value without an end would fill it.
type ration struct {
	in   io.Reader
	left int
}

var errRation = errors.New("more than 16 MB without an end")

func (r *ration) Read(p []byte) (int, error) {
	if r.left <= 0 {
		return 0, errRation
	}
	n, err := r.in.Read(p[:min(len(p), r.left)])
	r.left -= n
	return n, err
}

// open reads up to the first feature.
func (c *featureCollection) open() error {
	t, err := c.json.Token()
	if err == io.EOF {
		return &fault.FileError{File: c.File, Rule: "the file is empty", Remedy: "export the register again"}
	}
	if err != nil || t != json.Delim('{') {
		return c.invalid(err)
	}
	found, err := c.members()
	if err != nil {
		return err
	}
	if found {
		if t, err := c.json.Token(); err != nil || t != json.Delim('[') {
			return c.invalid(err)
		}
		return nil
	}
	return &fault.FileError{File: c.File, Rule: "no member called features",
		Remedy: "the register must be one GeoJSON FeatureCollection; write format = \"geojson-lines\" " +
			"under [inventory] if each line is a feature"}
}

// members reads members of the collection up to the one called features, of which it reads the
// name. It reports whether there is one.
func (c *featureCollection) members() (bool, error) {
	for c.json.More() {
		key, err := c.json.Token()
		if err != nil {
			return false, c.invalid(err)
		}
		if key == "features" {
			return true, nil
		}
		if err := c.member(key); err != nil {
			return false, err
		}
	}
	return false, nil
}

// member reads a member of the collection other than its features.
func (c *featureCollection) member(key json.Token) error {
	var value json.RawMessage
	if err := c.json.Decode(&value); err != nil {
		return c.invalid(err)
	}
	if key != "crs" || string(value) == "null" {
		return nil
	}
	var crs struct {
		Properties struct {
			Name string `json:"name"`
		} `json:"properties"`
	}
	if json.Unmarshal(value, &crs) != nil || crs.Properties.Name == "" {
		return notDegrees(c.File, string(value))
	}
	system := systemOf(crs.Properties.Name)
	if c.last > 0 && !sameSystem(system, c.system) { // the features before were read without
		return notDegrees(c.File, system+" behind the features")
	}
	c.system = system
	return nil
}

// next reads a feature, or the end of the file.
func (c *featureCollection) next(f *feature) error {
	c.ration.left = longestFeature
	if c.json.More() {
		if err := f.decode(c.json); err != nil {
			return c.invalid(err)
		}
		c.last++
		return nil
	}
	if _, err := c.json.Token(); err != nil { // the closing bracket
		return c.invalid(err)
	}
	if found, err := c.members(); err != nil {
		return err
	} else if found {
		return c.more("a second member called features")
	}
	if _, err := c.json.Token(); err != nil {
		return c.invalid(err)
	}
	if _, err := c.json.Token(); err != io.EOF {
		return c.more("something stands behind the end of the collection")
	}
	return io.EOF
}

// more is the error of a file with more than the collection that was read.
func (c *featureCollection) more(what string) error {
	return &fault.FileError{File: c.File,
		Rule: fmt.Sprintf("%s, at byte %d, behind feature %d", what, c.json.InputOffset(), c.last),
		Remedy: "put all features into one collection, or write one feature a line " +
			"(format = \"geojson-lines\")"}
}

func (c *featureCollection) invalid(err error) error {
	var syntax *json.SyntaxError
	if errors.Is(err, errRation) {
		return &fault.FileError{File: c.File,
			Rule:   fmt.Sprintf("a member or feature of more than 16 MB behind feature %d", c.last),
			Remedy: "look at what stands there and export the register again"}
	}
	if err == nil || errors.As(err, &syntax) || errors.Is(err, io.ErrUnexpectedEOF) || err == io.EOF {
		return &fault.FileError{File: c.File,
			Rule:   fmt.Sprintf("not GeoJSON at byte %d, behind feature %d", c.json.InputOffset(), c.last),
			Remedy: "export the register again as GeoJSON (RFC 7946)", Err: err}
	}
	return c.Broken(err)
}

// nextOrEnd reads as next does, and returns io.EOF again and again once the file has ended.
func (c *featureCollection) nextOrEnd(f *feature) error {
	if c.json == nil {
		return io.EOF
	}
	err := c.next(f)
	if err == io.EOF {
		c.json = nil
	}
	return err
}

// decode reads one feature. Well-formed JSON that is not a feature is kept as bad.
func (f *feature) decode(d *json.Decoder) error {
	var text json.RawMessage
	if err := d.Decode(&text); err != nil {
		return err
	}
	if bad := flaw(text); bad != "" {
		*f = feature{bad: bad}
		return nil
	}
	whole := json.NewDecoder(bytes.NewReader(text))
	whole.UseNumber()
	err := whole.Decode(f)
	var kind *json.UnmarshalTypeError
	if errors.As(err, &kind) {
		place := cmp.Or(strings.TrimPrefix(kind.Field, "."), "a feature")
		*f = feature{bad: fmt.Sprintf("%s where %s belongs", kind.Value, place)}
		return nil
	}
	return err
}
