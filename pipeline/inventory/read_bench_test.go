package inventory

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/parquet-go/parquet-go"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/plan"
)

// register writes n made-up rows of fifteen columns.
func register(n int) []byte {
	var b bytes.Buffer
	b.WriteString("ref,name,x,y,built,floors,height,area,length,width,type,use,ground,listed,people\n")
	for i := range n {
		fmt.Fprintf(&b, "B-%06d,House %d,%.6f,%.6f,%d,%d,%.1f,%d,%.1f,%.1f,RC frame,office,C,no,%d\n",
			i, i, -149.99995+float64(i%1000)*1e-4, 40.00005+float64(i/1000)*1e-4, 1900+i%120, 2+i%8, 3.4*float64(2+i%8), 400+i%5000, 20+float64(i%30), 12.5, i%300)
	}
	return b.Bytes()
}

func registerPlan() *plan.Inventory {
	return &plan.Inventory{
		Format: "csv", Delimiter: ",",
		Columns: map[string]string{
			"id": "ref", "name": "name", "lon": "x", "lat": "y", "year": "built", "storeys": "floors", "height": "height", "floor_area": "area",
			"length": "length", "width": "width", "system": "type", "use": "use", "site_class": "ground", "heritage": "listed", "occupants_day": "people",
		},
		Units:  map[string]string{"height": "m", "floor_area": "m2", "length": "m", "width": "m"},
		Values: map[string]map[string]string{"system": {"rc frame": "concrete-frame"}},
	}
}

func open(t testing.TB, text string, inv *plan.Inventory, opt Options) *Reader {
	t.Helper()
	r, err := NewReader(strings.NewReader(text), "register.csv", inv, opt)
	require.NoError(t, err)
	return r
}

func BenchmarkRead(b *testing.B) {
	const rows = 20000
	text := string(register(rows))
	var raw Raw
	var batch Batch
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		r := open(b, text, registerPlan(), Options{})
		for r.Read(&raw, &batch) == nil {
		}
	}
	b.ReportMetric(float64(rows*b.N)/b.Elapsed().Seconds(), "rows/s")
}

func BenchmarkParse(b *testing.B) {
	r := open(b, string(register(batchRows)), registerPlan(), Options{})
	var raw Raw
	var batch Batch
	require.NoError(b, r.Next(&raw))
	b.ReportAllocs()
	for b.Loop() {
		r.Parse(&raw, &batch)
	}
	b.ReportMetric(float64(batchRows*b.N)/b.Elapsed().Seconds(), "rows/s")
}

// Parsing allocates one string a batch for ids and names, nothing a building.
func TestParseAllocates(t *testing.T) {
	r := open(t, string(register(batchRows)), registerPlan(), Options{})
	var raw Raw
	var batch Batch
	require.NoError(t, r.Next(&raw))
	r.Parse(&raw, &batch)
	require.Equal(t, batchRows, len(batch.Buildings))
	require.LessOrEqual(t, testing.AllocsPerRun(5, func() { r.Parse(&raw, &batch) }), 1.0)
}

// The same rows by format, read, parsed and admitted by one goroutine.
func BenchmarkFormats(b *testing.B) {
	rows := madeRows(5000, false)
	flat := stockPlan("parquet")
	flat.Columns["lon"], flat.Columns["lat"] = "lon", "lat"
	for _, c := range []struct {
		name string
		doc  []byte
		inv  *plan.Inventory
	}{
		{"geojson", stockJSON(b, rows, false), stockPlan("geojson")},
		{"lines", stockJSON(b, rows, true), stockPlan("geojson-lines")},
		{"geopackage", stockPackage(b, rows, 4326), stockPlan("geopackage")},
		{"parquet", stockFlat(b, rows, &parquet.Zstd), flat},
		{"geoparquet", stockGeo(b, rows, "1.1.0", &parquet.Zstd), stockPlan("parquet")},
	} {
		c.inv.Columns["gap"] = "ref" // no second reading
		c.inv.Units["gap"] = "m"
		b.Run(c.name, func(b *testing.B) {
			var raw Raw
			var batch Batch
			b.ReportAllocs()
			for b.Loop() {
				r, err := openBytes(b, c.doc, c.inv, Options{})
				require.NoError(b, err)
				for r.Read(&raw, &batch) == nil {
				}
			}
			b.ReportMetric(float64(len(rows)*b.N)/b.Elapsed().Seconds(), "rows/s")
		})
	}
}
