package inventory

import (
	"errors"
	"io"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/inventory/fault"
)

// taken returns the bytes that f takes from the heap.
func taken(f func()) uint64 {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	f()
	runtime.ReadMemStats(&after)
	return after.TotalAlloc - before.TotalAlloc
}

// A hollow is a file of a text, so many zero bytes and another text.
type hollow struct {
	head, tail string
	zeros, at  int64
}

func (h *hollow) Read(p []byte) (n int, err error) {
	switch head, end := int64(len(h.head)), int64(len(h.head))+h.zeros; {
	case h.at < head:
		n = copy(p, h.head[h.at:])
	case h.at < end:
		n = int(min(int64(len(p)), end-h.at))
		clear(p[:n])
	case h.at-end < int64(len(h.tail)):
		n = copy(p, h.tail[h.at-end:])
	default:
		return 0, io.EOF
	}
	h.at += int64(n)
	return n, nil
}

func (h *hollow) Seek(offset int64, whence int) (int64, error) {
	if whence != io.SeekStart {
		return 0, errors.ErrUnsupported
	}
	h.at = offset
	return offset, nil
}

// A cell of 4 GB is one bad row, whichever cell it is: it is read past in bounded
// memory, and the row behind it is a row.
func TestGiantCell(t *testing.T) {
	row := strings.TrimSuffix(rowWith("ref=A2"), "\n")
	for name, c := range map[string]struct{ before, after string }{
		"first cell": {"", row[2:]}, "second cell": {row[:3], row[3:]}, "last cell": {row, ""}, "quoted": {row[:3] + `"`, `"` + row[3:]},
	} {
		in := &hollow{head: smallHeader + rowWith("ref=A1") + c.before, zeros: 1 << 30, tail: c.after + "\n" + rowWith("ref=A3")}
		if name == "last cell" {
			in.zeros = 4 << 30 // once is enough
		}
		var buildings []Building
		var rejects []Reject
		got := taken(func() {
			r, err := NewReader(in, "buildings.csv", smallPlan(), Options{})
			require.NoError(t, err)
			buildings, rejects, _ = read(t, r)
		})
		require.Len(t, buildings, 2, name)
		assert.Equal(t, []string{"A1", "A3"}, []string{buildings[0].ID, buildings[1].ID}, name)
		assert.Equal(t, []int{2, 4}, []int{buildings[0].Line, buildings[1].Line}, name)
		require.Len(t, rejects, 1, name)
		assert.Contains(t, rejects[0].Error(), "a line of more than 1 MB", name)
		assert.Less(t, got, uint64(64<<20), name)
	}
}

// A feature without an end is an error before it has filled the memory, wherever in
// the collection it stands and whatever it is.
func TestGiantFeature(t *testing.T) {
	for _, head := range []string{
		`{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"ref":"`,
		`{"name":"`,
	} {
		var err error
		got := taken(func() {
			r, e := NewReader(io.MultiReader(strings.NewReader(head), ones{}), "register", stockPlan("geojson"), Options{})
			if err = e; err == nil {
				var raw Raw
				err = r.Next(&raw)
			}
		})
		var file *fault.FileError
		require.ErrorAs(t, err, &file)
		assert.Contains(t, file.Rule, "more than 16 MB")
		assert.Less(t, got, uint64(128<<20))
	}
	good := strings.Split(strings.TrimSpace(string(stockJSON(t, madeRows(3, false), true))), "\n")
	lines := io.MultiReader(strings.NewReader(good[0]+"\n"), io.LimitReader(ones{}, 100<<20), strings.NewReader("\n"+good[1]))
	r, err := NewReader(lines, "register", stockPlan("geojson-lines"), Options{})
	require.NoError(t, err)
	buildings, rejects, _ := read(t, r)
	assert.Len(t, buildings, 2)
	assert.Len(t, rejects, 1)
}

// ones gives the digit 1 without end.
type ones struct{}

func (ones) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = '1'
	}
	return len(p), nil
}
