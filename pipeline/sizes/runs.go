package sizes

import (
	"encoding/binary"
	"errors"
)

var errRuns = errors.New("more values in a page than it says")

// prefixed splits b by the length that stands in its first four bytes.
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

// mostPadding is the number of numbers that a writer may pack behind the last number of a page.
// Packed runs come in eights. A writer that packs in vectors fills the last vector, to 256 in the
// files of DuckDB. The limit is far above that, and keeps what is unpacked close to what the page
// states.
const mostPadding = 1 << 14

// checkRuns checks that runs of numbers of width bits (Parquet encoding RLE, bit packing hybrid)
// hold n numbers. The last packed run may hold more as padding, whose bytes must be there too.
func checkRuns(b []byte, width, n int) error {
	if width > 32 || n < 0 {
		return errRuns
	}
	total := uint64(0)
	for len(b) > 0 {
		head, k := binary.Uvarint(b)
		if k <= 0 {
			return errRuns
		}
		b = b[k:]
		most, count, bytes := uint64(n), head>>1, uint64(width+7)/8
		if head&1 != 0 {
			if most += mostPadding; count > most {
				return errRuns
			}
			bytes = count * uint64(width)
			count *= 8
		}
		if count > most || total+count > most || bytes > uint64(len(b)) {
			return errRuns
		}
		total += count
		b = b[bytes:]
	}
	return nil
}

// resized returns b with n bytes. It uses b's own storage if that is large enough.
func resized(b []byte, n int) []byte {
	if cap(b) >= n {
		return b[:n]
	}
	return make([]byte, n)
}
