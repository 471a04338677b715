package inventory

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/plan"
)

// Batches read from their marks, each by a reader of its own and in any order, are
// the batches of one reading: the same rows on the same lines, through cells that
// run over lines, blank lines, stray quotation marks and ragged rows.
func TestMark(t *testing.T) {
	var text bytes.Buffer
	text.WriteString("\ufeffid,name,lon,lat,storeys\r\n")
	for i := range 60 {
		switch i % 7 {
		case 2:
			fmt.Fprintf(&text, "b%d,\"two\nlines, %d\",10.12345,20.54321,3\n", i, i)
		case 3:
			fmt.Fprintf(&text, "\n\nb%d,x,10.12345,20.54321,\"4\r\n\"\r\n", i)
		case 4:
			fmt.Fprintf(&text, "b%d,x,10.5\n", i)
		case 5:
			fmt.Fprintf(&text, "b%d,\"never closed,10.12345,20.54321,3\n", i)
		case 6:
			fmt.Fprintf(&text, "b%d,a \"quote\" inside,10.12345,20.54321,3\n", i)
		default:
			fmt.Fprintf(&text, "b%d,plain,10.12345,20.54321,%d\n", i, i+1)
		}
	}
	path := filepath.Join(t.TempDir(), "register.csv")
	require.NoError(t, os.WriteFile(path, text.Bytes(), 0o666))
	inv := &plan.Inventory{Path: path, Columns: map[string]string{"id": "id", "name": "name", "lon": "lon", "lat": "lat", "storeys": "storeys"}, Assume: map[string]string{"system": "timber-frame", "floor_area": "500"}}
	open := func() *Reader {
		r, err := Open(inv, Options{BatchRows: 4})
		require.NoError(t, err)
		return r
	}
	show := func(r *Reader, raw *Raw) string {
		var b Batch
		r.Parse(raw, &b)
		var out strings.Builder
		for i := range b.Buildings {
			fmt.Fprintf(&out, "%d %q %q %d\n", b.Buildings[i].Line, b.Buildings[i].ID, b.Buildings[i].Name, b.Buildings[i].Storeys)
		}
		for i := range b.Rejects {
			fmt.Fprintln(&out, b.Rejects[i].Error())
		}
		return out.String()
	}

	var marks []Mark
	var want []string
	whole := open()
	defer whole.Close()
	for {
		m, ok := whole.Mark()
		require.True(t, ok)
		var raw Raw
		if err := whole.Next(&raw); errors.Is(err, io.EOF) {
			break
		} else {
			require.NoError(t, err)
		}
		marks, want = append(marks, m), append(want, show(whole, &raw))
	}
	require.Greater(t, len(marks), 10)
	assert.Contains(t, strings.Join(want, ""), `96 "b59" "x" 4`, "the last row is read, on its line")
	for i := len(marks) - 1; i >= 0; i-- {
		r := open()
		require.NoError(t, r.GoTo(marks[i]))
		var raw Raw
		require.NoError(t, r.Next(&raw))
		assert.Equal(t, want[i], show(r, &raw), "batch %d", i)
		r.Close()
	}
}

// Formats that are read from the start have no marks.
func TestNoMark(t *testing.T) {
	inv := &plan.Inventory{Columns: map[string]string{"id": "id", "lon": "lon", "lat": "lat"}}
	pipe := struct{ io.Reader }{strings.NewReader("id,lon,lat\na,1,2\n")}
	r, err := NewReader(pipe, "pipe.csv", inv, Options{})
	require.NoError(t, err)
	_, ok := r.Mark()
	assert.False(t, ok, "a stream cannot seek")

	inv = &plan.Inventory{Format: "geojson", Columns: map[string]string{"id": "id"}}
	r, err = NewReader(strings.NewReader(`{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"id":"a"},"geometry":{"type":"Point","coordinates":[1,2]}}]}`), "x.geojson", inv, Options{})
	require.NoError(t, err)
	_, ok = r.Mark()
	assert.False(t, ok)
}
