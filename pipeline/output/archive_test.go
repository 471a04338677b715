package output

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"database/sql"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/paulmach/orb/maptile"
	"github.com/stretchr/testify/require"
)

// TestTileID holds ids to the specification of PMTiles, version 3, clause 4.1: the table of examples
// (z, x, y to id), and to what makes them ids: every number of a zoom once, neighbours side by side.
func TestTileID(t *testing.T) {
	for _, c := range []struct {
		tile maptile.Tile
		id   uint64
	}{{maptile.New(0, 0, 0), 0}, {maptile.New(0, 0, 1), 1}, {maptile.New(0, 1, 1), 2}, {maptile.New(1, 1, 1), 3},
		{maptile.New(1, 0, 1), 4}, {maptile.New(0, 0, 2), 5}, {maptile.New(3423, 1763, 12), 19078479}} {
		require.Equal(t, c.id, tileID(c.tile), "%v", c.tile)
	}
	const z = 6
	at := map[uint64]maptile.Tile{}
	for x := range uint32(1 << z) {
		for y := range uint32(1 << z) {
			tile := maptile.New(x, y, z)
			at[tileID(tile)] = tile
		}
	}
	first := uint64(1<<(2*z)-1) / 3
	for id := first + 1; id < first+1<<(2*z); id++ {
		a, b := at[id-1], at[id]
		steps := max(a.X, b.X) - min(a.X, b.X) + max(a.Y, b.Y) - min(a.Y, b.Y)
		require.EqualValues(t, 1, steps, "%v and %v follow each other on the curve", a, b)
	}
}

// The tiles of both formats are the same, by the reader of PMTiles for browsers, which shares no code
// with the writer: every tile, no other, and the same words.
func TestArchiveEqualsTiles(t *testing.T) {
	script := filepath.Join(filepath.Dir(outsideReaders(t)), "tiles.mjs")
	if _, err := os.Stat(filepath.Join(filepath.Dir(script), "node_modules", "pmtiles")); err != nil {
		t.Skip("needs: npm ci --prefix testdata/readers")
	}
	rs := town(1100)
	for i := range rs { // wide enough that the directory has leaves
		rs[i].Lon += float64(i*i%911) * 0.11
		rs[i].Lat -= float64(i*i%613) * 0.05
		rs[i].Name, rs[i].System, rs[i].Use, rs[i].Currency = "House", "rc-frame", "school", "CRD"
		rs[i].Year, rs[i].BestNetBenefit = 1950, 1e5
	}
	for name, rs := range map[string][]Building{"town": rs, "empty": nil} {
		t.Run(name, func(t *testing.T) {
			dir := writeFormats(t, &Buildings, rs, FormatTiles, FormatArchive)
			require.Equal(t, []string{"buildings.mbtiles", "buildings.pmtiles", ManifestName}, names(t, dir))
			places, sums := tileSums(t, filepath.Join(dir, "buildings.mbtiles"))
			read := exec.Command("node", script, filepath.Join(dir, "buildings.pmtiles"))
			read.Stdin = strings.NewReader(strings.Join(append(places, "14/0/0", "15/0/0", ""), "\n"))
			var wrong bytes.Buffer
			read.Stderr = &wrong
			out, err := read.Output()
			require.NoError(t, err, wrong.String())
			lines := strings.Split(strings.TrimSpace(string(out)), "\n")
			require.Equal(t, append(sums, "none", "none"), lines[2:])
			var head struct {
				NumTileContents, TileType, MinZoom, MaxZoom int
				LeafDirectoryLength                         int
				MinLon, MaxLat                              float64
				Clustered                                   bool
			}
			require.NoError(t, json.Unmarshal([]byte(lines[0]), &head))
			require.Equal(t, len(sums), head.NumTileContents, "no tile more")
			require.True(t, head.Clustered)
			require.Equal(t, []int{1, 0, tileLast}, []int{head.TileType, head.MinZoom, head.MaxZoom})
			for _, word := range []string{Caution, `"attribution":"Screened with Plinth 0.1.0"`, `"currency":"CRD"`,
				`"vector_layers"`, `"building_name":"String"`, `"best_net_benefit":"Number"`} {
				require.Contains(t, lines[1], word)
			}
			if rs != nil {
				require.Positive(t, head.LeafDirectoryLength)
				require.InDelta(t, -141.2, head.MinLon, 0.031)
				again := writeFormats(t, &Buildings, rs, FormatArchive)
				one, err := os.ReadFile(filepath.Join(dir, "buildings.pmtiles"))
				require.NoError(t, err)
				other, err := os.ReadFile(filepath.Join(again, "buildings.pmtiles"))
				require.NoError(t, err)
				require.True(t, bytes.Equal(one, other), "equal rows give equal bytes")
			}
		})
	}
}

// tileSums returns z/x/y and the SHA-256 of every tile of an MBTiles file.
func tileSums(t *testing.T, path string) (places, sums []string) {
	db, err := sql.Open("sqlite", path)
	require.NoError(t, err)
	defer db.Close()
	rows, err := db.Query("SELECT zoom_level, tile_column, tile_row, tile_data FROM tiles")
	require.NoError(t, err)
	defer rows.Close()
	for rows.Next() {
		var z, x, y int
		var data []byte
		require.NoError(t, rows.Scan(&z, &x, &y, &data))
		unzipped, err := gzip.NewReader(bytes.NewReader(data))
		require.NoError(t, err)
		tile, err := io.ReadAll(unzipped)
		require.NoError(t, err)
		places = append(places, fmt.Sprintf("%d/%d/%d", z, x, 1<<z-1-y))
		sums = append(sums, fmt.Sprintf("%x", sha256.Sum256(tile)))
	}
	require.NoError(t, rows.Err())
	return places, sums
}
