package output

import (
	"context"
	"hash/crc32"
	"slices"
	"sync"

	"github.com/apache/thrift/lib/go/thrift"
	"github.com/klauspost/compress/zstd"
	"github.com/xitongsys/parquet-go/common"
	"github.com/xitongsys/parquet-go/layout"
	"github.com/xitongsys/parquet-go/parquet"
)

// endPage ends the page of leaf i, if the page has rows.
func (p *Parquet[R]) endPage(i int) {
	b := p.bodies.Get().(*body)
	var of pageHead
	if *b, of = p.series[i].page((*b)[:0]); of.rows == 0 {
		p.bodies.Put(b)
		return
	}
	q := p.newPage(i)
	nulls := int64(of.nulls)
	q.NullCount = &nulls
	encoding := parquet.Encoding_PLAIN
	if of.encoding == places {
		encoding = parquet.Encoding_RLE_DICTIONARY
	}
	h := q.Header.DataPageHeader
	h.NumValues, h.Encoding = int32(of.rows), encoding
	h.DefinitionLevelEncoding, h.RepetitionLevelEncoding = parquet.Encoding_RLE, parquet.Encoding_RLE
	p.pages[i] = append(p.pages[i], q)
	p.pack(q, b)
}

// endSeries ends the row group of leaf i. It ends the last page and, if the first page holds places
// in a dictionary, puts the page of the dictionary in front.
func (p *Parquet[R]) endSeries(i int) stats {
	p.endPage(i)
	b := p.bodies.Get().(*body)
	var words int
	var of stats
	*b, words, of = p.series[i].end((*b)[:0])
	for _, q := range p.pages[i] {
		of.nulls += *q.NullCount
	}
	if p.pages[i][0].Header.DataPageHeader.Encoding != parquet.Encoding_RLE_DICTIONARY {
		p.bodies.Put(b)
		return of
	}
	q := p.newPage(i)
	q.Header.Type, q.Header.DataPageHeader = parquet.PageType_DICTIONARY_PAGE, nil
	q.Header.DictionaryPageHeader = parquet.NewDictionaryPageHeader()
	q.Header.DictionaryPageHeader.NumValues = int32(words)
	q.Header.DictionaryPageHeader.Encoding = parquet.Encoding_PLAIN
	p.pages[i] = slices.Insert(p.pages[i], 0, q)
	p.pack(q, b)
	return of
}

// newPage returns a data page of leaf i without its bytes.
func (p *Parquet[R]) newPage(i int) *layout.Page {
	sh := p.w.SchemaHandler
	path := sh.ValueColumns[i]
	q := layout.NewDataPage()
	at := sh.MapIndex[path]
	q.Path, q.Schema, q.Info = common.StrToPath(path), sh.SchemaElements[at], sh.Infos[at]
	q.Header.Type, q.CompressType = parquet.PageType_DATA_PAGE, p.w.CompressionType
	return q
}

// pack compresses b into page q in another goroutine, then returns b to the pool of bodies.
func (p *Parquet[R]) pack(q *layout.Page, b *body) {
	p.packing.Go(func() error {
		defer p.bodies.Put(b)
		return pack(q, *b)
	})
}

// packer compresses pages. Any number of goroutines may use it.
var packer = sync.OnceValues(func() (*zstd.Encoder, error) {
	return zstd.NewWriter(nil, zstd.WithEncoderLevel(zstd.SpeedFastest),
		zstd.WithEncoderCRC(false), zstd.WithZeroFrames(true))
})

// pack fills a page with its header and its compressed body. The header holds the checksum of the
// body (parquet.thrift, PageHeader.crc: CRC-32 of the page as it is stored).
func pack(q *layout.Page, b body) error {
	z, err := packer()
	if err != nil {
		return err
	}
	packed := z.EncodeAll(b, nil)
	sum := int32(crc32.ChecksumIEEE(packed))
	q.Header.Crc = &sum
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
