package output

import "encoding/binary"

// appendRuns appends numbers of width bits as runs (Parquet format, Encodings: run length encoding
// and bit packing hybrid). Going from the front, eight or more equal numbers become a run of one
// value. The numbers between such runs are packed in groups of eight, the last group filled with
// zeros. Libraries choose the runs to suit the processor. These runs follow from the numbers alone,
// so that equal rows give equal bytes on every machine.
func appendRuns[T byte | int32](b []byte, v []T, width int) []byte {
	for len(v) > 0 {
		if n := equal(v); n >= 8 || n == len(v) {
			b = binary.AppendUvarint(b, uint64(n)<<1)
			for x, at := uint32(v[0]), 0; at < width; at += 8 {
				b = append(b, byte(x>>at))
			}
			v = v[n:]
			continue
		}
		n := 8
		for n < len(v) && equal(v[n:min(n+8, len(v))]) < 8 {
			n += 8
		}
		b = binary.AppendUvarint(b, uint64(n/8)<<1|1)
		b = appendPacked(b, v[:min(n, len(v))], width)
		v = v[min(n, len(v)):]
	}
	return b
}

// equal returns how many numbers at the front of v are equal.
func equal[T comparable](v []T) int {
	n := 1
	for n < len(v) && v[n] == v[0] {
		n++
	}
	return n
}

// appendPacked appends numbers in width bits each, the lowest bit first, and fills up with zeros to
// a multiple of eight numbers.
func appendPacked[T byte | int32](b []byte, v []T, width int) []byte {
	var bits uint64
	have := 0
	for i := range (len(v) + 7) / 8 * 8 {
		if i < len(v) {
			bits |= uint64(v[i]) << have
		}
		for have += width; have >= 8; have -= 8 {
			b = append(b, byte(bits))
			bits >>= 8
		}
	}
	return b
}
