package output

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"sync"
	"sync/atomic"

	"github.com/xitongsys/parquet-go/common"
	"github.com/xitongsys/parquet-go/layout"
	"github.com/xitongsys/parquet-go/parquet"
	"github.com/xitongsys/parquet-go/schema"
	"github.com/xitongsys/parquet-go/writer"
)

// The layout of the files is fixed, not tuned to the machine, because it decides
// the bytes written.
const (
	pageBytes    = 64 << 10       // before compression
	batchRows    = 8192           // rows encoded together, split over encoders
	rowsPerGroup = 12 * batchRows // within the 50,000 to 150,000 advised for GeoParquet
	encoders     = 2              // goroutines of the library; each takes half a batch
	byteBuffer   = 256 << 10      // before the file
	neverByBytes = math.MaxInt64  // row groups are cut by rows
)

// A Parquet writes rows as a Parquet file compressed with zstd, and as
// GeoParquet 1.1.0 if the table has points.
//
// Pages are encoded by github.com/xitongsys/parquet-go; the footer and its
// statistics are ours. The statistics that library computes count nulls wrongly
// and lose the minimum at a NaN, and a query engine that trusts them returns
// wrong rows. So columns are declared with omitstats, pages carry no statistics
// and no page index is written. Columns are plain, never dictionaries, whose
// order would follow the timing of the library's goroutines.
type Parquet[R any] struct {
	t      *Table[R]
	about  About
	buf    *bufio.Writer
	w      *writer.ParquetWriter
	leaves []leaf[R]
	geo    *geoColumn[R] // nil without points

	groupRows int64 // rows of a full row group, whole batches

	slab  []R   // the rows of the batch
	refs  []any // addresses of the rows of slab
	n     int   // rows in slab
	total int64 // rows written

	zeros   []int32
	scratch [encoders]scratch[R]
	next    atomic.Int32 // index of the next free scratch
	mu      sync.Mutex   // guards group
	group   []stats      // of the leaves in the open row group
	done    [][]stats    // of the leaves in finished row groups
}

// scratch is the storage one encoder of a batch needs.
type scratch[R any] struct {
	rows   []*R
	values [][]any   // one a leaf
	levels [][]int32 // one a leaf, nil for a required leaf
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
	if p.w, err = writer.NewParquetWriterFromWriter(p.buf, jsonSchema(p.leaves), encoders); err != nil {
		return nil, fmt.Errorf("parquet schema of %s: %w", t.Name, err)
	}
	p.w.PageSize, p.w.RowGroupSize = pageBytes, neverByBytes
	p.w.CompressionType = parquet.CompressionCodec_ZSTD
	p.w.MarshalFunc = p.marshal

	p.slab, p.refs = make([]R, batchRows), make([]any, batchRows)
	for i := range p.slab {
		p.refs[i] = &p.slab[i]
	}
	const share = (batchRows + encoders - 1) / encoders
	p.zeros = make([]int32, share)
	for i := range p.scratch {
		p.scratch[i] = newScratch(p.leaves, share)
	}
	p.group = make([]stats, len(p.leaves))
	return p, nil
}

func newScratch[R any](leaves []leaf[R], rows int) scratch[R] {
	s := scratch[R]{rows: make([]*R, rows), values: make([][]any, len(leaves)), levels: make([][]int32, len(leaves))}
	for i := range leaves {
		s.values[i] = make([]any, rows)
		if leaves[i].optional {
			s.levels[i] = make([]int32, rows)
		}
	}
	return s
}

// Write writes one row. The row is copied.
func (p *Parquet[R]) Write(row *R) error {
	if err := p.t.check(row); err != nil {
		return err
	}
	p.slab[p.n] = *row
	p.n++
	if p.n < batchRows {
		return nil
	}
	return p.flush((p.total+batchRows)%p.groupRows == 0)
}

// flush encodes the rows of the batch and, if endGroup, ends the row group. It
// hands the library a batch directly instead of row by row, which saves a copy
// and a reflection for each row and makes the cut of batches exact.
func (p *Parquet[R]) flush(endGroup bool) error {
	if p.geo != nil {
		p.geo.extend(p.slab[:p.n])
	}
	p.next.Store(0)
	p.w.Objs = append(p.w.Objs[:0], p.refs[:p.n]...)
	if err := p.w.Flush(endGroup); err != nil {
		return fmt.Errorf("parquet %s: %w", p.t.Name, err)
	}
	p.total += int64(p.n)
	p.n = 0
	if endGroup && len(p.w.Footer.RowGroups) > len(p.done) {
		p.done = append(p.done, p.group)
		p.group = make([]stats, len(p.leaves))
	}
	return nil
}

// marshal turns a part of a batch into columns. The library calls it from its
// encoders, for parts that follow each other, and puts the pages in the order of
// the parts.
func (p *Parquet[R]) marshal(src []any, sh *schema.SchemaHandler) (*map[string]*layout.Table, error) {
	s := &p.scratch[p.next.Add(1)-1]
	rows := s.rows[:len(src)]
	for i, v := range src {
		rows[i] = v.(*R)
	}
	part := make([]stats, len(p.leaves))
	tables := make(map[string]*layout.Table, len(p.leaves))
	for i, path := range sh.ValueColumns {
		leaf := &p.leaves[i]
		t := layout.NewEmptyTable()
		t.Path, t.Schema, t.Info = common.StrToPath(path), sh.SchemaElements[sh.MapIndex[path]], sh.Infos[sh.MapIndex[path]]
		t.RepetitionType = t.Schema.GetRepetitionType()
		t.RepetitionLevels, t.DefinitionLevels = p.zeros[:len(rows)], p.zeros[:len(rows)]
		var levels []int32
		if leaf.optional {
			levels = s.levels[i][:len(rows)]
			t.MaxDefinitionLevel, t.DefinitionLevels = 1, levels
		}
		t.Values = s.values[i][:len(rows)]
		leaf.fill(rows, t.Values, levels, &part[i])
		tables[path] = t
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	for i := range part {
		p.group[i].merge(&part[i])
	}
	return &tables, nil
}

// Close writes the rest of the rows and the footer.
func (p *Parquet[R]) Close() error {
	if err := p.flush(true); err != nil {
		return err
	}
	if err := p.writeFooter(); err != nil {
		return fmt.Errorf("parquet footer of %s: %w", p.t.Name, err)
	}
	return p.buf.Flush()
}
