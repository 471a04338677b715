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

// mostPadding is how many numbers a writer may pack behind the last one of a page.
// Packed runs are of eights; a writer that packs in vectors fills the last one, to 256
// in the files of DuckDB. The bound, far above, keeps what is unpacked near what the
// page says.
const mostPadding = 1 << 14

// checkRuns checks that runs of numbers of width bits (Parquet encoding RLE, bit
// packing hybrid) hold n of them. The last packed run may hold more, as padding, whose
// bytes are there as those of the others.
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

// resized returns b with n bytes, in its own storage if that is enough.
func resized(b []byte, n int) []byte {
	if cap(b) >= n {
		return b[:n]
	}
	return make([]byte, n)
}
