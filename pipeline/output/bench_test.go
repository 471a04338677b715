package output

import (
	"io"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

const benchRows = 250_000

func benchmark(b *testing.B, open func() interface {
	Write(*Building) error
	Close() error
}) {
	rs := rows(1000)
	b.ReportAllocs()
	for b.Loop() {
		w := open()
		for i := range benchRows {
			if err := w.Write(&rs[i%len(rs)]); err != nil {
				b.Fatal(err)
			}
		}
		require.NoError(b, w.Close())
	}
	b.ReportMetric(benchRows*float64(b.N)/b.Elapsed().Seconds(), "rows/s")
	b.ReportMetric(float64(len(Buildings.Columns)), "columns")
}

func BenchmarkCSV(b *testing.B) {
	benchmark(b, func() interface {
		Write(*Building) error
		Close() error
	} {
		return NewCSV(io.Discard, &Buildings)
	})
}

func BenchmarkParquet(b *testing.B) {
	benchmark(b, func() interface {
		Write(*Building) error
		Close() error
	} {
		w, err := NewParquet(io.Discard, &Buildings, About{})
		require.NoError(b, err)
		return w
	})
}

func BenchmarkTiles(b *testing.B) {
	benchmark(b, func() interface {
		Write(*Building) error
		Close() error
	} {
		w, err := NewTiles(filepath.Join(b.TempDir(), "t.mbtiles"), &Buildings, About{})
		require.NoError(b, err)
		return w
	})
}
