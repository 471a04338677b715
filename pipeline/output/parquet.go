package output

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"math"
	"slices"
	"sync"

	"github.com/apache/thrift/lib/go/thrift"
	"github.com/klauspost/compress/zstd"
	"github.com/xitongsys/parquet-go/common"
	"github.com/xitongsys/parquet-go/layout"
	"github.com/xitongsys/parquet-go/parquet"
	"github.com/xitongsys/parquet-go/writer"
	"golang.org/x/sync/errgroup"
)

// The layout of the files is fixed, not tuned to the machine, because it decides
// the bytes written.
const (
	rowsPerGroup = 96 << 10 // within the 50,000 to 150,000 advised for GeoParquet
	compressors  = 2        // goroutines a file
	byteBuffer   = 256 << 10
	neverByBytes = math.MaxInt64 // row groups are cut by rows
)

// A Parquet writes rows as a Parquet file compressed with zstd, and as
// GeoParquet 1.1.0 if the table has points.
//
// Schema, dictionaries, column chunks and row groups are those of
// github.com/xitongsys/parquet-go; the bodies of pages, the footer and its statistics
// are ours. That library would box every value, let a dictionary's order follow the
// timing of its goroutines, count nulls wrongly and lose the minimum at a NaN; a query
// engine that trusts such statistics returns wrong rows. So columns are declared with
// omitstats, pages carry no statistics and no page index is written.
type Parquet[R any] struct {
	t      *Table[R]
	about  About
	buf    *bufio.Writer
	w      *writer.ParquetWriter
	leaves []leaf[R]
	series []series[R]
	geo    *geoColumn[R] // nil without points

	groupRows, rows int64 // of a full row group; of the open one

	pages   [][]*layout.Page // of each leaf, in the open row group
	packing errgroup.Group   // of those pages
	bodies  sync.Pool        // of *body
	done    [][]stats        // of the leaves in finished row groups
}

// NewParquet returns a Parquet on w, which the caller closes after Close.
func NewParquet[R any](w io.Writer, t *Table[R], about About) (*Parquet[R], error) {
	p := &Parquet[R]{t: t, about: about, groupRows: rowsPerGroup, buf: bufio.NewWriterSize(w, byteBuffer)}
	p.leaves = columnLeaves(t)
	if t.Point {
		p.geo = newGeoColumn(t)
		p.leaves = append(p.leaves, p.geo.leaves()...)
	}
	var err error
	if p.w, err = writer.NewParquetWriterFromWriter(p.buf, jsonSchema(p.leaves), 1); err != nil {
		return nil, fmt.Errorf("parquet schema of %s: %w", t.Name, err)
	}
	p.w.RowGroupSize, p.w.CompressionType = neverByBytes, parquet.CompressionCodec_ZSTD
	p.series, p.pages = make([]series[R], len(p.leaves)), make([][]*layout.Page, len(p.leaves))
	for i := range p.leaves {
		p.series[i] = p.leaves[i].series()
	}
	p.packing.SetLimit(compressors)
	p.bodies.New = func() any { return new(body) }
	return p, nil
}

// Write writes one row.
func (p *Parquet[R]) Write(row *R) error {
	if err := p.t.check(row); err != nil {
		return err
	}
	if p.geo != nil {
		if x, y, ok := p.geo.point(row); ok {
			p.geo.extend(x, y)
		}
	}
	for i, s := range p.series {
		if s.add(row) {
			p.endPage(i)
		}
	}
	if p.rows++; p.rows < p.groupRows {
		return nil
	}
	return p.endGroup()
}

// endPage ends the page of leaf i, if it has rows; another goroutine compresses it.
func (p *Parquet[R]) endPage(i int) {
	b := p.bodies.Get().(*body)
	var of pageHead
	if *b, of = p.series[i].page((*b)[:0]); of.rows == 0 {
		p.bodies.Put(b)
		return
	}
	q := p.newPage(p.w.SchemaHandler.ValueColumns[i], of)
	p.pages[i] = append(p.pages[i], q)
	p.packing.Go(func() error {
		defer p.bodies.Put(b)
		return pack(q, *b)
	})
}

// newPage returns a page of the leaf at path, as yet without its bytes.
func (p *Parquet[R]) newPage(path string, of pageHead) *layout.Page {
	sh := p.w.SchemaHandler
	q := layout.NewDataPage()
	q.Path, q.Schema, q.CompressType = common.StrToPath(path), sh.SchemaElements[sh.MapIndex[path]], p.w.CompressionType
	info, nulls := *sh.Infos[sh.MapIndex[path]], int64(of.nulls)
	q.Info, q.NullCount = &info, &nulls
	info.Encoding = parquet.Encoding_PLAIN
	if of.encoding == places {
		info.Encoding = parquet.Encoding_RLE_DICTIONARY
	}
	q.Header.Type = parquet.PageType_DATA_PAGE
	h := q.Header.DataPageHeader
	h.NumValues, h.Encoding = int32(of.rows), info.Encoding
	h.DefinitionLevelEncoding, h.RepetitionLevelEncoding = parquet.Encoding_RLE, parquet.Encoding_RLE
	return q
}

// packer compresses pages. It is for any number of goroutines.
var packer = sync.OnceValues(func() (*zstd.Encoder, error) {
	return zstd.NewWriter(nil, zstd.WithEncoderLevel(zstd.SpeedFastest), zstd.WithEncoderCRC(false), zstd.WithZeroFrames(true))
})

// pack gives a page its bytes: the header and the compressed body.
func pack(q *layout.Page, b body) error {
	z, err := packer()
	if err != nil {
		return err
	}
	packed := z.EncodeAll(b, nil)
	q.Header.UncompressedPageSize, q.Header.CompressedPageSize = int32(len(b)), int32(len(packed))
	ts := thrift.NewTSerializer()
	ts.Protocol = thrift.NewTCompactProtocolFactoryConf(nil).GetProtocol(ts.Transport)
	header, err := ts.Write(context.Background(), q.Header)
	if err != nil {
		return err
	}
	q.RawData = slices.Concat(header, packed)
	return nil
}

// endGroup writes the rows since the last row group as one, if there are any.
func (p *Parquet[R]) endGroup() error {
	if p.rows == 0 {
		return nil
	}
	counted := make([]stats, len(p.series))
	for i, s := range p.series {
		p.endPage(i)
		path := p.w.SchemaHandler.ValueColumns[i]
		words, of := s.end()
		counted[i] = of
		for _, q := range p.pages[i] {
			counted[i].nulls += *q.NullCount
		}
		p.w.PagesMapBuf[path], p.pages[i] = p.pages[i], nil
		if len(words) > 0 {
			kind := p.w.SchemaHandler.SchemaElements[p.w.SchemaHandler.MapIndex[path]].GetType()
			p.w.DictRecs[path] = &layout.DictRecType{DictSlice: words, Type: kind}
		}
	}
	if err := p.packing.Wait(); err != nil {
		return fmt.Errorf("parquet %s: %w", p.t.Name, err)
	}
	p.w.NumRows, p.w.Footer.NumRows = p.rows, p.w.Footer.NumRows+p.rows
	p.done, p.rows = append(p.done, counted), 0
	if err := p.w.Flush(true); err != nil {
		return fmt.Errorf("parquet %s: %w", p.t.Name, err)
	}
	return nil
}

// Close writes the rest of the rows and the footer.
func (p *Parquet[R]) Close() error {
	if err := p.endGroup(); err != nil {
		return err
	}
	if err := p.writeFooter(); err != nil {
		return fmt.Errorf("parquet footer of %s: %w", p.t.Name, err)
	}
	return p.buf.Flush()
}
