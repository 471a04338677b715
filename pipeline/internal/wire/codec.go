package wire

import (
	"encoding/binary"
	"errors"
	"math"
)

// ErrShort says that a Reader was given bytes that no Writer wrote, or only a part of them.
var ErrShort = errors.New("a record is damaged or cut short")

// A Codec writes or reads the fields of records. The first failure of a reader stays, and the
// fields after it are left as they are.
type Codec struct {
	bytes   []byte
	reading bool
	err     error
}

// Writer returns a Codec that appends to b.
func Writer(b []byte) Codec { return Codec{bytes: b} }

// Reader returns a Codec that reads b.
func Reader(b []byte) Codec { return Codec{bytes: b, reading: true} }

// Bytes returns what was written, or what is left to be read.
func (c *Codec) Bytes() []byte { return c.bytes }

// Reading reports whether the Codec fills fields.
func (c *Codec) Reading() bool { return c.reading }

// End returns the failure of a reader, or ErrShort if bytes are left over.
func (c *Codec) End() error {
	if c.err == nil && c.reading && len(c.bytes) > 0 {
		c.err = ErrShort
	}
	return c.err
}

// canonicalNaN is the bit pattern that stands for every NaN: its sign depends on the processor.
var canonicalNaN = math.Float64bits(math.NaN())

// Float takes a number, which keeps all its bits: 8 bytes, little-endian.
func (c *Codec) Float(v *float64) {
	if !c.reading {
		bits := canonicalNaN
		if !math.IsNaN(*v) {
			bits = math.Float64bits(*v)
		}
		c.bytes = binary.LittleEndian.AppendUint64(c.bytes, bits)
		return
	}
	if c.has(8) {
		*v, c.bytes = math.Float64frombits(binary.LittleEndian.Uint64(c.bytes)), c.bytes[8:]
	}
}

// Text takes a text: its length as a varint, then its bytes. A reader copies them.
func (c *Codec) Text(s *string) {
	n := len(*s)
	Int(c, &n)
	if !c.reading {
		c.bytes = append(c.bytes, *s...)
		return
	}
	if !c.has(n) {
		return
	}
	if *s != string(c.bytes[:n]) { // the same text as before: no copy
		*s = string(c.bytes[:n])
	}
	c.bytes = c.bytes[n:]
}

// has reports whether a reader has n bytes left.
func (c *Codec) has(n int) bool {
	if c.err == nil && (n < 0 || n > len(c.bytes)) {
		c.err = ErrShort
	}
	return c.err == nil
}

// Int takes a whole number of any type as a zig-zag varint. A reader refuses a number that the
// type cannot hold.
func Int[T ~int | ~int64 | ~uint8 | ~uint64](c *Codec, v *T) {
	if !c.reading {
		c.bytes = binary.AppendVarint(c.bytes, int64(*v))
		return
	}
	if c.err != nil {
		return
	}
	x, n := binary.Varint(c.bytes)
	if n <= 0 || int64(T(x)) != x {
		c.err = ErrShort
		return
	}
	*v, c.bytes = T(x), c.bytes[n:]
}

// Bool is a truth: 0 for false, 1 for true.
func (c *Codec) Bool(v *bool) {
	var n uint8
	if *v {
		n = 1
	}
	Int(c, &n)
	*v = n != 0
}

// Len takes the length of a list, which a reader makes its own. Every element has to take one
// byte at least, so that a damaged length cannot ask for more memory than the record has bytes.
func Len[T any](c *Codec, list *[]T) {
	n := len(*list)
	Int(c, &n)
	if !c.reading {
		return
	}
	if !c.has(n) {
		*list = (*list)[:0]
		return
	}
	if cap(*list) < n {
		*list = make([]T, n)
	}
	*list = (*list)[:n]
}
