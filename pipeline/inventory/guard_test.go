package inventory

import (
	"bytes"
	"encoding/binary"
	"errors"
	"io"
	"runtime"
	"strings"
	"testing"

	"github.com/klauspost/compress/gzip"
	"github.com/klauspost/compress/zstd"
	"github.com/parquet-go/parquet-go/format"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Lengths that the reading library would make room for are refused: a list of two
// thousand million row groups, a text of as many bytes, structs without end.
func TestThriftLengths(t *testing.T) {
	varint := func(head []byte, n uint64) []byte { return binary.AppendUvarint(head, n) }
	const field = 1 << 4 // the next field, of a type
	good := append([]byte{field | thriftI32, 2, field | thriftList, 2<<4 | thriftI32, 1, 3, field | thriftBinary, 3}, 'a', 'b', 'c', 0)
	n, err := checkThrift(append(good, 9, 9))
	require.NoError(t, err)
	assert.Equal(t, len(good), n, "what is behind the struct is not of it")
	for name, b := range map[string][]byte{
		"list":   append(varint([]byte{field | thriftList, 15<<4 | thriftStruct}, 1<<31-1), 0, 0),
		"text":   append(varint([]byte{field | thriftBinary}, 1<<31-1), 'a', 0),
		"map":    append(varint([]byte{field | thriftMap}, 1<<31-1), 0x55, 0),
		"depth":  []byte(strings.Repeat(string(rune(field|thriftStruct)), 40) + strings.Repeat("\x00", 40)),
		"type":   {field | 13, 0},
		"end":    good[:len(good)-1],
		"varint": {field | thriftI64, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0},
		"empty":  {},
	} {
		_, err := checkThrift(b)
		assert.ErrorIs(t, err, errThrift, name)
	}
}

// Runs of more values than their page are refused before anything is unpacked.
func TestRunLengths(t *testing.T) {
	run := func(head uint64, more ...byte) []byte { return append(binary.AppendUvarint(nil, head), more...) }
	assert.NoError(t, checkRuns(run(100<<1, 1), 1, 100))
	assert.NoError(t, checkRuns(run(13<<1|1, make([]byte, 13)...), 1, 100), "thirteen eights for a hundred")
	assert.NoError(t, checkRuns(append(run(50<<1, 7), run(50<<1, 9)...), 4, 100))
	for name, b := range map[string][]byte{
		"one run":        run(1<<31, 1),
		"packed":         run(1<<29|1, 1),
		"packed, empty":  run(1<<62|1, 1),
		"many runs":      append(run(60<<1, 7), run(60<<1, 9)...),
		"values missing": run(100 << 1),
		"bytes missing":  run(13<<1|1, 0, 0),
	} {
		assert.ErrorIs(t, checkRuns(b, 4, 100), errRuns, name)
	}
	assert.ErrorIs(t, checkRuns(run(100<<1, 1), 33, 100), errRuns, "no number is so wide")
	assert.NoError(t, checkRuns(run(12<<1|1), 0, 100), "a dictionary of one word")
	assert.ErrorIs(t, checkRuns(run(1<<40|1), 0, 100), errRuns, "packed in no bits")

	head := binary.AppendUvarint([]byte{128, 1, 4}, 101)
	assert.NoError(t, checkDelta(head, 101))
	assert.ErrorIs(t, checkDelta(head, 100), errRuns)
}

// Text is taken for UTF-8 even where its head ends within a letter.
func TestValidHead(t *testing.T) {
	text := []byte("Māori 建物 🏠")
	for n := range text {
		assert.True(t, validHead(text[:n], false), n)
	}
	assert.True(t, validHead(text, true))
	assert.False(t, validHead(text[:2], true), "the whole file ends within a letter")
	assert.False(t, validHead([]byte("Caf\xe9 Noir"), false))
	assert.True(t, validHead(nil, true))
}

// zeros gives zeros without end.
type zeros struct{}

func (zeros) Read(p []byte) (int, error) {
	clear(p)
	return len(p), nil
}

// taken returns the bytes that f takes from the heap.
func taken(f func()) uint64 {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	f()
	runtime.ReadMemStats(&after)
	return after.TotalAlloc - before.TotalAlloc
}

// A page of some kilobytes that unpacks to 256 MB where it says 1000 bytes costs the
// memory of what it says, packed in one frame or in several.
func TestPackedBomb(t *testing.T) {
	const much, said = 256 << 20, 1000
	packed := func(w io.WriteCloser, b *bytes.Buffer, n int64) []byte {
		_, err := io.CopyN(w, zeros{}, n)
		require.NoError(t, err)
		require.NoError(t, w.Close())
		return bytes.Clone(b.Bytes())
	}
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	bombs := map[format.CompressionCodec][][]byte{format.Gzip: {packed(z, &b, much)}}
	b.Reset()
	e, err := zstd.NewWriter(&b, zstd.WithEncoderLevel(zstd.SpeedFastest))
	require.NoError(t, err)
	zbomb := packed(e, &b, much)
	b.Reset()
	e.Reset(&b)
	small := packed(e, &b, said)
	bombs[format.Zstd] = [][]byte{zbomb, append(small, zbomb...)}
	for codec, list := range bombs {
		for _, bomb := range list {
			require.Less(t, len(bomb), 1<<20)
			var u unpacker
			var err error
			got := taken(func() { _, err = u.unpack(codec, bomb, said) })
			assert.ErrorIs(t, err, errUnpacked, codec)
			assert.Less(t, got, uint64(20<<20), codec)
		}
	}
	var u unpacker
	for range 2 { // the same unpacker again
		plain, err := u.unpack(format.Zstd, small, said)
		require.NoError(t, err)
		assert.Equal(t, make([]byte, said), plain)
	}
	_, err = u.unpack(format.Zstd, small, said+1)
	assert.ErrorIs(t, err, errUnpacked)
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
		var file *FileError
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
