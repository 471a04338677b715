package output

import (
	"encoding/binary"
	"errors"
	"math"
)

// ErrShortRow is returned by DecodeRow for bytes that AppendRow did not write,
// or not all of them.
var ErrShortRow = errors.New("output: encoded row is damaged or cut short")

// canonicalNaN is the one bit pattern AppendRow writes for a missing number, so
// that equal rows have equal bytes.
var canonicalNaN = math.Float64bits(math.NaN())

// AppendRow appends row in a compact binary form for sorting on disk and
// returns the extended slice. Equal rows give equal bytes. Numbers keep all
// their bits: rounding happens when a row is written to a file for people.
//
// A Float is 8 bytes little-endian, an Int a zig-zag varint, a Text a varint
// length and its bytes, a Bool one byte, in the order of the columns.
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

// A Decoder calls f with every row of a record. The row is valid until f returns.
type Decoder[R any] func(record []byte, f func(*R) error) error

// Decoder returns the decoder of records that AppendRow wrote, one row or several.
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

// DecodeRow fills row from the front of b and returns the rest of b. Texts are
// copied: row does not refer to b.
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
