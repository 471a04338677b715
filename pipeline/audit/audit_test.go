package audit

import (
	"bytes"
	"context"
	"database/sql"
	"encoding/binary"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"sync"
	"testing"

	"github.com/apache/thrift/lib/go/thrift"
	"github.com/stretchr/testify/require"
	written "github.com/xitongsys/parquet-go/parquet"

	"plinth/pipeline/output"
)

// plan stands for the plan of a run.
var plan = map[string]any{"name": "invented", "objective": map[string]any{"rank_by": "net-benefit"}}

// stock returns rows of a small run that agree with each other, all invented.
func stock(n int) (bs []output.Building, cs []output.Candidate, vs []output.Verdict) {
	for i := range n {
		var b output.Building
		output.Buildings.Blank(&b)
		id, cost, benefit := fmt.Sprintf("B-%02d", i+1), 1000.0*float64(i+1), 90000.0
		b.Rank, b.TieGroup, b.RankAsIs = int64(i+1), int64(i/2+1), int64(n-i)
		b.ID, b.Name, b.Currency = id, "=House, \"north\"\r\nwing", "crowns"
		b.Lon, b.Lat = -141.2+0.001*float64(i), 41.6+0.0005*float64(i)
		b.Drift, b.BestDrift, b.Period, b.Storeys, b.Year = 2.5, 0.9, 0.8, 4, 1950
		b.ImmediateOccupancy, b.LifeSafety, b.CollapsePrevention = 0.02, 0.01, 0.002
		b.AnnualLoss = 5000 + float64(n-i)
		b.Best, b.Score, b.ScoreResolution = "viscous", benefit-cost, 100
		b.BestCostLow, b.BestCostLikely, b.BestCostHigh, b.BestNetBenefit = 0.7*cost, cost, 1.6*cost, benefit-cost
		if i == 3 {
			b.Lon, b.Lat = math.NaN(), math.NaN()
		}
		b.Area = []string{"north", "south", ""}[i%3]
		bs = append(bs, b)
		var c output.Candidate
		output.Candidates.Blank(&c)
		c.Rank, c.BuildingID, c.BuildingName, c.Measure, c.Currency = int64(i+1), id, b.Name, "viscous", "crowns"
		c.Lon, c.Lat, c.Score, c.NetBenefit, c.BenefitPresentValue = b.Lon, b.Lat, b.Score, b.BestNetBenefit, benefit
		c.BenefitCostRatio, c.CostLow, c.CostLikely, c.CostHigh = benefit/cost, b.BestCostLow, cost, b.BestCostHigh
		c.DriftBefore, c.DriftAfter = b.Drift, b.BestDrift
		cs = append(cs, c)
		vs = append(vs, output.Verdict{BuildingID: id, Measure: "viscous", Rule: "short-period", Verdict: "doubt", Value: 0.4, Limit: 0.5, Sentence: "short"})
	}
	return bs, cs, vs
}

// areas adds up the buildings of two areas, and joins those without one.
func areas(bs []output.Building) []output.Area {
	rows := make([]output.Area, 3)
	for i, name := range []string{"north", "south", "(fewer than 5 buildings)"} {
		a := &rows[i]
		output.Areas.Blank(a)
		a.Name, a.Kind, a.Joined, a.Buildings, a.AnnualLoss, a.Currency = name, output.AreaGroup, 1, 0, 0, "crowns"
		if i == 2 {
			a.Kind, a.Joined = output.AreaJoined, 0
		}
		for k := range bs {
			if bs[k].Area == name || i == 2 && bs[k].Area == "" {
				a.Buildings++
				a.AnnualLoss += bs[k].AnnualLoss
			}
		}
	}
	return rows
}

const page = `<!DOCTYPE html><meta http-equiv="Content-Security-Policy" content="default-src 'none'"><p>` + output.Caution +
	`<script type="application/json">{"texts":["<img src=x>"]}</script>`

// write returns a folder with a whole run.
func write(t testing.TB) string {
	once.Do(func() {
		dir := t.TempDir()
		writeRun(t, dir)
		entries, err := os.ReadDir(dir)
		require.NoError(t, err)
		for _, e := range entries {
			sound[e.Name()], err = os.ReadFile(filepath.Join(dir, e.Name()))
			require.NoError(t, err)
		}
	})
	dir := t.TempDir()
	for name, b := range sound {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), b, 0o666))
	}
	return dir
}

// sound holds the files of a run written once, for speed.
var (
	once  sync.Once
	sound = map[string][]byte{}
)

func writeRun(t testing.TB, dir string) {
	hash, err := output.HashPlan(plan)
	require.NoError(t, err)
	set, err := output.NewSet(dir, output.Claim{Plan: hash})
	require.NoError(t, err)
	about := output.About{Version: "0.1.0", Currency: "crowns", PriceDate: "2026-01"}
	bs, cs, vs := stock(12)
	rejects := []output.Reject{{File: "register.csv", Line: 9, Rule: "no id"}}
	add(t, set, about, &output.Buildings, bs, output.FormatNames())
	add(t, set, about, &output.Candidates, cs, []string{output.FormatParquet, output.FormatCSV})
	add(t, set, about, &output.Areas, areas(bs), []string{output.FormatParquet, output.FormatCSV, output.Layer})
	require.NoError(t, set.Gather(output.Buildings.Name, output.Areas.Name))
	add(t, set, about, &output.Verdicts, vs, []string{output.FormatCSV})
	add(t, set, about, &output.Rejects, rejects, []string{output.FormatCSV})
	f, err := set.Create("report.html")
	require.NoError(t, err)
	_, err = f.Write([]byte(page))
	require.NoError(t, err)
	require.NoError(t, set.Commit(&output.Manifest{About: about, Counts: output.Counts{In: 13, Out: 12, Rejected: 1}, PlanSHA256: hash, Plan: plan}))
}

func add[R any](t testing.TB, set *output.Set, about output.About, table *output.Table[R], rs []R, formats []string) {
	s, err := output.NewSheet(set, table, about, formats...)
	require.NoError(t, err)
	for i := range rs {
		require.NoError(t, s.Write(&rs[i]))
	}
	require.NoError(t, s.Close())
}

func TestSoundRun(t *testing.T) {
	fs, err := Dir(t.Context(), write(t))
	require.NoError(t, err)
	require.Len(t, fs, len(rules))
	for _, f := range fs {
		require.Equal(t, Pass, f.Verdict, "%s: %s", f.Rule, f.Detail)
		require.Equal(t, "pass", f.Word)
	}
	require.False(t, Failed(fs))
}

// replace changes what a pattern finds first in a file, which it must find.
func replace(t *testing.T, dir, name, pattern, by string) {
	b, err := os.ReadFile(filepath.Join(dir, name))
	require.NoError(t, err)
	at := regexp.MustCompile(pattern).FindSubmatchIndex(b)
	require.NotNil(t, at, "%s: %s", name, pattern)
	out := append(append(append([]byte{}, b[:at[0]]...), regexp.MustCompile(pattern).Expand(nil, []byte(by), b, at)...), b[at[1]:]...)
	require.NoError(t, os.WriteFile(filepath.Join(dir, name), out, 0o666))
}

// set writes a value into a row, the first 1, and column of a CSV file.
func set(t *testing.T, dir, name string, row int, column, value string) {
	b, err := os.ReadFile(filepath.Join(dir, name))
	require.NoError(t, err)
	all, err := csv.NewReader(bytes.NewReader(b)).ReadAll()
	require.NoError(t, err)
	i := slices.Index(all[0], column)
	require.GreaterOrEqual(t, i, 0, column)
	all[row][i] = value
	var out bytes.Buffer
	require.NoError(t, csv.NewWriter(&out).WriteAll(all))
	require.NoError(t, os.WriteFile(filepath.Join(dir, name), out.Bytes(), 0o666))
}

// database returns what runs a statement in an SQLite file.
func database(name, statement string) func(t *testing.T, dir string) {
	return func(t *testing.T, dir string) {
		db, err := sql.Open("sqlite", filepath.Join(dir, name))
		require.NoError(t, err)
		done, err := db.Exec(statement)
		require.NoError(t, err)
		changed, err := done.RowsAffected()
		require.NoError(t, err)
		require.Positive(t, changed)
		require.NoError(t, db.Close())
	}
}

// refooted returns what edits the footer of a Parquet file by the writing library, whose
// ids of columns may be absent or 0.
func refooted(name string, edit func(*written.FileMetaData)) func(t *testing.T, dir string) {
	return func(t *testing.T, dir string) {
		b, err := os.ReadFile(filepath.Join(dir, name))
		require.NoError(t, err)
		end := len(b) - 8
		start := end - int(binary.LittleEndian.Uint32(b[end:]))
		meta, in := written.NewFileMetaData(), thrift.NewTMemoryBufferLen(end-start)
		in.Write(b[start:end])
		require.NoError(t, meta.Read(t.Context(), thrift.NewTCompactProtocolConf(in, nil)))
		edit(meta)
		out := thrift.NewTSerializer()
		out.Protocol = thrift.NewTCompactProtocolFactoryConf(nil).GetProtocol(out.Transport)
		footer, err := out.Write(t.Context(), meta)
		require.NoError(t, err)
		b = binary.LittleEndian.AppendUint32(append(b[:start], footer...), uint32(len(footer)))
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), append(b, "PAR1"...), 0o666))
	}
}

// seal makes the manifest name the files as they are, so that the rule for hashes
// has nothing to say.
func seal(t *testing.T, dir string) {
	m, err := output.ReadManifest(dir)
	require.NoError(t, err)
	for i := range m.Files {
		in, err := output.HashInput(filepath.Join(dir, m.Files[i].Name), "")
		require.NoError(t, err)
		m.Files[i].Bytes, m.Files[i].SHA256 = in.Bytes, in.SHA256
	}
	b, err := json.Marshal(m)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(dir, output.ManifestName), b, 0o666))
}

// TestCorruptions seeds one fault after the other in a sound run and asks for the
// rule that must see it.
func TestCorruptions(t *testing.T) {
	for _, c := range []struct {
		name, rule, says string
		sealed           bool
		do               func(t *testing.T, dir string)
	}{
		{"a digit in a file", "files-whole", "another content", false, func(t *testing.T, dir string) { replace(t, dir, "verdicts.csv", `0\.4`, "0.3") }},
		{"a file gone", "files-whole", "is missing", false, func(t *testing.T, dir string) { require.NoError(t, os.Remove(filepath.Join(dir, "rejects.csv"))) }},
		{"a file left aside", "files-whole", "left aside", false, func(t *testing.T, dir string) {
			require.NoError(t, os.Mkdir(filepath.Join(dir, output.WorkingName), 0o777))
		}},
		{"another plan", "plan-hash", "sha256", false, func(t *testing.T, dir string) { replace(t, dir, output.ManifestName, `"net-benefit"`, `"life-safety"`) }},
		{"counts that do not add up", "counts-balance", "14 rows in", false, func(t *testing.T, dir string) { replace(t, dir, output.ManifestName, `"rows_in": 13`, `"rows_in": 14`) }},
		{"a row gone", "counts-balance", "11 rows", true, func(t *testing.T, dir string) { replace(t, dir, "candidates.csv", `12,B-12(.|\n)*$`, "") }},
		{"an id twice", "ids-unique", "stands twice", true, func(t *testing.T, dir string) { replace(t, dir, "buildings.csv", `B-05`, "B-04") }},
		{"a stray id", "ids-joined", "of no building", true, func(t *testing.T, dir string) { replace(t, dir, "verdicts.csv", `B-05`, "B-99") }},
		{"ranks changed over", "ranks-dense", "has rank 3", true, func(t *testing.T, dir string) { replace(t, dir, "buildings.csv", `(?m)^2,1,`, "3,1,") }},
		{"a place twice", "ranks-dense", "shares place", true, func(t *testing.T, dir string) { set(t, dir, "buildings.csv", 2, "rank_as_is", "12") }},
		{"a score out of order", "scores-ordered", "above the row", true, func(t *testing.T, dir string) { replace(t, dir, "candidates.csv", `viscous,88000,`, "viscous,99000,") }},
		{"an impossible drift", "numbers-bounded", "drift_pct", true, func(t *testing.T, dir string) { replace(t, dir, "buildings.csv", `,2\.5,`, ",-2.5,") }},
		{"not a number", "numbers-bounded", `drift_pct is "NaN"`, true, func(t *testing.T, dir string) { replace(t, dir, "buildings.csv", `,2\.5,`, ",NaN,") }},
		{"a benefit too good", "sums-redone", "is not 90000 less", true, func(t *testing.T, dir string) { replace(t, dir, "candidates.csv", `,86000,22\.5,`, ",96000,22.5,") }},
		{"a best measure without candidate", "best-among-candidates", "slider", true, func(t *testing.T, dir string) { replace(t, dir, "buildings.csv", `viscous`, "slider") }},
		{"another currency", "currency-one", `"dollars"`, true, func(t *testing.T, dir string) { replace(t, dir, "buildings.csv", `crowns`, "dollars") }},
		{"axes exchanged", "places-right", "latitude -141.2", true, func(t *testing.T, dir string) { replace(t, dir, "buildings.csv", `(-141\.2),(41\.6)`, "$2,$1") }},
		{"CSV and Parquet apart", "parquet-equals-csv", "in Parquet", true, func(t *testing.T, dir string) { replace(t, dir, "buildings.csv", `,1950,`, ",1951,") }},
		{"a cut Parquet file", "geoparquet", "buildings.parquet", true, func(t *testing.T, dir string) {
			require.NoError(t, os.Truncate(filepath.Join(dir, "buildings.parquet"), 2000))
		}},
		{"ids of columns all alike", "parquet-footers", "candidates.parquet: two columns have the id 0", true, refooted("candidates.parquet", func(m *written.FileMetaData) {
			for _, e := range m.Schema {
				e.FieldID = new(int32)
			}
		})},
		{"an order that is none", "parquet-footers", "is not in the order its footer names", true, refooted("buildings.parquet", func(m *written.FileMetaData) {
			m.RowGroups[0].SortingColumns[0].ColumnIdx = int32(slices.IndexFunc(output.Buildings.Columns, func(c output.Column[output.Building]) bool { return c.Name == "rank_as_is" }))
		})},
		{"an order the other way", "parquet-footers", "sorted as none of ours", true, refooted("buildings.parquet", func(m *written.FileMetaData) {
			m.RowGroups[0].SortingColumns[0].Descending = true
		})},
		{"a building counted twice in an area", "areas-add-up", "and 4 name it", true, func(t *testing.T, dir string) {
			replace(t, dir, "areas.csv", "north,group,1,4,", "north,group,1,5,")
		}},
		{"a loss of an area that is not that of its buildings", "areas-add-up", "annual loss", true, func(t *testing.T, dir string) {
			replace(t, dir, "areas.csv", ",20026,", ",20526,")
		}},
		{"buildings that are in no area", "areas-add-up", "the areas hold 11 buildings of 12", true, func(t *testing.T, dir string) {
			replace(t, dir, "areas.csv", "joined,0,4,", "joined,0,3,")
		}},
		{"a moved point in GeoJSON", "maps-equal-rows", "buildings.geojson", true, func(t *testing.T, dir string) {
			replace(t, dir, "buildings.geojson", `\[-141\.199,`, "[-141.198,")
		}},
		{"a crs in GeoJSON", "maps-equal-rows", "crs", true, func(t *testing.T, dir string) {
			replace(t, dir, "buildings.geojson", `"features"`, `"crs":{},"features"`)
		}},
		{"a row gone from GeoPackage", "maps-equal-rows", "buildings.gpkg", true, database("buildings.gpkg", "DROP TRIGGER rtree_buildings_geometry_delete; DELETE FROM buildings WHERE fid = 5")},
		{"a tile gone", "tiles-equal-rows", "its description says 1", true, database("buildings.mbtiles", "DELETE FROM tiles WHERE rowid = (SELECT min(rowid) FROM tiles WHERE zoom_level = 14)")},
		{"tiles that say otherwise", "tiles-equal-rows", "lacks 1 rows at its last zoom, its description says 0", true, database("buildings.mbtiles", "UPDATE metadata SET value = replace(value, 'all but 1 of', 'all but 0 of') WHERE name = 'description'")},
		{"a tile at another place", "tiles-equal-rows", "another building or place than buildings.csv row", true, database("buildings.mbtiles", "UPDATE tiles SET tile_column = tile_column + 100 WHERE zoom_level = 14")},
		{"a tile twice", "tiles-equal-rows", "twice at zoom 14", true, database("buildings.mbtiles", "INSERT INTO tiles SELECT zoom_level, tile_column + 100, tile_row, tile_data FROM tiles WHERE zoom_level = 14 LIMIT 1")},
		{"the last zoom gone", "tiles-equal-rows", "lacks 12 rows", true, database("buildings.mbtiles", "DELETE FROM tiles WHERE zoom_level = 14")},
		{"tiles of another run", "tiles-equal-rows", "1 points that are of no row", true, func(t *testing.T, dir string) { replace(t, dir, "buildings.csv", `(?m)^12,6,.*\n(.|\n)*\z`, "") }},
		{"a damaged tile", "tiles-equal-rows", "tile 14/", true, database("buildings.mbtiles", "UPDATE tiles SET tile_data = substr(tile_data, 1, length(tile_data) - 30) WHERE zoom_level = 14")},
		{"another tie on the map", "tiles-equal-rows", "buildings.mbtiles has tied = false", true, func(t *testing.T, dir string) { set(t, dir, "buildings.csv", 2, "tied", "true") }},
		{"another rank on the map", "tiles-equal-rows", "another building or place", true, func(t *testing.T, dir string) { replace(t, dir, "buildings.csv", `B-05`, "B-06") }},
		{"a caution taken out", "cautions-present", "buildings.csv-metadata.json", true, func(t *testing.T, dir string) {
			b, err := os.ReadFile(filepath.Join(dir, "buildings.csv-metadata.json"))
			require.NoError(t, err)
			require.NoError(t, os.WriteFile(filepath.Join(dir, "buildings.csv-metadata.json"), bytes.ReplaceAll(b, []byte("not thereby safe"), []byte("safe")), 0o666))
		}},
		{"a page that loads", "pages-alone", "loads something", true, func(t *testing.T, dir string) { replace(t, dir, "report.html", `<p>`, `<img src="//x">`) }},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			dir := write(t)
			c.do(t, dir)
			if c.sealed {
				seal(t, dir)
			}
			fs, err := Dir(t.Context(), dir)
			require.NoError(t, err)
			require.True(t, Failed(fs))
			seen := false
			for _, f := range fs {
				if f.Rule == c.rule {
					seen = true
					require.Equal(t, Fail, f.Verdict, f.Detail)
					require.Contains(t, f.Detail, c.says)
				}
				if c.sealed && f.Rule == "files-whole" {
					require.Equal(t, Pass, f.Verdict, f.Detail)
				}
			}
			require.True(t, seen, "there is such a rule")
		})
	}
}

func TestNoRun(t *testing.T) {
	_, err := Dir(t.Context(), t.TempDir())
	require.ErrorIs(t, err, os.ErrNotExist)
}

// TestDamagedParquet holds the audit to its word that damage is a finding, never
// a crash: bytes of the file are changed at random, from a fixed seed.
func TestDamagedParquet(t *testing.T) {
	if testing.Short() {
		t.Skip("damages many files")
	}
	dir := write(t)
	path := filepath.Join(dir, "candidates.parquet")
	whole, err := os.ReadFile(path)
	require.NoError(t, err)
	random := rand.New(rand.NewPCG(1, 2))
	for range 20 {
		b := bytes.Clone(whole)
		for range 10 {
			b[random.IntN(len(b))] = byte(random.Uint32())
		}
		require.NoError(t, os.WriteFile(path, b[:len(b)-random.IntN(2)*random.IntN(len(b))], 0o666))
		fs, err := Dir(t.Context(), dir)
		require.NoError(t, err)
		require.True(t, Failed(fs), "the hash at least must tell")
	}
}

func TestAuditEndsWithItsContext(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	_, err := Dir(ctx, write(t))
	require.ErrorIs(t, err, context.Canceled)
}
