package sizes

import (
	"bytes"
	"encoding/binary"
	"io"
	"runtime"
	"strings"
	"testing"

	"github.com/andybalholm/brotli"
	"github.com/klauspost/compress/gzip"
	"github.com/klauspost/compress/zstd"
	lib "github.com/parquet-go/parquet-go/encoding/delta"
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
	assert.ErrorIs(t, checkRuns(nil, 1, -1), errRuns, "no page has fewer than none")

	head := append(binary.AppendUvarint([]byte{128, 1, 4}, 101), 0)
	_, err := openDelta(head, 101)
	assert.NoError(t, err)
	_, err = openDelta(head, 100)
	assert.ErrorIs(t, err, errRuns)
}

// A packed run at the end of a page may be filled up to the vector of its writer, 256
// numbers in files of DuckDB 1.5.6, if the bytes are there; padding without end, or
// padding of runs of one value, is none.
func TestRunPadding(t *testing.T) {
	packed := func(eights int) []byte {
		return append(binary.AppendUvarint(nil, uint64(eights)<<1|1), make([]byte, eights)...)
	}
	assert.NoError(t, checkRuns(packed(32), 1, 239), "256 for 239")
	assert.NoError(t, checkRuns(append(packed(32), packed(32)...), 1, 257), "the second of two")
	assert.NoError(t, checkRuns(packed(mostPadding/8), 1, 1))
	for name, b := range map[string][]byte{
		"bytes missing": packed(32)[:20],
		"without end":   packed(mostPadding/8 + 2),
		"in pieces":     bytes.Repeat(packed(32), 1+mostPadding/256),
		"of one value":  binary.AppendUvarint(nil, 110<<1),
	} {
		assert.ErrorIs(t, checkRuns(append(b, 0), 1, 100), errRuns, name)
	}
}

// Texts by their differences, as in the examples of the Parquet format (Encodings.md,
// DELTA_LENGTH_BYTE_ARRAY and DELTA_BYTE_ARRAY), are read in the library's own writing.
// Lengths that reach beyond the page, or unpack a few bytes to gigabytes, are refused.
func TestDeltaTexts(t *testing.T) {
	write := func(encode func(dst, src []byte, offsets []uint32) ([]byte, error), texts ...string) []byte {
		offsets, all := []uint32{0}, []byte(nil)
		for _, s := range texts {
			all = append(all, s...)
			offsets = append(offsets, uint32(len(all)))
		}
		b, err := encode(nil, all, offsets)
		require.NoError(t, err)
		return b
	}
	lengths := func(n ...int32) []byte {
		b, err := new(lib.BinaryPackedEncoding).EncodeInt32(nil, n)
		require.NoError(t, err)
		return b
	}
	behind, before := new(lib.LengthByteArrayEncoding).EncodeByteArray, new(lib.ByteArrayEncoding).EncodeByteArray
	assert.NoError(t, checkLengths(write(behind, "Hello", "World", "Foobar", "ABCDEF"), 4))
	assert.NoError(t, checkPrefixed(write(before, "axis", "axle", "babble", "babyhood"), 4))
	var many []string
	for i := range 1000 {
		many = append(many, strings.Repeat("school ", i%90)+strings.Repeat("x", i*i%37))
	}
	assert.NoError(t, checkLengths(write(behind, many...), len(many)))
	assert.NoError(t, checkPrefixed(write(before, many...), len(many)))
	assert.ErrorIs(t, checkPrefixed(write(before, many...), len(many)-1), errRuns, "more than the page says")

	numbers := []int32{7, 5, 3, 1, 2, 3, 4, 5, -1 << 31, 1<<31 - 1, 0}
	for i := range int32(500) {
		numbers = append(numbers, i*i*i*7919)
	}
	d, err := openDelta(append(lengths(numbers...), 1, 2, 3), len(numbers))
	require.NoError(t, err)
	for i, want := range numbers {
		got, err := d.next()
		require.NoError(t, err)
		require.Equal(t, want, got, i)
	}
	assert.Equal(t, []byte{1, 2, 3}, d.b, "what is behind")

	steps := make([]int32, 2000) // what each has of the one before, which is one byte
	for i := range steps {
		steps[i] = int32(i) * 100_000
	}
	join := func(parts ...[]byte) []byte { return bytes.Join(parts, nil) }
	for name, b := range map[string][]byte{
		"more than was before": join(lengths(steps...), lengths(append(make([]int32, 1999), 1)...), []byte("x")),
		"more of it than is":   join(lengths(0, 3), lengths(2, 2), []byte("abcd")),
		"less than none":       join(lengths(0, -1), lengths(2, 2), []byte("abcd")),
		"a length below none":  join(lengths(0, 0), lengths(2, -2), []byte("abcd")),
		"beyond the page":      join(lengths(0, 0), lengths(2, 3), []byte("abcd")),
		"one length missing":   join(lengths(0, 0), lengths(2), []byte("abcd")),
		"cut":                  lengths(steps...)[:100],
	} {
		assert.ErrorIs(t, checkPrefixed(b, 4000), errRuns, name)
	}
	same := make([]int32, 1000) // a megabyte, a thousand times over
	for i := range same[1:] {
		same[i+1] = 1 << 20
	}
	got := taken(func() {
		own := make([]int32, 1000)
		own[0] = 1 << 20
		assert.ErrorIs(t, checkPrefixed(join(lengths(same...), lengths(own...), make([]byte, 1<<20)), 1000), errRuns)
	})
	assert.Less(t, got, uint64(8<<20))
}

// What passes the check the library decodes without a panic, in the memory of a page, and
// what the library wrote passes.
func FuzzDeltaTexts(f *testing.F) {
	for _, texts := range [][]string{{}, {"", "", ""}, {"axis", "axle", "babble", "babyhood"}, {strings.Repeat("x", 300), strings.Repeat("x", 299)}} {
		offsets, all := []uint32{0}, []byte(nil)
		for _, s := range texts {
			all = append(all, s...)
			offsets = append(offsets, uint32(len(all)))
		}
		b, err := new(lib.ByteArrayEncoding).EncodeByteArray(nil, all, offsets)
		require.NoError(f, err)
		require.NoError(f, checkPrefixed(b, len(texts)))
		f.Add(b)
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		const most = 1000
		if checkPrefixed(b, most) == nil {
			texts, offsets, _ := new(lib.ByteArrayEncoding).DecodeByteArray(nil, b, nil) // it may ask for more
			require.LessOrEqual(t, len(offsets), most+1)
			require.LessOrEqual(t, len(texts), longestPage)
		}
		if checkLengths(b, most) == nil {
			texts, offsets, _ := new(lib.LengthByteArrayEncoding).DecodeByteArray(nil, b, nil)
			require.LessOrEqual(t, len(offsets), most+1)
			require.LessOrEqual(t, len(texts), len(b))
		}
	})
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
	if testing.Short() {
		t.Skip("writes pages of gigabytes")
	}
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
	b.Reset()
	bombs[format.Brotli] = [][]byte{packed(brotli.NewWriterLevel(&b, 5), &b, much)}
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
