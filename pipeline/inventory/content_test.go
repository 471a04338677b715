package inventory

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// What is no text in columns is called by its name, by its first bytes, with what to do.
func TestForeignContent(t *testing.T) {
	header := strings.Repeat("\x00", 32)
	for head, want := range map[string]string{
		"\x00\x00\x27\x0a" + header:                                       "this is a Shapefile, which is not read; export it as a GeoPackage, in EPSG:4326",
		"\x03\x7a\x0b\x1c\x03\x00\x00\x00\x61\x00" + header:               "this is a dBASE table, as Shapefiles have one, which is not read; export it as a GeoPackage",
		"fgb\x03fgb\x00" + header:                                         "this is FlatGeobuf, which is not read; export it as a GeoPackage",
		"\xef\xbb\xbf<?xml version=\"1.0\"?>\n<kml xmlns=\"":              "this is KML, which is not read; export it as a GeoPackage",
		`<?xml version="1.0"?><c xmlns:gml="http://www.opengis.net/gml">`: "this is GML, which is not read; export it as a GeoPackage",
		"<!DOCTYPE html><html>":                                           "this is XML or a page, not text in columns; export the register as CSV",
		"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1":                                "this is a spreadsheet workbook of the old kind, not text; export the sheet as CSV",
		"PK\x03\x04mimetypeapplication/vnd.oasis":                         `this is a spreadsheet workbook or an archive, not text; write format = "xlsx"`,
	} {
		_, err := NewReader(strings.NewReader(head), "register", smallPlan(), Options{})
		require.ErrorContains(t, err, want)
		require.NotContains(t, err.Error(), "\n", "one sentence")
	}
	inv := smallPlan()
	inv.Columns["id"] = "<ref>"
	open(t, "<ref>"+smallHeader[3:]+smallRow, inv, Options{})
}
