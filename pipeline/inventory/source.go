package inventory

import (
	"context"
	"fmt"
	"io"
	"strings"

	"plinth/hazard/field"
	"plinth/pipeline/inventory/fault"
	"plinth/pipeline/plan"
)

// A source splits a register into rows. Every format is one.
type source interface {
	about() *frame
	// pick says which columns of the header belong into the cells of a row.
	pick(at []int)
	// samples returns up to three cells of a column, for an error that ends the
	// reading: it may use up rows.
	samples(at int) []string
	// read appends up to n rows to raw and returns io.EOF once there are no more.
	read(raw *Raw, n int) error
}

// A frame is what a source says of the register as a whole.
type frame struct {
	file   string
	header []string // names of the columns
	bytes  []int    // those of the header whose cells are bytes and no text, none of which can be an id
	drawn  bool     // rows have a geometry, which gives the place
	typed  bool     // numbers are numbers: no decimal mark of the owner's
	notes  []string // how the file was understood, for the report

	system  string           // of the geometries as the file says, "" where it says nothing
	project field.Projection // of the geometries to degrees, nil where they are
}

func (f *frame) about() *frame { return f }

// note adds a line for the report.
func (f *frame) note(format string, args ...any) {
	f.notes = append(f.notes, fmt.Sprintf(format, args...))
}

// broken turns an error of reading into one that names the file; io.EOF stays.
func (f *frame) broken(err error) error {
	if err == io.EOF {
		return err
	}
	return &fault.FileError{File: f.file, Rule: "reading failed", Remedy: "check the disk or the connection and run again", Err: err}
}

// damaged is the error of a file that is not what its format says.
func (f *frame) damaged(rule string, err error) error {
	return &fault.FileError{File: f.file, Rule: rule, Remedy: "the file is damaged or cut short: export the register again", Err: err}
}

// openSource opens a register in the format of the plan. The end of ctx ends its reading.
func openSource(ctx context.Context, in io.Reader, name string, inv *plan.Inventory) (source, error) {
	format := strings.ToLower(inv.Format)
	if format == "geopackage" {
		return openGeoPackage(ctx, name, in, inv.Layer)
	}
	in = watched(ctx, in)
	switch format {
	case "geojson", "geojson-lines":
		return openGeoJSON(name, in, format == "geojson-lines")
	case "parquet":
		return openParquet(name, in)
	}
	return openCSV(name, in, inv)
}

// wgs84 is the EPSG code of longitude and latitude on WGS 84, which every place is brought to.
const wgs84 = 4326
