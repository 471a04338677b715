package output

import (
	"bytes"
	"testing"

	"github.com/parquet-go/parquet-go"
	"github.com/stretchr/testify/require"
)

func writeParquet[R any](t testing.TB, table *Table[R], rs []R) []byte {
	var b bytes.Buffer
	w, err := NewParquet(&b, table, About{Version: "0.1.0", Currency: "CRD", PriceDate: "2025-01"})
	require.NoError(t, err)
	for i := range rs {
		require.NoError(t, w.Write(&rs[i]))
	}
	require.NoError(t, w.Close())
	return b.Bytes()
}

func TestParquetOpens(t *testing.T) {
	b := writeParquet(t, &Buildings, rows(20000))
	f, err := parquet.OpenFile(bytes.NewReader(b), int64(len(b)))
	require.NoError(t, err)
	t.Log(f.Schema())
	t.Log(f.Metadata().KeyValueMetadata)
	require.EqualValues(t, 20000, f.NumRows())
}
