package output

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"testing"

	"github.com/apache/thrift/lib/go/thrift"
	"github.com/stretchr/testify/require"
	"github.com/xitongsys/parquet-go/parquet"

	"plinth/pipeline/internal/sizes"
)

// A pagePlace is where the bytes of a page stand behind its header.
type pagePlace struct {
	column, start, end int
	header             *parquet.PageHeader
}

// pagesOf walks over the pages of the row groups of a file.
func pagesOf(t *testing.T, b []byte) (out []pagePlace) {
	for _, g := range openParquet(t, b).Metadata().RowGroups {
		for i, c := range g.Columns {
			at := int(c.MetaData.DataPageOffset)
			if c.MetaData.DictionaryPageOffset > 0 {
				at = int(c.MetaData.DictionaryPageOffset)
			}
			for end := at + int(c.MetaData.TotalCompressedSize); at < end; {
				in, h := thrift.NewTMemoryBufferLen(end-at), parquet.NewPageHeader()
				in.Write(b[at:end])
				require.NoError(t, h.Read(t.Context(), thrift.NewTCompactProtocolConf(in, nil)))
				start := end - in.Len()
				at = start + int(h.CompressedPageSize)
				out = append(out, pagePlace{i, start, at, h})
			}
		}
	}
	return out
}

// checkPages checks the row groups of a file as a register's and as the audit does.
func checkPages(t *testing.T, b []byte) error {
	f := openParquet(t, b)
	check := sizes.Chunks{In: bytes.NewReader(b), Size: int64(len(b))}
	for _, g := range f.Metadata().RowGroups {
		for i, path := range f.Schema().Columns() {
			leaf, _ := f.Schema().Lookup(path...)
			if err := check.Check(&g.Columns[i].MetaData, g.NumRows, leaf.MaxDefinitionLevel); err != nil {
				return err
			}
		}
	}
	return nil
}

// Every page of ours, those of dictionaries too, has the checksum of its bytes, and a
// changed byte in any of them is seen.
func TestPagesCarryChecksums(t *testing.T) {
	b := writeParquet(t, &Buildings, rows(smallGroup+100))
	require.NoError(t, checkPages(t, b))
	pages, dictionaries := pagesOf(t, b), 0
	for i, p := range pages {
		require.NotNil(t, p.header.Crc)
		require.Equal(t, crc32.ChecksumIEEE(b[p.start:p.end]), uint32(*p.header.Crc))
		if p.header.Type == parquet.PageType_DICTIONARY_PAGE {
			dictionaries++
		}
		at := p.start + i*7919%(p.end-p.start)
		b[at] ^= 1 << (i % 8)
		require.ErrorContains(t, checkPages(t, b), "differs from its checksum", "column %d", p.column)
		b[at] ^= 1 << (i % 8)
	}
	require.Greater(t, len(pages), 2*len(Buildings.Columns))
	require.Greater(t, dictionaries, 20)
}

// No column has an id, and row groups say that their rows ascend by rank where they do,
// and only there.
func TestFooterPromises(t *testing.T) {
	rs := rows(2 * smallGroup)
	for i := range rs {
		rs[i].Rank = int64(i + 1)
	}
	rs[smallGroup+7].Rank = 3
	b := writeParquet(t, &Buildings, rs)
	in, meta := thrift.NewTMemoryBuffer(), parquet.NewFileMetaData()
	in.Write(b[len(b)-8-int(binary.LittleEndian.Uint32(b[len(b)-8:])) : len(b)-8])
	require.NoError(t, meta.Read(t.Context(), thrift.NewTCompactProtocolConf(in, nil)))
	for _, e := range meta.Schema {
		require.Nil(t, e.FieldID, e.Name)
	}
	require.Len(t, meta.RowGroups, 2)
	require.Len(t, meta.RowGroups[0].SortingColumns, 1)
	s := meta.RowGroups[0].SortingColumns[0]
	require.Equal(t, []string{"rank"}, meta.RowGroups[0].Columns[s.ColumnIdx].MetaData.PathInSchema)
	require.False(t, s.Descending)
	require.Empty(t, meta.RowGroups[1].SortingColumns)
	for _, by := range []string{Candidates.Order, Programme.Order, Inspections.Order, Confirmeds.Order} {
		require.NotEmpty(t, by)
	}
	require.Empty(t, Verdicts.Order)
}
