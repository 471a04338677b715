package output

import (
	"bufio"
	"fmt"
	"io"
	"sync"

	"github.com/xitongsys/parquet-go/layout"
	"github.com/xitongsys/parquet-go/parquet"
	"github.com/xitongsys/parquet-go/writer"
	"golang.org/x/sync/errgroup"
)

// The layout of the files is fixed. It is not tuned to the machine, since it decides the bytes that
// are written.
const (
	rowsPerGroup = 96 << 10 // within the 50,000 to 150,000 advised for GeoParquet
	compressors  = 2        // goroutines a file
	byteBuffer   = 256 << 10
)

// FormatParquet is the format of tables for programs.
const FormatParquet = "parquet"

// parquetFormat declares the format.
func parquetFormat[R any]() format[R] {
	return format[R]{
		Format: Format{Name: FormatParquet, Audited: true},
		open: func(f *File, t *Table[R], about About) (rowWriter[R], error) {
			return NewParquet(f, t, about)
		},
	}
}

// A Parquet writes rows as a Parquet file compressed with zstd, and as GeoParquet 1.1.0 if the
// table has points.
//
// The schema and the column chunks come from github.com/xitongsys/parquet-go. The pages, the footer
// and its statistics are our own: the library would box every value, let the timing of its
// goroutines decide the order of a dictionary, write no checksums, count nulls wrongly and lose the
// minimum at a NaN, and a query engine that trusts such statistics returns wrong rows. Columns are
// therefore declared with omitstats, pages carry no statistics, and no page index is written.
type Parquet[R any] struct {
	t      *Table[R]
	about  About
	buf    *bufio.Writer
	w      *writer.ParquetWriter
	leaves []leaf[R]
	series []series[R]
	geo    *geoColumn[R] // nil without points

	groupRows, rows int64 // of a full row group; of the open one
	order           order[R]

	pages   [][]*layout.Page // of each leaf, in the open row group
	packing errgroup.Group   // of those pages
	bodies  sync.Pool        // of *body
	done    [][]stats        // of the leaves in finished row groups
}

// NewParquet returns a Parquet that writes to w. The caller closes w after Close.
func NewParquet[R any](w io.Writer, t *Table[R], about About) (*Parquet[R], error) {
	p := &Parquet[R]{t: t, about: about, groupRows: rowsPerGroup, buf: bufio.NewWriterSize(w, byteBuffer)}
	p.leaves, p.order = columnLeaves(t), newOrder(t)
	if t.placed() {
		p.geo = newGeoColumn(t)
		p.leaves = append(p.leaves, p.geo.leaves()...)
	}
	var err error
	if p.w, err = writer.NewParquetWriterFromWriter(p.buf, jsonSchema(p.leaves), 1); err != nil {
		return nil, fmt.Errorf("parquet schema of %s: %w", t.Name, err)
	}
	p.w.CompressionType = parquet.CompressionCodec_ZSTD
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
		p.geo.see(row)
	}
	p.order.see(row)
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

// Close writes the remaining rows and the footer.
func (p *Parquet[R]) Close() error {
	if err := p.endGroup(); err != nil {
		return err
	}
	if err := p.writeFooter(); err != nil {
		return fmt.Errorf("parquet footer of %s: %w", p.t.Name, err)
	}
	return p.buf.Flush()
}
