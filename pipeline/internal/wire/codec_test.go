package wire

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A row has a field of every sort.
type row struct {
	name   string
	x      float64
	n      int
	small  uint8
	set    uint64
	list   []int
	second string
}

func (r *row) wire(c *Codec) {
	c.Text(&r.name)
	c.Float(&r.x)
	Int(c, &r.n)
	Int(c, &r.small)
	Int(c, &r.set)
	Len(c, &r.list)
	for i := range r.list {
		Int(c, &r.list[i])
	}
	c.Text(&r.second)
}

func encoded(r row) []byte {
	c := Writer(nil)
	r.wire(&c)
	return c.Bytes()
}

// What is written is read again, ends of ranges too; every part of a record that is cut short is
// refused, and so is one with something behind it.
func TestRecords(t *testing.T) {
	for _, want := range []row{
		{name: "a"},
		{"Ä\x00", math.Inf(-1), math.MinInt, 255, math.MaxUint64, []int{1, -1, math.MaxInt}, "end"},
		{"", math.Copysign(0, -1), -1, 1, 1 << 63, []int{0}, "x"},
	} {
		b := encoded(want)
		var got row
		c := Reader(b)
		got.wire(&c)
		require.NoError(t, c.End())
		require.Equal(t, want, got)
		require.Equal(t, math.Signbit(want.x), math.Signbit(got.x))
		for n := range b {
			c := Reader(b[:n])
			new(row).wire(&c)
			require.ErrorIs(t, c.End(), ErrShort, "%d of %d bytes", n, len(b))
		}
		c = Reader(append(b, 0))
		new(row).wire(&c)
		require.ErrorIs(t, c.End(), ErrShort)
	}
}

// Every NaN gives the same bytes, and a number too large for its type is refused.
func TestOneNaN(t *testing.T) {
	other := math.Float64frombits(math.Float64bits(math.NaN()) ^ 1<<63)
	assert.Equal(t, encoded(row{x: math.NaN()}), encoded(row{x: other}))
	c := Writer(nil)
	n := 256
	Int(&c, &n)
	r := Reader(c.Bytes())
	var small uint8
	Int(&r, &small)
	assert.ErrorIs(t, r.End(), ErrShort)
}

// Nothing is allocated to write a record into room that is there.
func TestWritingAllocatesNothing(t *testing.T) {
	r, b := row{name: "a", list: []int{1, 2}}, make([]byte, 0, 100)
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		c := Writer(b[:0])
		r.wire(&c)
		b = c.Bytes()
	}))
}

// FuzzRecords: bytes are refused, or give a record that is written and read again alike.
func FuzzRecords(f *testing.F) {
	f.Add(encoded(row{name: "a", x: 1, n: 2, list: []int{3}}))
	f.Fuzz(func(t *testing.T, b []byte) {
		var one, two row
		c := Reader(b)
		if one.wire(&c); c.End() != nil {
			return
		}
		again := encoded(one)
		c = Reader(again)
		two.wire(&c)
		require.NoError(t, c.End())
		require.Equal(t, again, encoded(two))
	})
}
