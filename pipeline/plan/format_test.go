package plan

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Where a plan is silent the ending of the register decides its format; a format that is
// not read is one problem, with what to do.
func TestEndingDecides(t *testing.T) {
	at := func(path, format string) (*Plan, error) {
		doc := strings.Replace(sound, `"b.csv"`, `"`+path+`"`, 1)
		if format != "" {
			doc = strings.Replace(doc, "[inventory]\n", "[inventory]\nformat = \""+format+"\"\n", 1)
		}
		require.Contains(t, doc, path)
		return Parse("p.toml", []byte(doc))
	}
	for path, want := range map[string]string{
		"a.csv": "csv", "a.tsv": "csv", "a.txt": "csv", "a": "csv", "a.gpkg.old": "csv", "A.GPKG": "geopackage",
		"a.geojson": "geojson", "a.json": "geojson", "a.geojsonl": "geojson-lines", "a.ndjson": "geojson-lines",
		"a.parquet": "parquet", "a.geoparquet": "parquet", "a.xlsx": "xlsx", "a.XLSM": "xlsx",
	} {
		p, err := at(path, "")
		require.NoError(t, err, path)
		assert.Equal(t, want, p.Inventory.Format, path)
	}
	p, err := at("a.gpkg", "csv")
	require.NoError(t, err)
	assert.Equal(t, "csv", p.Inventory.Format, "the plan's word comes first")

	for path, want := range map[string]string{
		"a.shp": "a Shapefile, which is not read; export it as a GeoPackage, in EPSG:4326", "a.DBF": "a Shapefile",
		"a.kml": "KML", "a.gml": "GML", "a.fgb": "FlatGeobuf", "a.xls": "export the sheet as CSV (UTF-8)", "a.ods": "a spreadsheet workbook",
	} {
		_, err := at(path, "")
		require.ErrorContains(t, err, want, path)
		require.ErrorContains(t, err, "inventory.path = ", path)
		require.Len(t, err, 1, path)
	}
	_, err = Parse("p.toml", []byte("[inventory]\npath = \"a.gpkg\"\ncolumns = {id = \"ID\"}\n"))
	require.NotContains(t, err.Error(), "inventory.columns.l", "the geometry gives the place")
}
