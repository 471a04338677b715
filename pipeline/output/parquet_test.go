package output

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"testing"

	"github.com/parquet-go/parquet-go"
	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkb"
	"github.com/stretchr/testify/require"
)

const smallGroup = 8192 // rows: several row groups in few rows

func writeParquet[R any](t testing.TB, table *Table[R], rs []R) []byte {
	var b bytes.Buffer
	w, err := NewParquet(&b, table, About{Version: "0.1.0", Currency: "CRD", PriceDate: "2025-01"})
	require.NoError(t, err)
	w.groupRows = smallGroup
	for i := range rs {
		require.NoError(t, w.Write(&rs[i]))
	}
	require.NoError(t, w.Close())
	return b.Bytes()
}

// openParquet opens b with github.com/parquet-go/parquet-go, which shares run
// lengths alone with the writer.
func openParquet(t testing.TB, b []byte) *parquet.File {
	f, err := parquet.OpenFile(bytes.NewReader(b), int64(len(b)))
	require.NoError(t, err)
	return f
}

// readColumns returns the values of all leaves of f, in schema order.
func readColumns(t testing.TB, f *parquet.File) [][]parquet.Value {
	columns := make([][]parquet.Value, len(f.Schema().Columns()))
	for _, g := range f.RowGroups() {
		rs := g.Rows()
		buf := make([]parquet.Row, 1000)
		for n := 1; n > 0; {
			n, _ = rs.ReadRows(buf)
			for _, r := range buf[:n] {
				for _, v := range r {
					columns[v.Column()] = append(columns[v.Column()], v.Clone())
				}
			}
		}
		require.NoError(t, rs.Close())
	}
	return columns
}

// A full row group is a whole number of pages: its last rows end one.
func TestParquetHasNoEmptyPages(t *testing.T) {
	var b bytes.Buffer
	w, err := NewParquet(&b, &Rejects, About{})
	require.NoError(t, err)
	for range rowsPerGroup + 1 {
		require.NoError(t, w.Write(&Reject{File: "a.csv", Line: 2, Rule: "r"}))
	}
	require.NoError(t, w.Close())
	for _, g := range openParquet(t, b.Bytes()).RowGroups() {
		for _, c := range g.ColumnChunks() {
			pages, values := c.Pages(), int64(0)
			for {
				page, err := pages.ReadPage()
				if err == io.EOF {
					break
				}
				require.NoError(t, err)
				require.Positive(t, page.NumValues())
				values += page.NumValues()
			}
			require.Equal(t, g.NumRows(), values)
			require.NoError(t, pages.Close())
		}
	}
}

func TestParquetReadsBack(t *testing.T) {
	rs := rows(600)
	f := openParquet(t, writeParquet(t, &Buildings, rs))
	require.EqualValues(t, len(rs), f.NumRows())
	columns := readColumns(t, f)
	for j := range Buildings.Columns {
		c := &Buildings.Columns[j]
		require.Equal(t, []string{c.Name}, f.Schema().Columns()[j])
		require.Len(t, columns[j], len(rs))
		for i, v := range columns[j] {
			require.Equal(t, c.missing(&rs[i]), v.IsNull(), "%s, row %d", c.Name, i)
			switch {
			case v.IsNull():
			case c.Float != nil:
				require.Equal(t, c.float(&rs[i]), v.Double())
			case c.Text != nil:
				require.Equal(t, cleanText(*c.Text(&rs[i])), string(v.ByteArray()), "no quote in front: the text as it is")
			case c.Int != nil:
				require.Equal(t, *c.Int(&rs[i]), v.Int64())
			default:
				require.Equal(t, *c.Bool(&rs[i]), v.Boolean())
			}
		}
	}
}

// TestStatistics recounts the nulls and the bounds of every column of every row
// group from the values an independent reader finds.
func TestStatistics(t *testing.T) {
	rs := rows(smallGroup + 500)
	f := openParquet(t, writeParquet(t, &Buildings, rs))
	groups := f.Metadata().RowGroups
	require.Len(t, groups, 2)
	require.EqualValues(t, smallGroup, groups[0].NumRows)
	columns := readColumns(t, f)
	first := 0
	for _, g := range groups {
		for j, chunk := range g.Columns {
			values := columns[j][first : first+int(g.NumRows)]
			s := chunk.MetaData.Statistics
			var nulls int64
			low, high := math.Inf(1), math.Inf(-1)
			for _, v := range values {
				if v.IsNull() {
					nulls++
				} else if v.Kind() == parquet.Double {
					low, high = min(low, v.Double()), max(high, v.Double())
				}
			}
			name := chunk.MetaData.PathInSchema
			require.Equal(t, nulls, s.NullCount, name)
			require.Zero(t, chunk.ColumnIndexOffset, "no page index")
			if parquet.Kind(chunk.MetaData.Type) == parquet.Double && nulls < g.NumRows {
				require.Equal(t, low, parquet.Double.Value(s.MinValue).Double(), name)
				require.Equal(t, high, parquet.Double.Value(s.MaxValue).Double(), name)
			}
			if nulls == g.NumRows {
				require.Empty(t, s.MinValue, name)
			}
		}
		first += int(g.NumRows)
	}
}

// TestStatisticsSkipNaN is the case where a writer that lets a NaN reset its
// bounds makes a query for small values return nothing.
func TestStatisticsSkipNaN(t *testing.T) {
	rs := make([]Verdict, 100)
	for i := range rs {
		rs[i] = Verdict{BuildingID: "1", Measure: "m", Rule: "r", Verdict: "bar", Value: float64(i), Limit: math.NaN(),
			Sentence: string(bytes.Repeat([]byte("x"), 40+i))}
	}
	rs[5].Value = math.NaN()
	g := openParquet(t, writeParquet(t, &Verdicts, rs)).Metadata().RowGroups[0]
	value, limit, sentence := g.Columns[4].MetaData.Statistics, g.Columns[5].MetaData.Statistics, g.Columns[7].MetaData.Statistics
	require.EqualValues(t, 1, value.NullCount)
	require.Equal(t, 0.0, parquet.Double.Value(value.MinValue).Double())
	require.True(t, math.Signbit(parquet.Double.Value(value.MinValue).Double()), "a lower bound of zero is -0")
	require.Equal(t, 99.0, parquet.Double.Value(value.MaxValue).Double())
	require.EqualValues(t, 100, limit.NullCount)
	require.Empty(t, limit.MinValue)
	require.Empty(t, sentence.MaxValue, "a text too long for a bound is none")
}

// TestGeoParquet checks the key geo by GeoParquet 1.1.0 and the points with the
// WKB decoder of github.com/paulmach/orb.
func TestGeoParquet(t *testing.T) {
	rs := rows(300)
	f := openParquet(t, writeParquet(t, &Buildings, rs))
	value, ok := f.Lookup("geo")
	require.True(t, ok)
	var geo struct {
		Version string
		Primary string `json:"primary_column"`
		Columns map[string]struct {
			Encoding string
			Types    []string `json:"geometry_types"`
			BBox     []float64
		}
	}
	require.NoError(t, json.Unmarshal([]byte(value), &geo))
	require.Equal(t, "1.1.0", geo.Version)
	require.Equal(t, "geometry", geo.Primary)
	require.Equal(t, "WKB", geo.Columns["geometry"].Encoding)
	require.Equal(t, []string{"Point"}, geo.Columns["geometry"].Types)
	columns := readColumns(t, f)
	n := len(Buildings.Columns)
	bound := orb.Bound{Min: orb.Point{180, 90}, Max: orb.Point{-180, -90}}
	for i := range rs {
		x, y := Round(rs[i].Lon, coordinateDigits), Round(rs[i].Lat, coordinateDigits)
		if math.IsNaN(x) {
			for _, column := range columns[n:] {
				require.True(t, column[i].IsNull())
			}
			continue
		}
		g, err := wkb.Unmarshal(columns[n][i].ByteArray())
		require.NoError(t, err)
		require.Equal(t, orb.Point{x, y}, g)
		bound = bound.Extend(orb.Point{x, y})
		for k, want := range []float64{x, y, x, y} {
			require.Equal(t, want, columns[n+1+k][i].Double())
		}
	}
	require.Equal(t, []float64{bound.Min[0], bound.Min[1], bound.Max[0], bound.Max[1]}, geo.Columns["geometry"].BBox)
	for key, want := range map[string]string{"caution": Caution, "plinth_version": "0.1.0", "id_column": "building_id"} {
		got, _ := f.Lookup(key)
		require.Equal(t, want, got)
	}
}

func TestParquetNoRows(t *testing.T) {
	f := openParquet(t, writeParquet(t, &Buildings, nil))
	require.Zero(t, f.NumRows())
	geo, _ := f.Lookup("geo")
	require.Contains(t, geo, `"geometry_types":[]`)
	require.NotContains(t, geo, `"bbox":[1`)
}

// TestParquetWholeGroup ends exactly on a row group: no empty group follows.
func TestParquetWholeGroup(t *testing.T) {
	rs := make([]Reject, smallGroup)
	for i := range rs {
		rs[i].Rule = "no id"
	}
	f := openParquet(t, writeParquet(t, &Rejects, rs))
	require.Len(t, f.Metadata().RowGroups, 1)
	require.EqualValues(t, smallGroup, f.NumRows())
}

func TestSameBytes(t *testing.T) {
	rs := rows(1000) // two goroutines compress
	want := writeParquet(t, &Buildings, rs)
	for range 2 {
		require.True(t, bytes.Equal(want, writeParquet(t, &Buildings, rs)))
	}
	require.True(t, bytes.Equal(writeCSV(t, &Buildings, rs), writeCSV(t, &Buildings, rs)))
}

func TestParquetPassesOnWriteErrors(t *testing.T) {
	w, err := NewParquet(failing{}, &Rejects, About{})
	require.NoError(t, err)
	require.ErrorIs(t, w.Close(), errFull)
}

// TestDictionaries reads back columns that keep a dictionary, give it up in their
// first page, give it up in a later one, and have none in theirs.
func TestDictionaries(t *testing.T) {
	const n = 3 * pageRows
	rs := make([]Verdict, n)
	for i := range rs {
		rs[i] = Verdict{BuildingID: fmt.Sprint(i), Measure: fmt.Sprint("m", i%7), Rule: "r", Verdict: "bar", Value: math.NaN(), Limit: 1, Unit: "m"}
		if i > pageRows+100 {
			rs[i].Rule, rs[i].Value = fmt.Sprint("r", i), float64(i%3)
		}
		if i%5 == 0 {
			rs[i].Unit = ""
		}
	}
	var b bytes.Buffer
	w, err := NewParquet(&b, &Verdicts, About{})
	require.NoError(t, err)
	for i := range rs {
		require.NoError(t, w.Write(&rs[i]))
	}
	require.NoError(t, w.Close())
	f := openParquet(t, b.Bytes())
	columns := readColumns(t, f)
	dictionary := map[string]bool{}
	for j := range Verdicts.Columns {
		c := &Verdicts.Columns[j]
		dictionary[c.Name] = f.Metadata().RowGroups[0].Columns[j].MetaData.DictionaryPageOffset != 0
		require.Len(t, columns[j], n)
		for i, v := range columns[j] {
			require.Equal(t, c.missing(&rs[i]), v.IsNull(), "%s, row %d", c.Name, i)
			switch {
			case v.IsNull():
			case c.Float != nil:
				require.Equal(t, c.float(&rs[i]), v.Double())
			default:
				require.Equal(t, *c.Text(&rs[i]), string(v.ByteArray()))
			}
		}
	}
	require.Equal(t, map[string]bool{"building_id": false, "measure": true, "rule": true, "verdict": true,
		"value": false, "limit": true, "unit": true, "sentence": false}, dictionary)
}
