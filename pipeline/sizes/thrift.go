package sizes

import (
	"encoding/binary"
	"errors"
)

// Types of the Thrift compact protocol
// (github.com/apache/thrift doc/specs/thrift-compact-protocol.md).
const (
	thriftTrue, thriftFalse, thriftByte            = 1, 2, 3
	thriftI16, thriftI32, thriftI64, thriftDouble  = 4, 5, 6, 7
	thriftBinary, thriftList, thriftSet, thriftMap = 8, 9, 10, 11
	thriftStruct                                   = 12

	thriftDeepest = 16 // levels of structs; Parquet has fewer
)

var errThrift = errors.New("its description is damaged")

// checkThrift reads the struct at the front of b and checks that no length in it exceeds the bytes
// behind it, since the reading library allocates any length that it meets. It returns the size of
// the struct.
func checkThrift(b []byte) (size int, err error) {
	w := thriftWalk{b: b}
	w.skip(thriftStruct, 0)
	if w.bad {
		return 0, errThrift
	}
	return w.at, nil
}

type thriftWalk struct {
	b   []byte
	at  int
	bad bool
}

func (w *thriftWalk) byte() byte {
	if w.at >= len(w.b) {
		w.bad = true
		return 0
	}
	w.at++
	return w.b[w.at-1]
}

func (w *thriftWalk) uvarint() uint64 {
	x, n := binary.Uvarint(w.b[w.at:])
	if n <= 0 {
		w.bad = true
		return 0
	}
	w.at += n
	return x
}

// length reads the number of things that take at least one byte each.
func (w *thriftWalk) length() int {
	n := w.uvarint()
	if n > uint64(len(w.b)-w.at) {
		w.bad = true
		return 0
	}
	return int(n)
}

func (w *thriftWalk) skip(kind byte, depth int) {
	if depth > thriftDeepest {
		w.bad = true
	}
	switch {
	case w.bad, kind == thriftTrue, kind == thriftFalse: // the value is in the type
	case kind == thriftByte:
		w.byte()
	case kind == thriftI16, kind == thriftI32, kind == thriftI64:
		w.uvarint()
	case kind == thriftDouble:
		for range 8 {
			w.byte()
		}
	case kind == thriftBinary:
		w.at += w.length()
	case kind == thriftList, kind == thriftSet:
		w.list(depth)
	case kind == thriftMap:
		w.pairs(depth)
	case kind == thriftStruct:
		for !w.bad {
			field := w.byte()
			if field == 0 {
				return
			}
			if field>>4 == 0 {
				w.uvarint() // the field's number in full
			}
			w.skip(field&0xf, depth+1)
		}
	default:
		w.bad = true
	}
}

func (w *thriftWalk) list(depth int) {
	head := w.byte()
	n := int(head >> 4)
	if n == 15 {
		n = w.length()
	}
	w.each(n, depth, head&0xf)
}

func (w *thriftWalk) pairs(depth int) {
	n := w.length()
	if n > 0 {
		kinds := w.byte()
		w.each(n, depth, kinds>>4, kinds&0xf)
	}
}

// each skips n groups of things of some kinds. A truth value takes a byte here.
func (w *thriftWalk) each(n, depth int, kinds ...byte) {
	for i := 0; i < n && !w.bad; i++ {
		for _, k := range kinds {
			if k == thriftTrue || k == thriftFalse {
				k = thriftByte
			}
			w.skip(k, depth+1)
		}
	}
}
