package output

import (
	"database/sql"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/mvt"
	"github.com/paulmach/orb/geojson"
	"github.com/paulmach/orb/maptile"
	"github.com/stretchr/testify/require"
)

// town returns n buildings in order of rank, some at one place, one without a place and
// one beyond the edge of the map.
func town(n int) []Building {
	rs := make([]Building, n)
	for i := range rs {
		b := &rs[i]
		Buildings.Blank(b)
		b.ID, b.Rank, b.Best, b.Score, b.Drift, b.DataGrade = fmt.Sprintf("T-%05d", i), int64(i+1), "viscous", 1e6/float64(i+1), 1.5, "B"
		b.Lon, b.Lat = -141.2+0.03*math.Sin(float64(i*i)), 41.6+0.02*math.Cos(float64(7*i))
		b.Tied = i%3 == 0
		if i%10 == 3 {
			b.Lon, b.Lat = rs[i-1].Lon, rs[i-1].Lat
		}
	}
	rs[1].Lon = math.NaN()
	rs[2].Lat = 89
	return rs
}

// tileAt is a tile as a database holds it.
type tileAt struct {
	tile     maptile.Tile
	features []*geojson.Feature // in degrees
	units    []orb.Point        // where they are in the tile
}

// readTiles reads every tile by the decoder of orb.
func readTiles(t *testing.T, path string) []tileAt {
	db, err := sql.Open("sqlite", path)
	require.NoError(t, err)
	defer db.Close()
	rows, err := db.Query("SELECT zoom_level, tile_column, tile_row, tile_data FROM tiles")
	require.NoError(t, err)
	defer rows.Close()
	var out []tileAt
	for rows.Next() {
		var z, x, y uint32
		var data []byte
		require.NoError(t, rows.Scan(&z, &x, &y, &data))
		layers, err := mvt.UnmarshalGzipped(data)
		require.NoError(t, err)
		require.Len(t, layers, 1)
		require.EqualValues(t, 2, layers[0].Version)
		at := tileAt{tile: maptile.New(x, 1<<z-1-y, maptile.Zoom(z))} // MBTiles 1.3: rows from the south
		for _, f := range layers[0].Features {
			at.units = append(at.units, f.Point())
		}
		layers.ProjectToWGS84(at.tile)
		at.features = layers[0].Features
		out = append(out, at)
	}
	require.NoError(t, rows.Err())
	return out
}

func rankOf(f *geojson.Feature) int64 { return int64(f.Properties["rank"].(float64)) }

// TestTiles holds the tiles to MBTiles 1.3 and to what they promise: at the last zoom
// all buildings where they are, above it the highest ranked of those that would lie
// over each other.
func TestTiles(t *testing.T) {
	rs := town(3000)
	dir := writeFormats(t, &Buildings, rs, FormatTiles)
	path := filepath.Join(dir, "buildings.mbtiles")
	head, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, "MPBX", string(head[68:72]), "application id, MBTiles 1.3 \"Database\"")

	shown := map[int64]orb.Point{}
	for _, at := range readTiles(t, path) {
		cells := map[[2]int]bool{}
		last := int64(math.MaxInt64)
		for i, f := range at.features {
			rank := rankOf(f)
			require.Less(t, rank, last, "the highest ranked are drawn last")
			last = rank
			if at.tile.Z == tileLast {
				shown[rank] = f.Point()
				continue
			}
			cell := [2]int{int(at.units[i][0]) / tileCell, int(at.units[i][1]) / tileCell}
			require.False(t, cells[cell], "zoom %d: two points lie over each other", at.tile.Z)
			cells[cell] = true
		}
		for _, f := range at.features {
			require.Equal(t, rs[rankOf(f)-1].Tied, f.Properties["tied"], "true or false, as in every other format")
		}
		if at.tile.Z == 0 {
			require.Len(t, at.features, 1, "the town is one point on the map of the world")
			require.EqualValues(t, 1, rankOf(at.features[0]))
			require.Equal(t, "T-00000", at.features[0].Properties["building_id"])
			require.Equal(t, 1.5, at.features[0].Properties["drift_pct"])
		}
	}
	require.Len(t, shown, len(rs)-2, "every building with a place is at the last zoom once")
	for rank, p := range shown {
		b := &rs[rank-1]
		require.InDelta(t, b.Lon, p[0], 360.0/tileUnit/(1<<tileLast), "within a unit")
		require.InDelta(t, b.Lat, p[1], 360.0/tileUnit/(1<<tileLast), "within a unit")
	}

	again := filepath.Join(writeFormats(t, &Buildings, rs, FormatTiles), "buildings.mbtiles")
	other, err := os.ReadFile(again)
	require.NoError(t, err)
	require.True(t, string(head) == string(other), "equal rows give equal bytes")

	db, err := sql.Open("sqlite", path)
	require.NoError(t, err)
	defer db.Close()
	said := query(t, db, "SELECT value FROM metadata WHERE name = 'description'")
	require.Contains(t, said, Caution)
	require.Contains(t, said, "all but 2 of 3000 rows, of which 2 have no place on the map")
	require.Contains(t, query(t, db, "SELECT value FROM metadata WHERE name = 'json'"), `"tied":"Boolean"`)
	require.Equal(t, "pbf", query(t, db, "SELECT value FROM metadata WHERE name = 'format'"))
	require.Equal(t, "plinth", strings.Split(query(t, db, "SELECT name FROM metadata WHERE name LIKE 'plinth%'"), "_")[0])
}

// TestFullTile: a tile with more buildings than it may hold keeps the highest ranked,
// whatever order they come in.
func TestFullTile(t *testing.T) {
	const n = 3*tileMost + 17
	var last []*geojson.Feature
	p := newPyramid("buildings", func(tile maptile.Tile, data []byte) error {
		if tile.Z == tileLast {
			layers, err := mvt.UnmarshalGzipped(data)
			require.NoError(t, err)
			last = layers[0].Features
		}
		return nil
	})
	for i := range int64(n) {
		seq := (i*7919)%n + 1 // 7919 is prime and no divisor: every place once
		require.NoError(t, p.add(0, spot{seq: seq, x: i % tileUnit, y: i / tileUnit, properties: map[string]any{"rank": seq}}))
	}
	require.NoError(t, p.end())
	require.Len(t, last, tileMost)
	require.EqualValues(t, n-tileMost, p.dropped)
	require.EqualValues(t, tileMost, rankOf(last[0]))
	require.EqualValues(t, 1, rankOf(last[tileMost-1]))
}

// TestTilesWithoutPoints: an empty map is a file too.
func TestTilesWithoutPoints(t *testing.T) {
	require.Empty(t, readTiles(t, filepath.Join(writeFormats(t, &Buildings, []Building(nil), FormatTiles), "buildings.mbtiles")))
}

// TestGDALReadsTiles opens the file with a reader that shares no code with it.
func TestGDALReadsTiles(t *testing.T) {
	if _, err := exec.LookPath("ogrinfo"); err != nil {
		t.Skip("needs ogrinfo of GDAL")
	}
	dir := writeFormats(t, &Buildings, town(500), FormatTiles)
	out, err := exec.Command("ogrinfo", "-ro", "-al", "-so", "-oo", fmt.Sprintf("ZOOM_LEVEL=%d", tileLast), filepath.Join(dir, "buildings.mbtiles"), "buildings").CombinedOutput()
	require.NoError(t, err, string(out))
	text := string(out)
	require.NotContains(t, text, "ERROR")
	require.NotContains(t, text, "Warning")
	require.Contains(t, text, "Feature Count: 498")
	// EPSG:3857: x = R lambda, R = 6378137 m (EPSG Guidance Note 7-2, 3.2.1.2); a unit is 0.6 m.
	var west, south, east, north float64
	_, err = fmt.Sscanf(text[strings.Index(text, "Extent:"):], "Extent: (%f, %f) - (%f, %f)", &west, &south, &east, &north)
	require.NoError(t, err)
	require.InDelta(t, 6378137*(-141.23)*math.Pi/180, west, 20, "the town's edges are near its circle's")
	require.InDelta(t, 6378137*math.Log(math.Tan(math.Pi/4+41.62*math.Pi/360)), north, 20)
	for _, column := range []string{"building_id: String", "rank: ", "best_measure: String", "score: Real", "drift_pct: Real"} {
		require.Contains(t, text, column)
	}
}
