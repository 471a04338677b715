package sizes

import (
	"bytes"
	"encoding/binary"
	"errors"
	"io"

	"github.com/andybalholm/brotli"
	"github.com/klauspost/compress/gzip"
	"github.com/klauspost/compress/zstd"
	"github.com/parquet-go/parquet-go"
	"github.com/parquet-go/parquet-go/format"
)

// errUnpacked says that a page unpacks to another size than it states.
var errUnpacked = errors.New("a page unpacks to another size than it says")

// An unpacker unpacks pages and never allocates more than they state. A few kilobytes of gzip, zstd
// or brotli may encode any number of gigabytes.
type unpacker struct {
	plain  []byte
	input  bytes.Reader
	gzip   *gzip.Reader
	brotli *brotli.Reader
	zstd   *zstd.Decoder
}

// unpack returns the bytes of a page, which must be size bytes. They belong to the unpacker.
func (u *unpacker) unpack(codec format.CompressionCodec, body []byte, size int) ([]byte, error) {
	if codec == format.Uncompressed || len(body) == 0 && size == 0 {
		return body, nil
	}
	u.plain = resized(u.plain, size)
	if codec == format.Snappy { // it states its size in front
		if n, k := binary.Uvarint(body); k > 0 && n != uint64(size) {
			return nil, errUnpacked
		}
		plain, err := parquet.LookupCompressionCodec(codec).Decode(u.plain, body)
		if err == nil && len(plain) != size {
			err = errUnpacked
		}
		return plain, err
	}
	u.input.Reset(body)
	in, err := u.reader(codec)
	if err != nil {
		return nil, err
	}
	_, err = io.ReadFull(in, u.plain)
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		return nil, errUnpacked
	}
	if err != nil {
		return nil, err
	}
	switch n, err := io.CopyN(io.Discard, in, 1); {
	case n > 0:
		return nil, errUnpacked
	case !errors.Is(err, io.EOF):
		return nil, err
	}
	return u.plain, nil
}

// reader returns a reader that unpacks the input.
func (u *unpacker) reader(codec format.CompressionCodec) (in io.Reader, err error) {
	if codec == format.Gzip {
		if u.gzip == nil {
			u.gzip, err = gzip.NewReader(&u.input)
			return u.gzip, err
		}
		return u.gzip, u.gzip.Reset(&u.input)
	}
	if codec == format.Brotli { // a window of 16 MB at the most
		if u.brotli == nil {
			u.brotli = new(brotli.Reader)
		}
		return u.brotli, u.brotli.Reset(&u.input)
	}
	if u.zstd == nil { // the memory of a frame is bounded by that of a page
		u.zstd, err = zstd.NewReader(nil, zstd.WithDecoderConcurrency(1), zstd.WithDecoderLowmem(true),
			zstd.WithDecoderMaxMemory(longestPage))
		if err != nil {
			return nil, err
		}
	}
	return u.zstd, u.zstd.Reset(&u.input)
}
