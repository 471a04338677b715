package inventory

import (
	"bytes"
	"context"
	"database/sql"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/plan"
)

// scratched returns doc with one to eight bytes changed that neither end nor begin a line or
// a quoted text.
func scratched(r *rand.Rand, doc []byte) []byte {
	out := bytes.Clone(doc)
	for range 1 + r.IntN(8) {
		at, c := r.IntN(len(out)), byte(r.Uint32())
		if !bytes.ContainsRune([]byte("\n\r\""), rune(out[at])) && !bytes.ContainsRune([]byte("\n\r\""), rune(c)) {
			out[at] = c
		}
	}
	return out
}

// Three hundred scratched copies of a register of each kind of text are read to their end,
// soon, and no row is lost: each is a building or a reject. One file of GeoJSON may be
// refused as a whole.
func TestScratchedText(t *testing.T) {
	if testing.Short() {
		t.Skip("damages many files")
	}
	rows := madeRows(30, false)
	csv := stockPlan("csv")
	csv.Columns["lon"], csv.Columns["lat"] = "lon", "lat"
	for name, c := range map[string]struct {
		doc []byte
		inv *plan.Inventory
	}{
		"csv":           {stockCSV(rows), csv},
		"geojson":       {stockJSON(t, rows, false), stockPlan("geojson")},
		"geojson-lines": {stockJSON(t, rows, true), stockPlan("geojson-lines")},
	} {
		head := 0 // a header that is changed has no such column
		if name == "csv" {
			head = bytes.IndexByte(c.doc, '\n') + 1
		}
		ctx, stop := context.WithTimeout(t.Context(), time.Minute)
		defer stop()
		random := rand.New(rand.NewPCG(5, 6))
		refused, rejected := 0, 0
		for range 300 {
			doc := append(bytes.Clone(c.doc[:head]), scratched(random, c.doc[head:])...)
			r, err := NewReader(bytes.NewReader(doc), "register", c.inv, Options{Context: ctx})
			if err == nil {
				err = readDamaged(t, r)
			}
			if err != nil {
				require.Equal(t, "geojson", name, "%v", err)
				refused++
				continue
			}
			require.Equal(t, 30, r.Report().Tally.In, "%s: %s", name, doc)
			rejected += r.Report().Tally.Rejects
		}
		t.Logf("%s: %d refused, %d rows rejected", name, refused, rejected)
		assert.Greater(t, refused+rejected, 300, name)
	}
}

// Three hundred damaged copies of each kind end in an error or in whole rows.
func TestDamagedText(t *testing.T) {
	if testing.Short() {
		t.Skip("damages many files")
	}
	rows := madeRows(30, false)
	csv := stockPlan("csv")
	csv.Columns["lon"], csv.Columns["lat"] = "lon", "lat"
	for format, doc := range map[string][]byte{
		"csv": stockCSV(rows), "geojson": stockJSON(t, rows, false), "geojson-lines": stockJSON(t, rows, true),
	} {
		inv := stockPlan(format)
		if format == "csv" {
			inv = csv
		}
		random := rand.New(rand.NewPCG(7, 8))
		for range 300 {
			copied := mutated(random, doc)
			readAny(t, bytes.NewReader(copied), len(copied), inv)
		}
	}
}

// A name in a GeoPackage that holds NUL is noticed, and replaced in what is written.
func TestNulInGeoPackage(t *testing.T) {
	path := filepath.Join(t.TempDir(), "register.gpkg")
	require.NoError(t, os.WriteFile(path, stockPackage(t, madeRows(3, false), 4326), 0o600))
	db, err := sql.Open("sqlite", "file:"+path)
	require.NoError(t, err)
	_, err = db.Exec(`UPDATE buildings SET name = 'Old' || char(0) || 'Hall', type = 'RC' WHERE fid = 1`)
	require.NoError(t, err)
	_, err = db.Exec(`UPDATE buildings SET ref = 'B' || char(0) WHERE fid = 2`)
	require.NoError(t, err)
	require.NoError(t, db.Close())
	inv := stockPlan("geopackage")
	inv.Path = path
	inv.Columns["name"] = "name"
	r, err := Open(inv, Options{})
	require.NoError(t, err)
	defer r.Close()
	buildings, rejects, report := read(t, r)
	require.Equal(t, 3, report.Tally.In)
	assert.NotZero(t, report.Tally.Rules[UnseenID], "%v", rejects)
	assert.NotZero(t, report.Tally.Rules[UnseenCharacter])
	for _, b := range buildings {
		assert.NotContains(t, b.Name+b.ID, "\x00")
	}
	assert.True(t, strings.Contains(report.String(), "Old\ufffdHall"))
}
