package audit

import (
	"bytes"
	"database/sql"
	"iter"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"github.com/klauspost/compress/gzip"
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/maptile"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/output"
)

// most is what an audit of a file of a few kB may take: far below what a length that
// is believed takes, far above what is needed.
const most = 256 << 20

// A bench audits one file of a table by every rule that reads rows or places, without
// the net that keeps a panic from ending the audit.
type bench struct {
	run   *run
	path  string
	spots func(path, table string) iter.Seq2[spot, error] // nil for a file of rows
}

func newBench(f *testing.F, name string, spots func(path, table string) iter.Seq2[spot, error]) *bench {
	m := &output.Manifest{About: output.About{Currency: "crowns"}, Files: []output.Written{{Name: name}}}
	dir := f.TempDir()
	return &bench{&run{f.Context(), dir, m}, filepath.Join(dir, name), spots}
}

// audit writes the file and applies the rules to it.
func (b *bench) audit(t *testing.T, doc []byte) {
	require.NoError(t, os.WriteFile(b.path, doc, 0o666))
	before := allocated()
	for _, rule := range rules {
		switch rule.name {
		case "plan-hash", "files-whole", "counts-balance", "cautions-present", "pages-alone":
			continue // of the folder
		}
		n := &notes{}
		if err := rule.check(b.run, n); err != nil {
			n.wrong("%v", err)
		}
		require.LessOrEqual(t, len(n.first), maxFaults)
		require.Equal(t, n.faults == 0, n.verdict() != Fail)
	}
	if b.spots != nil { // the rules stop where the rows do
		for _, err := range b.spots(b.path, "buildings") {
			if err != nil {
				break
			}
		}
	}
	require.Less(t, allocated()-before, uint64(most), "bytes taken for %d", len(doc))
}

// allocated returns the bytes taken from the heap since the start.
func allocated() uint64 {
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.TotalAlloc
}

func FuzzAuditCSV(f *testing.F) {
	b := newBench(f, "buildings.csv", nil)
	f.Add([]byte("rank,building_id,rank_as_is,score,lon,lat,currency,tie_group\n1,A,2,5,-141,41,crowns,1\n2,\"=B\",1,,,,crowns,1\n"))
	f.Fuzz(func(t *testing.T, doc []byte) {
		b.audit(t, doc)
		rows := 0
		for w, err := range csvRows(b.path, "buildings.csv") {
			if err != nil {
				break
			}
			rows++
			require.Equal(t, rows, w.n)
			for name := range w.place {
				if v := w.float(name); math.IsNaN(v) {
					require.Empty(t, w.text(name), "a missing number alone is none")
				}
			}
		}
	})
}

func FuzzAuditParquet(f *testing.F) {
	b := newBench(f, "buildings.parquet", nil)
	f.Add(oneRow(f, "buildings.parquet"))
	f.Fuzz(func(t *testing.T, doc []byte) { b.audit(t, doc) })
}

func FuzzAuditGeoPackage(f *testing.F) {
	b := newBench(f, "buildings.gpkg", geoPackageSpots)
	f.Add(oneRow(f, "buildings.gpkg"))
	f.Fuzz(func(t *testing.T, doc []byte) { b.audit(t, doc) })
}

func FuzzAuditGeoJSON(f *testing.F) {
	b := newBench(f, "buildings.geojson", collectionSpots)
	f.Add(oneRow(f, "buildings.geojson"))
	f.Add([]byte(`{"features":[{"properties":{"rank":1,"building_id":"a"},"geometry":{"coordinates":[1,2]}}]}`))
	f.Fuzz(func(t *testing.T, doc []byte) { b.audit(t, doc) })
}

// oneRow returns a file of a run of one building.
func oneRow(t testing.TB, name string) []byte {
	dir := t.TempDir()
	set, err := output.NewSet(dir, output.Claim{Plan: "00"})
	require.NoError(t, err)
	about := output.About{Version: "0.1.0", Currency: "crowns", PriceDate: "2026-01"}
	bs, _, _ := stock(1)
	add(t, set, about, &output.Buildings, bs, output.FormatNames())
	require.NoError(t, set.Commit(&output.Manifest{About: about, Counts: output.Counts{In: 1, Out: 1}, PlanSHA256: "00"}))
	path := filepath.Join(dir, name)
	if filepath.Ext(name) == ".gpkg" { // the smallest pages make the smallest file
		db, err := sql.Open("sqlite", path)
		require.NoError(t, err)
		_, err = db.Exec("PRAGMA page_size = 512; VACUUM")
		require.NoError(t, err)
		require.NoError(t, db.Close())
	}
	doc, err := os.ReadFile(path)
	require.NoError(t, err)
	t.Logf("%s: %d bytes", name, len(doc))
	return doc
}

// FuzzAuditTile: a tile is refused, or shows points alone, in bounded memory. What is
// read is also read as packed by gzip, which little damage is.
func FuzzAuditTile(f *testing.F) {
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	f.Add([]byte("\x1a\x1b\x0a\x01a\x12\x0d\x12\x02\x00\x00\x18\x01\x22\x05\x09\x80\x10\x80\x10\x1a\x01r\x22\x02\x28\x01\x78\x02"), uint32(1), uint32(2), uint8(3))
	f.Fuzz(func(t *testing.T, doc []byte, x, y uint32, zoom uint8) {
		b.Reset()
		z.Reset(&b)
		_, err := z.Write(doc)
		require.NoError(t, err)
		require.NoError(t, z.Close())
		before := allocated()
		for _, data := range [][]byte{doc, b.Bytes()} {
			layers, err := readTile(data, maptile.New(x, y, maptile.Zoom(zoom)))
			if err != nil {
				continue
			}
			for _, layer := range layers {
				for _, feature := range layer.Features {
					require.IsType(t, orb.Point{}, feature.Geometry)
					pinOf(feature, int(zoom))
				}
			}
		}
		require.Less(t, allocated()-before, uint64(most), "bytes taken for %d", len(doc))
	})
}
