package source

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"plinth/hazard/field"
	"plinth/pipeline/inventory/fault"
	"plinth/pipeline/plan"
)

// A Source splits a register into rows. Every format is one.
type Source interface {
	// About describes the register as a whole.
	About() *Frame
	// Pick says which columns of the header belong into the cells of a row.
	Pick(at []int)
	// Samples returns up to three cells of a column, for an error that ends the
	// reading: it may use up rows.
	Samples(at int) []string
	// Next appends up to n rows and returns io.EOF once there are no more.
	Next(to *Rows, n int) error
}

// A Frame describes the register as a whole.
type Frame struct {
	File   string
	Header []string // names of the columns
	Bytes  []int    // those of the header whose cells are bytes and no text, none of which can be an id
	Drawn  bool     // rows have a geometry, which gives the place
	Typed  bool     // numbers are numbers: no decimal mark of the owner's
	Notes  []string // how the file was understood, for the report

	system  string           // of the geometries as the file says, "" where it says nothing
	project field.Projection // of the geometries to degrees, nil where they are
}

// About returns the frame itself, for the sources that hold one.
func (f *Frame) About() *Frame { return f }

// Note adds a line for the report.
func (f *Frame) Note(format string, args ...any) {
	f.Notes = append(f.Notes, fmt.Sprintf(format, args...))
}

// Broken turns an error of reading into one that names the file; io.EOF stays.
func (f *Frame) Broken(err error) error {
	if err == io.EOF {
		return err
	}
	return &fault.FileError{File: f.File, Rule: "reading failed",
		Remedy: "check the disk or the connection and run again", Err: err}
}

// damaged is the error of a file that is not what its format says.
func (f *Frame) damaged(rule string, err error) error {
	return &fault.FileError{File: f.File, Rule: rule,
		Remedy: "the file is damaged or cut short: export the register again", Err: err}
}

// Open opens a register in the format of the plan. The end of ctx ends its reading.
func Open(ctx context.Context, in io.Reader, name string, inv *plan.Inventory) (Source, error) {
	s, err := openFormat(ctx, in, name, inv)
	if err != nil {
		return nil, err
	}
	if err := s.About().settle(inv); err != nil {
		return nil, errors.Join(err, Close(s))
	}
	return s, nil
}

func openFormat(ctx context.Context, in io.Reader, name string, inv *plan.Inventory) (Source, error) {
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
	case "xlsx":
		return openWorkbook(ctx, name, in, inv)
	}
	return openCSV(name, in, inv)
}

// wgs84 is the EPSG code of longitude and latitude on WGS 84, which every place is brought to.
const wgs84 = 4326
