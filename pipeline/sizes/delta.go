package sizes

import "encoding/binary"

// A delta reads numbers that are written as differences, one after the other, without allocating
// room for them (Parquet format, Encodings, DELTA_BINARY_PACKED). A head states how many there are.
// Blocks follow. Each block has a least difference, the widths of its parts, and the parts, whose
// numbers have as many bits as their width.
type delta struct {
	b    []byte // the bytes after those that were read
	left int    // numbers still to come

	perPart, parts int

	last   int32 // the number before the next one
	first  bool  // the next number is the one in the head
	least  int64 // least difference in the block
	widths []byte
	part   []byte // bytes of the open part
	at     int    // numbers read of the open part, perPart at its end
}

// Limits of a delta. The reading library takes blocks of up to this many numbers, and lengths have
// 32 bits.
const (
	longestBlock = 65536
	widestLength = 32
)

// openDelta reads the head. It refuses more than most numbers.
func openDelta(b []byte, most int) (*delta, error) {
	var head [4]uint64 // numbers of a block, its parts, numbers, the first one
	for i := range head {
		x, k := binary.Uvarint(b)
		if k <= 0 {
			return nil, errRuns
		}
		head[i], b = x, b[k:]
	}
	block, parts, total := head[0], head[1], head[2]
	if block == 0 || block > longestBlock || parts == 0 || block%parts != 0 || total > uint64(most) {
		return nil, errRuns
	}
	first := int64(head[3]>>1) ^ -int64(head[3]&1)
	d := &delta{b: b, left: int(total), perPart: int(block / parts), parts: int(parts)}
	d.at, d.last, d.first = d.perPart, int32(first), true
	return d, nil
}

// next returns the next number.
func (d *delta) next() (int32, error) {
	d.left--
	if d.first {
		d.first = false
		return d.last, nil
	}
	if d.at == d.perPart {
		if err := d.open(); err != nil {
			return 0, err
		}
	}
	difference := d.least
	if len(d.part) > 0 {
		difference += int64(bitsAt(d.part, d.at, 8*len(d.part)/d.perPart))
	}
	d.at++
	d.last += int32(difference)
	return d.last, nil
}

// open opens the next part, and the next block if the block is used up.
func (d *delta) open() error {
	if len(d.widths) == 0 {
		least, k := binary.Varint(d.b)
		if k <= 0 || len(d.b)-k < d.parts {
			return errRuns
		}
		d.least, d.widths, d.b = least, d.b[k:k+d.parts], d.b[k+d.parts:]
	}
	width := int(d.widths[0])
	size := width * d.perPart / 8
	if width > widestLength || size > len(d.b) || width*d.perPart%8 != 0 {
		return errRuns
	}
	d.widths, d.part, d.b, d.at = d.widths[1:], d.b[:size], d.b[size:], 0
	return nil
}

// bitsAt returns number i of those packed in width bits each, the lowest bit first.
func bitsAt(b []byte, i, width int) (x uint64) {
	at := i * width
	for k, have := at/8, -(at % 8); have < width; k, have = k+1, have+8 {
		if have < 0 {
			x |= uint64(b[k]) >> -have
		} else {
			x |= uint64(b[k]) << have
		}
	}
	return x & (1<<width - 1)
}

// end reads the remaining numbers and returns the bytes behind them.
func (d *delta) end() ([]byte, error) {
	for d.left > 0 {
		if _, err := d.next(); err != nil {
			return nil, err
		}
	}
	return d.b, nil
}

// checkLengths checks texts behind their lengths (DELTA_LENGTH_BYTE_ARRAY).
func checkLengths(b []byte, n int) error {
	lengths, err := openDelta(b, n)
	if err != nil {
		return err
	}
	texts, err := lengths.end()
	if err != nil {
		return err
	}
	return checkTexts(nil, b, n, len(texts))
}

// checkPrefixed checks texts that share their beginning with the text before (DELTA_BYTE_ARRAY).
// The lengths of the shared parts come first, then the rest as texts behind their lengths. A few
// bytes may encode texts of any size.
func checkPrefixed(b []byte, n int) error {
	same, err := openDelta(b, n)
	if err != nil {
		return err
	}
	rest, err := same.end()
	if err != nil {
		return err
	}
	if err := checkLengths(rest, n); err != nil {
		return err
	}
	if same, err = openDelta(b, n); err != nil {
		return err
	}
	return checkTexts(same, rest, n, longestPage)
}

// checkTexts checks the lengths at the front of b. If same is given, each length is added to the
// length that the text shares with the one before. No length may be negative or lack its partner,
// and together they must not exceed most bytes.
func checkTexts(same *delta, b []byte, n, most int) error {
	lengths, err := openDelta(b, n)
	if err != nil {
		return err
	}
	if same != nil && same.left != lengths.left {
		return errRuns
	}
	total, before := 0, 0
	for lengths.left > 0 {
		own, err := lengths.next()
		shared := int32(0)
		if err == nil && same != nil {
			shared, err = same.next()
		}
		if err != nil {
			return err
		}
		if own < 0 || shared < 0 || int(shared) > before {
			return errRuns
		}
		before = int(own) + int(shared)
		if total += before; total > most {
			return errRuns
		}
	}
	return nil
}
