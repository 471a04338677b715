package inventory

import (
	"bytes"
	"database/sql"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/parquet-go/parquet-go"
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkb"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A dirtyRow is a row of cells that registers are known to hold, with a geometry
// that may be none or nonsense.
type dirtyRow struct {
	Ref    *string `parquet:"ref,optional"`
	Built  *string `parquet:"built,optional"`
	Floors *string `parquet:"floors,optional"`
	Height *string `parquet:"height,optional"`
	Area   *string `parquet:"area,optional"`
	Type   *string `parquet:"type,optional"`
	Name   *string `parquet:"name,optional"`
	Shape  []byte  `parquet:"geometry,optional"`
}

func drawRows(t *rapid.T) []dirtyRow {
	cell := rapid.Ptr(rapid.SampledFrom(dirtyCells), true)
	point := func(x float64) []byte { return wkb.MustMarshal(orb.Point{-150 + x, 40.12345}) }
	square := wkb.MustMarshal(orb.Polygon{{{-150, 40}, {-150, 40.001}, {-149.999, 40.001}, {-150, 40}}})
	shape := rapid.SampledFrom([][]byte{point(0.1234), point(0.2345), nil, square, square[:20], wkb.MustMarshal(orb.LineString{{1, 2}, {3, 4}}), {}})
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) dirtyRow {
		return dirtyRow{cell.Draw(t, "ref"), cell.Draw(t, "built"), cell.Draw(t, "floors"), cell.Draw(t, "height"), cell.Draw(t, "area"), cell.Draw(t, "type"), cell.Draw(t, "name"), shape.Draw(t, "shape")}
	}), 0, 12).Draw(t, "rows")
}

// Rows in are buildings and rejects out in every format, with and without lists
// exploded and gaps filled from the stock.
func TestConservationInEveryFormat(t *testing.T) {
	dir := t.TempDir()
	db := emptyPackage(t, filepath.Join(dir, "package"))
	defer db.Close()
	rapid.Check(t, func(rt *rapid.T) {
		rows := drawRows(rt)
		format := rapid.SampledFrom([]string{"geojson", "geojson-lines", "parquet", "geopackage"}).Draw(rt, "format")
		inv := stockPlan(format)
		if rapid.Bool().Draw(rt, "explode") {
			inv.Explode, inv.Separator = "name", "a"
		}
		if rapid.Bool().Draw(rt, "stock") {
			inv.Impute, inv.Group = "stock", "type"
		}
		inv.Path = filepath.Join(dir, "register")
		switch format {
		case "parquet":
			require.NoError(rt, os.WriteFile(inv.Path, written(t, rows, parquet.KeyValueMetadata("geo", geoKey("1.0.0"))), 0o600))
		case "geopackage":
			inv.Path = filepath.Join(dir, "package")
			fillPackage(rt, db, rows)
		default:
			require.NoError(rt, os.WriteFile(inv.Path, dirtyJSON(rt, rows, format == "geojson-lines"), 0o600))
		}
		r, err := Open(inv, Options{BatchRows: rapid.IntRange(1, 5).Draw(rt, "batch")})
		if err != nil && len(rows) == 0 {
			return // no feature names the columns
		}
		require.NoError(rt, err)
		require.NoError(rt, readDamaged(rt, r), format)
		if inv.Explode == "" {
			require.Equal(rt, len(rows), r.Report().Tally.In, format)
		} else {
			require.GreaterOrEqual(rt, r.Report().Tally.In, len(rows), format)
		}
		require.NoError(rt, r.Close())
	})
}

func emptyPackage(t *testing.T, path string) *sql.DB {
	require.NoError(t, os.WriteFile(path, stockPackage(t, nil, 4326), 0o600))
	db, err := sql.Open("sqlite", "file:"+path+"?_pragma=synchronous(0)&_pragma=journal_mode(memory)")
	require.NoError(t, err)
	return db
}

func fillPackage(t require.TestingT, db *sql.DB, rows []dirtyRow) {
	tx, err := db.Begin()
	require.NoError(t, err)
	_, err = tx.Exec(`DELETE FROM buildings`)
	require.NoError(t, err)
	for i, r := range rows {
		var blob []byte
		if r.Shape != nil {
			blob = append([]byte{'G', 'P', 0, 1, 0xe6, 0x10, 0, 0}, r.Shape...)
		}
		_, err = tx.Exec(`INSERT INTO buildings VALUES (?,?,?,?,?,?,?,?,?)`, i+1, blob, r.Ref, r.Name, r.Built, r.Floors, r.Height, r.Area, r.Type)
		require.NoError(t, err)
	}
	require.NoError(t, tx.Commit())
}

func dirtyJSON(t require.TestingT, rows []dirtyRow, lines bool) []byte {
	var out [][]byte
	for _, r := range rows {
		var geometry any = map[string]any{"type": "Point", "coordinates": []any{"x"}}
		if g, err := wkb.Unmarshal(r.Shape); err == nil && g != nil {
			geometry = map[string]any{"type": g.GeoJSONType(), "coordinates": g}
		} else if len(r.Shape) == 0 {
			geometry = nil
		}
		f, err := json.Marshal(map[string]any{"type": "Feature", "geometry": geometry, "properties": map[string]any{
			"ref": r.Ref, "name": r.Name, "built": r.Built, "floors": r.Floors, "height": r.Height, "area": r.Area, "type": r.Type}})
		require.NoError(t, err)
		out = append(out, f)
	}
	if lines {
		return bytes.Join(out, []byte("\n"))
	}
	return []byte(collection(string(bytes.Join(out, []byte(",")))))
}
