package audit

import (
	"encoding/binary"
	"fmt"
	"math"
	"path/filepath"
	"strconv"

	"github.com/parquet-go/parquet-go"
	"github.com/parquet-go/parquet-go/encoding/thrift"
)

// parquetFooters checks what the footers of Parquet files promise: the ids of columns, by which
// some table formats match them, and the order of rows, by which a reader may skip most of them.
func parquetFooters(r *run, n *notes) error {
	for _, f := range r.manifest.Files {
		if filepath.Ext(f.Name) != ".parquet" {
			continue
		}
		if err := footerFile(r.path(f.Name), f.Name, n); err != nil {
			return fmt.Errorf("%s: %w", f.Name, err)
		}
		n.saw("%s", f.Name)
	}
	return nil
}

func footerFile(path, name string, n *notes) error {
	file, closer, err := openParquet(path)
	if err != nil {
		return err
	}
	defer closer.Close()
	if err := guard(func() error { return columnIDs(file, name, n) }); err != nil {
		return err
	}
	for i := range file.RowGroups() {
		if err := sortedRows(file, i, name, n); err != nil {
			return err
		}
	}
	return nil
}

// columnIDs checks that the columns have no ids, or each its own (parquet.thrift,
// SchemaElement.field_id). The reading library takes an id of 0 for none, although it is one.
func columnIDs(file *parquet.File, name string, n *notes) error {
	var tail [8]byte // length of the footer, and the mark
	if _, err := file.ReadAt(tail[:], file.Size()-int64(len(tail))); err != nil {
		return err
	}
	b := make([]byte, binary.LittleEndian.Uint32(tail[:])) // openParquet has checked it
	if _, err := file.ReadAt(b, file.Size()-int64(len(tail)+len(b))); err != nil {
		return err
	}
	var meta struct {
		Schema thrift.Slice[struct {
			ID thrift.Null[int32] `thrift:"9,optional"`
		}] `thrift:"2,required"`
	}
	if err := thrift.Unmarshal(new(thrift.CompactProtocol), b, &meta); err != nil {
		return err
	}
	seen := make(map[int32]bool)
	for _, e := range meta.Schema {
		if e.ID.Valid && seen[e.ID.V] {
			n.wrong("%s: two columns have the id %d", name, e.ID.V)
			return nil
		}
		if e.ID.Valid {
			seen[e.ID.V] = true
		}
	}
	return nil
}

// sortedRows checks the order of rows that the footer states for a row group.
func sortedRows(file *parquet.File, group int, name string, n *notes) error {
	by := file.Metadata().RowGroups[group].SortingColumns
	out := newParquetRow(file, name)
	switch {
	case len(by) == 0:
		return nil
	case len(by) > 1 || by[0].Descending || by[0].ColumnIdx < 0 || int(by[0].ColumnIdx) >= len(out.cells):
		n.wrong("%s: row group %d is said to be sorted as none of ours is", name, group+1)
		return nil
	}
	if err := guard(func() error { return checkGroup(file, group) }); err != nil {
		return err
	}
	last, failed := math.Inf(-1), error(nil)
	groupRows(file.RowGroups()[group], out, func(w *row, err error) bool {
		if failed = err; err != nil {
			return false
		}
		v, bad := strconv.ParseFloat(w.cells[by[0].ColumnIdx], 64)
		if bad != nil || !(v >= last) {
			n.wrong("%s is not in the order its footer names", w.where())
			return false
		}
		last = v
		return true
	})
	return failed
}
