package ranking

import (
	"encoding/binary"
	"math"
)

// The Append functions build a sort key from parts. The order of keys as bytes is the order of the
// first part, then of the second, and so on. Each function appends one part to key and returns it.

// AppendAscending appends a number so that the least comes first. -0 equals 0, and NaN comes last.
func AppendAscending(key []byte, v float64) []byte {
	return binary.BigEndian.AppendUint64(key, orderedBits(v))
}

// AppendDescending appends a number so that the largest comes first. -0 equals 0, and NaN comes
// last.
func AppendDescending(key []byte, v float64) []byte {
	if math.IsNaN(v) {
		return AppendAscending(key, v)
	}
	return binary.BigEndian.AppendUint64(key, ^orderedBits(v))
}

// orderedBits returns the bits of v as a number that rises with v. The sign bit of positive numbers
// is set, and all bits of negative numbers are inverted (IEEE 754 numbers of one sign are ordered
// as their bits).
func orderedBits(v float64) uint64 {
	const sign = 1 << 63
	switch b := math.Float64bits(v); {
	case math.IsNaN(v):
		return math.MaxUint64
	case v == 0:
		return sign
	case b&sign != 0:
		return ^b
	default:
		return b | sign
	}
}

// AppendInt appends a whole number so that the least comes first.
func AppendInt(key []byte, v int64) []byte {
	return binary.BigEndian.AppendUint64(key, uint64(v)^1<<63)
}

// AppendString appends a text in the order of its bytes. A text comes before every text that it
// begins, whatever follows in the key: zero bytes are written as 00 FF, and the end as 00 00.
func AppendString(key []byte, s string) []byte {
	for i := range len(s) {
		key = append(key, s[i])
		if s[i] == 0 {
			key = append(key, 0xff)
		}
	}
	return append(key, 0, 0)
}
