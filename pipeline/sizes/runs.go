package sizes

import (
	"encoding/binary"
	"errors"
)

var errRuns = errors.New("more values in a page than it says")

// prefixed splits b at a length of four bytes in front of it.
func prefixed(b []byte) (first, rest []byte, err error) {
	if len(b) < 4 {
		return nil, nil, errRuns
	}
	n := binary.LittleEndian.Uint32(b)
	if uint64(n) > uint64(len(b)-4) {
		return nil, nil, errRuns
	}
	return b[4 : 4+n], b[4+n:], nil
}

// checkRuns checks that runs of numbers of width bits (Parquet encoding RLE, bit
// packing hybrid) hold about n of them. Packed numbers come in eights.
func checkRuns(b []byte, width, n int) error {
	if width > 32 {
		return errRuns
	}
	most := uint64(n) + 8
	total := uint64(0)
	for len(b) > 0 {
		head, k := binary.Uvarint(b)
		if k <= 0 {
			return errRuns
		}
		b = b[k:]
		count, bytes := head>>1, uint64(width+7)/8
		if head&1 != 0 {
			if count > most {
				return errRuns
			}
			bytes = count * uint64(width)
			count *= 8
		}
		if total += count; count > most || total > most {
			return errRuns
		}
		if bytes > uint64(len(b)) {
			return errRuns
		}
		b = b[bytes:]
	}
	return nil
}

// checkDelta checks the number of values that delta encoding says it has: the
// third number of its head (Parquet encoding DELTA_BINARY_PACKED).
func checkDelta(b []byte, n int) error {
	for range 2 {
		_, k := binary.Uvarint(b)
		if k <= 0 {
			return errRuns
		}
		b = b[k:]
	}
	if total, k := binary.Uvarint(b); k <= 0 || total > uint64(n) {
		return errRuns
	}
	return nil
}

// resized returns b with n bytes, in its own storage if that is enough.
func resized(b []byte, n int) []byte {
	if cap(b) >= n {
		return b[:n]
	}
	return make([]byte, n)
}
