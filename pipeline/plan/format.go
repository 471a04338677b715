package plan

import (
	"path/filepath"
	"strings"
)

// FormatOf returns the format of a register by the ending of its file, and csv for an ending that
// is not known.
func FormatOf(path string) string {
	switch ending(path) {
	case "geojson", "json":
		return "geojson"
	case "geojsonl", "geojsons", "ndjson":
		return "geojson-lines"
	case "gpkg":
		return "geopackage"
	case "parquet", "geoparquet":
		return "parquet"
	case "xlsx", "xlsm":
		return "xlsx"
	}
	return "csv"
}

// Remedies for files that hold a register in a format that is not read.
const (
	asGeoPackage = "export it as a GeoPackage, in EPSG:4326"
	asText       = "export the sheet as CSV (UTF-8)"
)

// notRead returns what a file is and what to do, if its ending is that of a known format that is
// not read. It returns "" for every other ending.
func notRead(path string) (rule, remedy string) {
	switch ending(path) {
	case "shp", "shx", "dbf":
		return "a Shapefile, which is not read", asGeoPackage
	case "kml", "kmz":
		return "KML, which is not read", asGeoPackage
	case "gml":
		return "GML, which is not read", asGeoPackage
	case "fgb":
		return "FlatGeobuf, which is not read", asGeoPackage
	case "xls", "xlsb", "ods":
		return "a spreadsheet workbook, which is not read", asText
	}
	return "", ""
}

// ending returns the ending of a file in small letters, without its dot.
func ending(path string) string {
	return strings.ToLower(strings.TrimPrefix(filepath.Ext(path), "."))
}
