package output

import (
	"math/rand/v2"
	"testing"

	"github.com/parquet-go/parquet-go/encoding/rle"
	"github.com/stretchr/testify/require"
)

// The numbers 0 to 7 in three bits are the bytes of the example in the Parquet format
// (Encodings.md, "Run Length Encoding / Bit-Packing Hybrid").
func TestRunsAsInTheFormat(t *testing.T) {
	packed := []byte{1<<1 | 1, 0b10001000, 0b11000110, 0b11111010}
	require.Equal(t, packed, appendRuns(nil, []int32{0, 1, 2, 3, 4, 5, 6, 7}, 3))
	require.Equal(t, []byte{0xC8, 0x01, 4}, appendRuns(nil, repeated(4, 100), 3), "100 times, 200 as a varint")
	require.Equal(t, []byte{3 << 1, 0x34, 0x12}, appendRuns(nil, repeated(0x1234, 3), 13), "two bytes of a value")
	require.Empty(t, appendRuns[int32](nil, nil, 3))
}

func repeated(v int32, n int) []int32 {
	out := make([]int32, n)
	for i := range out {
		out[i] = v
	}
	return out
}

// Whatever the numbers, a library that shares no code with the writer reads them back,
// and no more than seven behind them.
func TestRunsReadBack(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		width := 1 + r.IntN(16)
		var v []int32
		for range 1 + r.IntN(30) {
			v = append(v, repeated(r.Int32N(1<<width), 1+r.IntN(1+r.IntN(40)))...)
		}
		b := appendRuns(nil, v, width)
		got, err := (&rle.Encoding{BitWidth: width}).DecodeInt32(nil, b)
		require.NoError(t, err)
		require.Less(t, len(got)-len(v), 8)
		require.Equal(t, v, got[:len(v)])

		levels := make([]byte, len(v))
		for i := range v {
			levels[i] = byte(v[i] & 1)
		}
		back, err := (&rle.Encoding{BitWidth: 1}).DecodeLevels(nil, appendRuns(nil, levels, 1))
		require.NoError(t, err)
		require.Equal(t, levels, back[:len(v)])
	}
}

func BenchmarkRuns(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 2))
	v := make([]int32, pageRows)
	for i := range v {
		v[i] = r.Int32N(200)
	}
	var out []byte
	b.ReportAllocs()
	for b.Loop() {
		out = appendRuns(out[:0], v, 8)
	}
}
