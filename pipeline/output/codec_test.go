package output

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// TestCodecRoundTrip encodes arbitrary rows: what is read back encodes to the
// same bytes and holds the same values bit for bit, any NaN being the one NaN.
func TestCodecRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var row, back Building
		for i := range Buildings.Columns {
			c := &Buildings.Columns[i]
			switch {
			case c.Float != nil:
				*c.Float(&row) = rapid.OneOf(rapid.Float64(), rapid.Just(math.NaN()), rapid.Just(math.Inf(1))).Draw(t, c.Name)
			case c.Text != nil:
				*c.Text(&row) = rapid.OneOf(rapid.String(), rapid.SampledFrom(hostile)).Draw(t, c.Name)
			case c.Int != nil:
				*c.Int(&row) = rapid.OneOf(rapid.Int64(), rapid.Just(int64(NoInt))).Draw(t, c.Name)
			default:
				*c.Bool(&row) = rapid.Bool().Draw(t, c.Name)
			}
		}
		b := Buildings.AppendRow(nil, &row)
		rest, err := Buildings.DecodeRow(append(b, "next"...), &back)
		require.NoError(t, err)
		require.Equal(t, "next", string(rest))
		require.Equal(t, b, Buildings.AppendRow(nil, &back))
		for i := range Buildings.Columns {
			c := &Buildings.Columns[i]
			switch {
			case c.Float != nil:
				v, w := *c.Float(&row), *c.Float(&back)
				require.True(t, v == w || math.IsNaN(v) && math.IsNaN(w), c.Name)
			case c.Text != nil:
				require.Equal(t, *c.Text(&row), *c.Text(&back))
			case c.Int != nil:
				require.Equal(t, *c.Int(&row), *c.Int(&back))
			default:
				require.Equal(t, *c.Bool(&row), *c.Bool(&back))
			}
		}
		cut := rapid.IntRange(0, len(b)-1).Draw(t, "cut")
		_, err = Buildings.DecodeRow(b[:cut], &back)
		require.ErrorIs(t, err, ErrShortRow)
	})
}

// FuzzDecodeRow holds the decoder to no panic, and to a row that encodes again
// to what was read, on bytes of any kind.
func FuzzDecodeRow(f *testing.F) {
	rs := rows(3)
	for i := range rs {
		f.Add(Buildings.AppendRow(nil, &rs[i]))
	}
	f.Add([]byte{})
	f.Add([]byte{0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0x7f})
	f.Fuzz(func(t *testing.T, b []byte) {
		var row, again Building
		if _, err := Buildings.DecodeRow(b, &row); err != nil {
			require.ErrorIs(t, err, ErrShortRow)
			return
		}
		encoded := Buildings.AppendRow(nil, &row)
		_, err := Buildings.DecodeRow(encoded, &again)
		require.NoError(t, err)
		require.Equal(t, encoded, Buildings.AppendRow(nil, &again))
	})
}

func TestCodecAllocatesNothing(t *testing.T) {
	rs := rows(1)
	b := make([]byte, 0, 1<<12)
	var row Building
	n := testing.AllocsPerRun(100, func() {
		b = Buildings.AppendRow(b[:0], &rs[0])
		if _, err := Buildings.DecodeRow(b, &row); err != nil {
			t.Fatal(err)
		}
	})
	require.Zero(t, n, "texts equal to those already in the row are not copied")
}

func BenchmarkAppendRow(b *testing.B) {
	rs := rows(100)
	buf := make([]byte, 0, 1<<12)
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		buf = Buildings.AppendRow(buf[:0], &rs[i%len(rs)])
	}
	b.ReportMetric(float64(len(buf)), "bytes")
}

func BenchmarkDecodeRow(b *testing.B) {
	rs := rows(100)
	var encoded [][]byte
	for i := range rs {
		encoded = append(encoded, Buildings.AppendRow(nil, &rs[i]))
	}
	var row Building
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		if _, err := Buildings.DecodeRow(encoded[i%len(encoded)], &row); err != nil {
			b.Fatal(err)
		}
	}
}
