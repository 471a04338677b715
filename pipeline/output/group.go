package output

import (
	"fmt"
	"math"

	"github.com/xitongsys/parquet-go/layout"
	"github.com/xitongsys/parquet-go/parquet"
)

// endGroup writes the rows since the last row group as a row group, if there are any.
func (p *Parquet[R]) endGroup() error {
	if p.rows == 0 {
		return nil
	}
	counted := make([]stats, len(p.series))
	for i := range p.series {
		counted[i] = p.endSeries(i)
	}
	if err := p.packing.Wait(); err != nil {
		return fmt.Errorf("parquet %s: %w", p.t.Name, err)
	}
	group := layout.NewRowGroup().RowGroupHeader
	group.NumRows, group.SortingColumns = p.rows, p.order.end()
	for i, pages := range p.pages {
		chunk, err := p.writeChunk(pages)
		if err != nil {
			return fmt.Errorf("parquet %s: %w", p.t.Name, err)
		}
		group.Columns = append(group.Columns, chunk)
		group.TotalByteSize += chunk.MetaData.TotalUncompressedSize
		p.pages[i] = nil
	}
	p.w.Footer.RowGroups = append(p.w.Footer.RowGroups, group)
	p.w.Footer.NumRows += p.rows
	p.done, p.rows = append(p.done, counted), 0
	return nil
}

// writeChunk writes the pages of a leaf, its dictionary page first if it has one, and returns the
// footer's entry for them.
func (p *Parquet[R]) writeChunk(pages []*layout.Page) (*parquet.ColumnChunk, error) {
	dictionary := pages[0].Header.Type == parquet.PageType_DICTIONARY_PAGE
	of := layout.PagesToChunk
	if dictionary {
		of = layout.PagesToDictChunk
	}
	chunk := of(pages).ChunkHeader
	start := p.w.Offset
	chunk.FileOffset, chunk.MetaData.DataPageOffset = start, start
	if dictionary {
		chunk.MetaData.DictionaryPageOffset = &start
		chunk.MetaData.DataPageOffset += int64(len(pages[0].RawData))
	}
	for _, q := range pages {
		n, err := p.buf.Write(q.RawData)
		if p.w.Offset += int64(n); err != nil {
			return nil, err
		}
	}
	return chunk, nil
}

// An order checks whether the rows of a row group ascend by the Order column of their table, so
// that the footer never promises an order that the rows do not have.
type order[R any] struct {
	at     int // of the column, below 0 for none
	get    func(*R) *int64
	last   int64
	broken bool
}

func newOrder[R any](t *Table[R]) order[R] {
	for i := range t.Columns {
		if c := &t.Columns[i]; c.Name == t.Order {
			return order[R]{at: i, get: c.Int, last: math.MinInt64}
		}
	}
	return order[R]{at: -1}
}

// see takes the next row.
func (o *order[R]) see(row *R) {
	if o.at >= 0 {
		v := *o.get(row)
		o.broken, o.last = o.broken || v < o.last, v
	}
}

// end ends a row group and returns how its rows are sorted, or nil if they are not.
func (o *order[R]) end() []*parquet.SortingColumn {
	sorted := o.at >= 0 && !o.broken
	o.last, o.broken = math.MinInt64, false
	if !sorted {
		return nil
	}
	return []*parquet.SortingColumn{{ColumnIdx: int32(o.at)}}
}
