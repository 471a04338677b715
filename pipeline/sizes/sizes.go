// Package sizes checks every size in a Parquet file before the reading library allocates memory for
// it. A damaged file, or one made to do harm, then costs no more memory than it holds. SQLite
// checks its own sizes and is opened with limits.
package sizes

import (
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"math/bits"
	"slices"

	"github.com/parquet-go/parquet-go/encoding/thrift"
	"github.com/parquet-go/parquet-go/format"
)

// Mark is the first and the last word of every Parquet file.
const Mark = "PAR1"

// Limits of a Parquet file. The reading library allocates whatever size a file states before it
// looks at the bytes. These limits are far above what writers use, and keep a damaged file from
// taking the memory of the machine.
const (
	longestFooter = 16 << 20  // bytes
	longestHeader = 1 << 20   // bytes of a page's header, statistics included
	longestPage   = 128 << 20 // bytes, unpacked
	mostValues    = 1 << 24   // of a page
)

// oldDictionary is the code that old writers give to pages of dictionary words (Parquet encoding
// PLAIN_DICTIONARY).
const oldDictionary format.Encoding = 2

// readCodecs are the codecs that are read. LZ4_RAW is not among them: for a page whose packed size
// is a third of its size or more, the reading library (parquet-go v0.32.0, Column.decompress) takes
// what its buffer held before.
var readCodecs = []format.CompressionCodec{format.Uncompressed, format.Snappy, format.Gzip, format.Zstd,
	format.Brotli}

// errSum says that a page was changed after it was written. Not every writer gives its pages a
// checksum; without one, such a change may go unseen.
var errSum = errors.New("a page differs from its checksum (CRC-32)")

// NotRead is the error for a file that is sound but uses a feature that is not read.
type NotRead string

func (e NotRead) Error() string { return string(e) }

// CheckFooter checks the footer of a file of size bytes before the library reads it.
func CheckFooter(in io.ReaderAt, size int64) error {
	var head [4]byte
	var tail [8]byte
	if size < int64(len(head)+len(tail)) {
		return errors.New("it is too short")
	}
	if _, err := in.ReadAt(head[:], 0); err != nil {
		return err
	}
	if _, err := in.ReadAt(tail[:], size-int64(len(tail))); err != nil {
		return err
	}
	if string(head[:]) != Mark || string(tail[4:]) != Mark {
		return errors.New("it does not begin and end with " + Mark)
	}
	n := int64(binary.LittleEndian.Uint32(tail[:]))
	if n > size-int64(len(head)+len(tail)) || n > longestFooter {
		return errors.New("its footer is longer than can be")
	}
	footer := make([]byte, n)
	if _, err := in.ReadAt(footer, size-int64(len(tail))-n); err != nil {
		return err
	}
	_, err := checkThrift(footer)
	return err
}

// Chunks reads the pages of column chunks and checks every size in them before the library unpacks
// them.
type Chunks struct {
	In   io.ReaderAt
	Size int64 // of the file

	codec    format.CompressionCodec
	kind     format.Type
	width    int   // bits of a definition level
	left     int64 // values still to come
	buf      []byte
	unpacker unpacker
}

// Check checks a chunk. rows is its number of rows, and levels the highest definition level of its
// column, 0 if no value may be missing. A column of lists is not read.
func (g *Chunks) Check(meta *format.ColumnMetaData, rows int64, levels int) error {
	if !slices.Contains(readCodecs, meta.Codec) {
		return NotRead(fmt.Sprintf("it is packed by %s, which is not read", meta.Codec))
	}
	at := meta.DataPageOffset
	if meta.DictionaryPageOffset > 0 {
		at = min(at, meta.DictionaryPageOffset)
	}
	end := at + meta.TotalCompressedSize
	if at < int64(len(Mark)) || meta.TotalCompressedSize < 0 || end < at || end > g.Size {
		return errors.New("it lies outside the file")
	}
	if meta.NumValues != rows {
		return fmt.Errorf("it has %d values for %d rows", meta.NumValues, rows)
	}
	g.codec, g.kind, g.left, g.width = meta.Codec, meta.Type, rows, bits.Len(uint(levels))
	for at < end && g.left > 0 {
		n, err := g.page(at, end)
		if err != nil {
			return err
		}
		at += n
	}
	if g.left != 0 {
		return fmt.Errorf("%d values are missing", g.left)
	}
	return nil
}

// page checks the page at a place of the file and returns its size.
func (g *Chunks) page(at, end int64) (int64, error) {
	g.buf = resized(g.buf, int(min(end-at, longestHeader)))
	if _, err := g.In.ReadAt(g.buf, at); err != nil {
		return 0, err
	}
	n, err := checkThrift(g.buf)
	if err != nil {
		return 0, err
	}
	var h format.PageHeader
	var protocol thrift.CompactProtocol
	if err := thrift.Unmarshal(&protocol, g.buf[:n], &h); err != nil {
		return 0, err
	}
	packed, unpacked := int64(h.CompressedPageSize), int64(h.UncompressedPageSize)
	if packed < 0 || unpacked < 0 || packed > end-at-int64(n) || unpacked > longestPage || packed > longestPage {
		return 0, errors.New("a page is longer than can be")
	}
	g.buf = resized(g.buf, int(packed))
	if _, err := g.In.ReadAt(g.buf, at+int64(n)); err != nil {
		return 0, err
	}
	if h.CRC != 0 && crc32.ChecksumIEEE(g.buf) != uint32(h.CRC) {
		return 0, errSum
	}
	return int64(n) + packed, g.body(&h, g.buf)
}

// body checks the content of a page.
func (g *Chunks) body(h *format.PageHeader, body []byte) error {
	switch {
	case h.Type == format.DictionaryPage && h.DictionaryPageHeader.Valid:
		if n := h.DictionaryPageHeader.V.NumValues; n < 0 || n > mostValues {
			return errors.New("a dictionary of too many words")
		}
		_, err := g.unpacker.unpack(g.codec, body, int(h.UncompressedPageSize))
		return err
	case h.Type == format.DataPage && h.DataPageHeader.Valid:
		d := &h.DataPageHeader.V
		values, err := g.unpacker.unpack(g.codec, body, int(h.UncompressedPageSize))
		if err != nil {
			return err
		}
		if g.width > 0 {
			levels, rest, err := prefixed(values)
			if err != nil {
				return err
			}
			if err := checkRuns(levels, g.width, int(d.NumValues)); err != nil {
				return err
			}
			values = rest
		}
		return g.values(d.Encoding, values, int(d.NumValues))
	case h.Type == format.DataPageV2 && h.DataPageHeaderV2.Valid:
		d := &h.DataPageHeaderV2.V
		levels := int(d.DefinitionLevelsByteLength)
		if d.RepetitionLevelsByteLength != 0 || levels < 0 || levels > len(body) ||
			levels > int(h.UncompressedPageSize) {
			return errors.New("levels longer than their page")
		}
		if err := checkRuns(body[:levels], g.width, int(d.NumValues)); err != nil {
			return err
		}
		values := body[levels:]
		if !d.IsCompressed.Valid || d.IsCompressed.V {
			var err error
			if values, err = g.unpacker.unpack(g.codec, values, int(h.UncompressedPageSize)-levels); err != nil {
				return err
			}
		}
		return g.values(d.Encoding, values, int(d.NumValues))
	}
	return fmt.Errorf("a page of kind %s", h.Type)
}

// values checks n values in their encoding and counts them.
func (g *Chunks) values(e format.Encoding, b []byte, n int) error {
	if n < 0 || n > mostValues || int64(n) > g.left {
		return errors.New("a page of too many values")
	}
	g.left -= int64(n)
	switch e {
	case format.Plain, format.ByteStreamSplit:
		return nil
	case oldDictionary, format.RLEDictionary:
		if len(b) == 0 {
			return nil
		}
		return checkRuns(b[1:], int(b[0]), n)
	case format.RLE:
		runs, _, err := prefixed(b)
		if err != nil {
			return err
		}
		return checkRuns(runs, 1, n)
	case format.DeltaBinaryPacked:
		_, err := openDelta(b, n)
		return err
	case format.DeltaLengthByteArray:
		return checkLengths(b, n)
	case format.DeltaByteArray:
		if g.kind == format.ByteArray { // the library is not safe for texts of fixed length
			return checkPrefixed(b, n)
		}
	}
	return NotRead(fmt.Sprintf("its values are written as %s, which is not read", e))
}
