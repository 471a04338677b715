package output

import (
	"encoding/binary"
	"errors"
	"math"
)

// ErrShortRow says that DecodeRow was given bytes that AppendRow did not write, or only a part of
// them.
var ErrShortRow = errors.New("output: encoded row is damaged or cut short")

// canonicalNaN is the bit pattern that AppendRow writes for every missing number, so that equal
// rows have equal bytes.
var canonicalNaN = math.Float64bits(math.NaN())

// AppendRow appends row to b in a compact binary form for sorting on disk, and returns the extended
// slice. Equal rows give equal bytes. Numbers keep all their bits: they are rounded when the row is
// written to a file.
//
// The values stand in the order of the columns. A Float takes 8 bytes, little-endian. An Int is a
// zig-zag varint. A Text is its length as a varint, then its bytes. A Bool takes one byte.
func (t *Table[R]) AppendRow(b []byte, row *R) []byte {
	for i := range t.Columns {
		switch c := &t.Columns[i]; {
		case c.Float != nil:
			bits := canonicalNaN
			if v := *c.Float(row); !math.IsNaN(v) {
				bits = math.Float64bits(v)
			}
			b = binary.LittleEndian.AppendUint64(b, bits)
		case c.Text != nil:
			s := *c.Text(row)
			b = append(binary.AppendUvarint(b, uint64(len(s))), s...)
		case c.Int != nil:
			b = binary.AppendVarint(b, *c.Int(row))
		case *c.Bool(row):
			b = append(b, 1)
		default:
			b = append(b, 0)
		}
	}
	return b
}

// A Decoder calls f with each row of a record. The row is valid until f returns.
type Decoder[R any] func(record []byte, f func(*R) error) error

// Decoder returns a decoder of records that hold one row of AppendRow or several.
func (t *Table[R]) Decoder() Decoder[R] {
	var row R
	return func(b []byte, f func(*R) error) (err error) {
		for len(b) > 0 && err == nil {
			if b, err = t.DecodeRow(b, &row); err == nil {
				err = f(&row)
			}
		}
		return err
	}
}

// DecodeRow fills row from the front of b and returns the rest of b. It copies texts, so that row
// does not refer to b.
func (t *Table[R]) DecodeRow(b []byte, row *R) ([]byte, error) {
	for i := range t.Columns {
		switch c := &t.Columns[i]; {
		case c.Float != nil:
			if len(b) < 8 {
				return b, ErrShortRow
			}
			*c.Float(row) = math.Float64frombits(binary.LittleEndian.Uint64(b))
			b = b[8:]
		case c.Text != nil:
			n, k := binary.Uvarint(b)
			if k <= 0 || n > uint64(len(b)-k) {
				return b, ErrShortRow
			}
			p := c.Text(row)
			if end := k + int(n); *p != string(b[k:end]) { // same text as before: no copy
				*p = string(b[k:end])
			}
			b = b[k+int(n):]
		case c.Int != nil:
			v, k := binary.Varint(b)
			if k <= 0 {
				return b, ErrShortRow
			}
			*c.Int(row), b = v, b[k:]
		default:
			if len(b) == 0 || b[0] > 1 {
				return b, ErrShortRow
			}
			*c.Bool(row), b = b[0] == 1, b[1:]
		}
	}
	return b, nil
}
