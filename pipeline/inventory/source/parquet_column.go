package source

import (
	"errors"
	"fmt"
	"io"

	"github.com/parquet-go/parquet-go"

	"plinth/pipeline/internal/sizes"
)

// A parquetColumn is the reading of one column.
type parquetColumn struct {
	leaf   *parquet.Column
	text   func(parquet.Value) string
	pages  parquet.Pages
	page   parquet.Page
	values parquet.ValueReader
	buf    []parquet.Value
	ready  []parquet.Value // of buf, read but not yet taken
	cells  []string        // of the rows being read
}

// openGroup checks the next row group and begins to read its columns.
func (s *parquetSource) openGroup() error {
	s.closePages()
	groups := s.parquet.RowGroups()
	if s.group >= len(groups) {
		return io.EOF
	}
	meta := &s.parquet.Metadata().RowGroups[s.group]
	chunks := groups[s.group].ColumnChunks()
	check := sizes.Chunks{In: s.in, Size: s.size}
	for _, c := range s.columns() {
		at := c.leaf.Index()
		levels := 0
		if c.leaf.Optional() {
			levels = 1
		}
		if err := check.Check(&meta.Columns[at].MetaData, meta.NumRows, levels); err != nil {
			return fmt.Errorf("column %s, row group %d: %w", c.leaf.Name(), s.group+1, err)
		}
		c.pages, c.page, c.values, c.ready = chunks[at].Pages(), nil, nil, nil
	}
	if meta.NumRows < 0 || len(s.columns()) == 0 {
		return errors.New("a row group without rows or columns")
	}
	s.left = meta.NumRows
	s.group++
	return nil
}

// columns returns the columns to read.
func (s *parquetSource) columns() []*parquetColumn {
	var out []*parquetColumn
	for i := range s.picked {
		out = append(out, &s.picked[i])
	}
	if s.shape != nil {
		out = append(out, s.shape)
	}
	return out
}

// next returns the column's next value. Its bytes hold until the call after.
func (c *parquetColumn) next() (parquet.Value, error) {
	for len(c.ready) == 0 {
		if c.values == nil {
			page, err := c.pages.ReadPage()
			if err == io.EOF {
				err = io.ErrUnexpectedEOF
			}
			if err != nil {
				return parquet.Value{}, err
			}
			c.page, c.values = page, page.Values()
		}
		if c.buf == nil {
			c.buf = make([]parquet.Value, 256)
		}
		n, err := c.values.ReadValues(c.buf)
		if err != nil && err != io.EOF {
			return parquet.Value{}, err
		}
		c.ready = c.buf[:n]
		if n == 0 {
			if err == nil {
				return parquet.Value{}, io.ErrNoProgress
			}
			parquet.Release(c.page)
			c.page, c.values = nil, nil
		}
	}
	v := c.ready[0]
	c.ready = c.ready[1:]
	return v, nil
}

// closePages ends the reading of the open row group.
func (s *parquetSource) closePages() {
	for _, c := range s.columns() {
		if c.page != nil {
			parquet.Release(c.page)
		}
		if c.pages != nil {
			c.pages.Close() // it was read to its end; nothing can be lost
		}
		c.pages, c.page, c.values, c.ready = nil, nil, nil, nil
	}
}
