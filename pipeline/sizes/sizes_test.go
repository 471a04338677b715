package sizes

import (
	"bytes"
	"encoding/binary"
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
