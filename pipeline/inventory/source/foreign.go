package source

import (
	"slices"
	"strings"

	"plinth/pipeline/internal/sizes"
	"plinth/pipeline/inventory/fault"
)

// The first bytes of files that are recognised and not read.
const (
	// File code 9994 (ESRI Shapefile Technical Description, 1998, Table 1).
	shapefileMark  = "\x00\x00\x27\x0a"
	flatGeobufMark = "fgb\x03fgb"               // https://flatgeobuf.org, "Specification"
	compoundMark   = "\xd0\xcf\x11\xe0\xa1\xb1" // [MS-CFB] 2.2, in which workbooks were kept before 2007
)

// asGeoPackage is the remedy for a map that is not read.
const asGeoPackage = "export it as a GeoPackage, in EPSG:4326"

// foreign recognises, by their first bytes, files that are not text of one byte or UTF-8.
func foreign(mark []byte) *fault.FileError {
	switch m := string(mark); {
	case strings.HasPrefix(m, "PK\x03\x04"):
		return &fault.FileError{Key: "inventory.format",
			Rule:   "this is a spreadsheet workbook or an archive, not text",
			Remedy: `write format = "xlsx" under [inventory] if it is a workbook of that kind`}
	case strings.HasPrefix(m, "\x1f\x8b"):
		return &fault.FileError{Rule: "the file is compressed", Remedy: "unpack it first"}
	case strings.HasPrefix(m, "{"):
		return &fault.FileError{Key: "inventory.format", Rule: "this looks like JSON, not CSV",
			Remedy: `write format = "geojson" under [inventory] if it is GeoJSON`}
	case strings.HasPrefix(m, sqliteMark):
		return &fault.FileError{Key: "inventory.format", Rule: "this is a database, not CSV",
			Remedy: `write format = "geopackage" under [inventory] if it is a GeoPackage`}
	case strings.HasPrefix(m, sizes.Mark):
		return &fault.FileError{Key: "inventory.format", Rule: "this is a Parquet file, not CSV",
			Remedy: `write format = "parquet" under [inventory]`}
	case strings.HasPrefix(m, shapefileMark):
		return &fault.FileError{Key: "inventory.path", Rule: "this is a Shapefile, which is not read",
			Remedy: asGeoPackage}
	case dBase(mark):
		return &fault.FileError{Key: "inventory.path",
			Rule:   "this is a dBASE table, as Shapefiles have one, which is not read",
			Remedy: asGeoPackage}
	case strings.HasPrefix(m, flatGeobufMark):
		return &fault.FileError{Key: "inventory.path", Rule: "this is FlatGeobuf, which is not read",
			Remedy: asGeoPackage}
	case strings.HasPrefix(m, compoundMark):
		return &fault.FileError{Key: "inventory.path",
			Rule:   "this is a spreadsheet workbook of the old kind, not text",
			Remedy: "export the sheet as CSV (UTF-8)"}
	case strings.HasPrefix(m, "\xff\xfe"), strings.HasPrefix(m, "\xfe\xff"):
		return &fault.FileError{Rule: "the text is UTF-16", Remedy: "save the register as UTF-8"}
	}
	return markup(strings.TrimPrefix(string(mark), byteOrderMark))
}

// dBase reports whether a file begins as a table of dBASE III and its followers does: a
// version, then year, month and day of the last change, then counts whose last two bytes
// say a header of at least one column (common practice, no source).
func dBase(head []byte) bool {
	if len(head) < 32 {
		return false
	}
	known := head[0] == 0x03 || head[0] == 0x30 || head[0] == 0x83 || head[0] == 0x8b || head[0] == 0xf5
	date := head[2] >= 1 && head[2] <= 12 && head[3] >= 1 && head[3] <= 31
	return known && date && int(head[8])|int(head[9])<<8 >= 32
}

// markup is the error of a file that begins as XML and pages do, nil for none.
func markup(head string) *fault.FileError {
	begins := func(mark string) bool { return strings.HasPrefix(head, mark) }
	if !slices.ContainsFunc([]string{"<?xml", "<!", "<html", "<kml", "<gml:"}, begins) {
		return nil
	}
	switch {
	case strings.Contains(head, "<kml"):
		return &fault.FileError{Key: "inventory.path", Rule: "this is KML, which is not read",
			Remedy: asGeoPackage}
	case strings.Contains(head, "gml"):
		return &fault.FileError{Key: "inventory.path", Rule: "this is GML, which is not read",
			Remedy: asGeoPackage}
	}
	return &fault.FileError{Key: "inventory.path", Rule: "this is XML or a page, not text in columns",
		Remedy: "export the register as CSV (UTF-8)"}
}
