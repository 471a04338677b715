package output

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"
)

func writeCSV[R any](t testing.TB, table *Table[R], rs []R) []byte {
	var b bytes.Buffer
	w := NewCSV(&b, table)
	for i := range rs {
		require.NoError(t, w.Write(&rs[i]))
	}
	require.NoError(t, w.Close())
	return b.Bytes()
}

// TestCSVReadsBack reads what was written with encoding/csv of the Go library.
// That reader turns CRLF inside a cell into LF (its documentation says so).
func TestCSVReadsBack(t *testing.T) {
	rs := rows(300)
	b := writeCSV(t, &Buildings, rs)
	require.True(t, utf8.Valid(b))
	records, err := csv.NewReader(bytes.NewReader(b)).ReadAll()
	require.NoError(t, err)
	require.Len(t, records, len(rs)+1)
	for i, c := range Buildings.Columns {
		require.Equal(t, c.Name, records[0][i])
	}
	for i, record := range records[1:] {
		for j := range Buildings.Columns {
			c, cell := &Buildings.Columns[j], record[j]
			switch {
			case c.missing(&rs[i]):
				require.Empty(t, cell)
			case c.Float != nil:
				v, err := strconv.ParseFloat(cell, 64)
				require.NoError(t, err)
				require.Equal(t, c.float(&rs[i]), v)
			case c.Text != nil:
				want := strings.ReplaceAll(cleanText(*c.Text(&rs[i])), "\r\n", "\n")
				require.Equal(t, want, RawText(cell))
			case c.Int != nil:
				require.Equal(t, strconv.FormatInt(*c.Int(&rs[i]), 10), cell)
			default:
				require.Equal(t, strconv.FormatBool(*c.Bool(&rs[i])), cell)
			}
		}
	}
}

// neutral returns the one cell that s is written as.
func neutral(s string) string {
	record, err := csv.NewReader(bytes.NewReader(append(appendText([]byte("x,"), s), ",y\n"...))).Read()
	if err != nil {
		panic(err)
	}
	return record[1]
}

// TestNeutral checks the beginnings that the OWASP page "CSV Injection" lists
// (from memory).
func TestNeutral(t *testing.T) {
	for _, s := range []string{"=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\n=1", "＝1", "'=1", "''@"} {
		require.Equal(t, "'"+s, neutral(s))
	}
	for _, s := range []string{"", "a=1", "1-2", "'", "'quoted'", "é", " =1", "0012"} {
		require.Equal(t, s, neutral(s))
	}
}

// FuzzText holds a hostile text to its promises: one cell, read back as it was,
// and never run as a formula.
func FuzzText(f *testing.F) {
	for _, s := range hostile {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		record, err := csv.NewReader(bytes.NewReader(append(appendText([]byte("x,"), s), ",y\n"...))).Read()
		require.NoError(t, err)
		require.Len(t, record, 3)
		want := strings.ReplaceAll(cleanText(s), "\r\n", "\n")
		require.Equal(t, want, RawText(record[1]))
		if record[1] != "" {
			require.NotContains(t, "=+-@\t\r\n", record[1][:1])
		}
	})
}

// TestCSVMetadata checks the description against the recommendation "Metadata
// Vocabulary for Tabular Data" (W3C, 17 December 2015): @context 5.2, url 5.4.2,
// column names 5.6, datatypes 5.11.1.
func TestCSVMetadata(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, WriteCSVMetadata(&b, &Candidates, About{Version: "0.1.0"}))
	var d struct {
		Context string `json:"@context"`
		URL     string
		Doc     string `json:"dc:description"`
		Dialect map[string]any
		Schema  struct {
			Columns []struct{ Name, Titles, Datatype string }
			Key     []string `json:"primaryKey"`
		} `json:"tableSchema"`
	}
	require.NoError(t, json.Unmarshal(b.Bytes(), &d))
	require.Equal(t, "http://www.w3.org/ns/csvw", d.Context)
	require.Equal(t, "candidates.csv", d.URL)
	require.Contains(t, d.Doc, Caution)
	prefix, said := d.Dialect["commentPrefix"] // 5.9: "#" where nothing is said
	require.True(t, said && prefix == nil, "an id such as #12 is no comment")
	header, _, _ := strings.Cut(string(writeCSV(t, &Candidates, nil)), "\n")
	for i, name := range strings.Split(header, ",") {
		require.Equal(t, name, d.Schema.Columns[i].Name)
		require.Contains(t, []string{"string", "double", "long", "boolean"}, d.Schema.Columns[i].Datatype)
	}
	require.Equal(t, []string{"building_id", "measure"}, d.Schema.Key)
}

func TestCSVAllocatesNothing(t *testing.T) {
	rs := rows(50)
	w := NewCSV(&discard{}, &Buildings)
	i := 0
	n := testing.AllocsPerRun(200, func() {
		if err := w.Write(&rs[i%20]); err != nil {
			t.Fatal(err)
		}
		i++
	})
	require.Zero(t, n)
}

type discard struct{}

func (*discard) Write(b []byte) (int, error) { return len(b), nil }

func TestCSVPassesOnWriteErrors(t *testing.T) {
	w := NewCSV(failing{}, &Rejects)
	require.ErrorIs(t, w.Close(), errFull)
}

var errFull = fmt.Errorf("disk full")

type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, errFull }

// What a terminal obeys and marks of direction stand in no cell, whichever bytes are around
// them; the same text stands in every format.
func TestCSVHasNothingToObey(t *testing.T) {
	for _, bad := range []string{"\x1b[31m", "\a", "\b", "\x00", "\x7f", "\u009b", "\u202e", "\u2067", "\u200f"} {
		for n := range 10 {
			r := rows(1)[0]
			r.Name = strings.Repeat("n", n) + bad + strings.Repeat("m", 9-n)
			out := string(writeCSV(t, &Buildings, []Building{r}))
			require.NotContains(t, out, bad)
			require.Contains(t, out, cleanText(r.Name))
			require.Equal(t, cleanText(r.Name), Buildings.column("building_name").stored(&r))
		}
		reject := Reject{File: bad, BuildingID: bad, Column: bad, RawValue: bad, Rule: bad, Remedy: bad}
		require.NotContains(t, string(writeCSV(t, &Rejects, []Reject{reject})), bad)
	}
}
