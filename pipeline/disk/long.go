package disk

import (
	"errors"
	"os"
	"syscall"
)

// A Long writes a file that may be long and is not read soon. Once the file is long, Long writes it
// in large pieces past the system's cache, if the system can (Linux: open(2), O_DIRECT). The cache
// would cost more processor time than the bytes are worth, stop the writer when it is full, and
// drop data that is needed again.
type Long struct {
	file   *os.File
	buf    []byte
	asked  bool // whether the cache can be passed
	direct bool // the cache is being passed
}

// A piece is a number of whole blocks of any disk. Go aligns memory of that size to a page.
const (
	longBegin = 16 << 10 // bytes that a short file may have
	longPiece = 1 << 20
)

// NewLong returns a Long on an empty file. The caller must call Flush before the file is closed.
func NewLong(f *os.File) *Long { return &Long{file: f, buf: make([]byte, 0, longBegin)} }

// Write copies b. An error may be about bytes of an earlier call.
func (l *Long) Write(b []byte) (int, error) {
	if len(l.buf)+len(b) > cap(l.buf) && cap(l.buf) < longPiece {
		l.buf = append(make([]byte, 0, longPiece), l.buf...)
	}
	for n := 0; ; {
		room := l.buf[len(l.buf):cap(l.buf)]
		k := copy(room, b[n:])
		l.buf = l.buf[:len(l.buf)+k]
		if n += k; len(l.buf) < cap(l.buf) {
			return n, nil
		}
		if err := l.put(); err != nil {
			return n, err
		}
	}
}

// put writes a whole piece.
func (l *Long) put() error {
	if !l.asked {
		l.asked, l.direct = true, passCache(l.file, true) == nil
	}
	n, err := l.file.Write(l.buf)
	if l.direct && errors.Is(err, syscall.EINVAL) { // this file system does not support it after all
		if l.direct = false; passCache(l.file, false) == nil {
			_, err = l.file.Write(l.buf[n:])
		}
	}
	l.buf = l.buf[:0]
	return err
}

// Flush writes the buffered bytes. More may be written afterwards.
func (l *Long) Flush() error {
	if l.direct { // the rest is not a whole block
		l.asked, l.direct = false, false
		if err := passCache(l.file, false); err != nil {
			return err
		}
	}
	_, err := l.file.Write(l.buf)
	l.buf = l.buf[:0]
	return err
}
