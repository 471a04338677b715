package source

import (
	"io"
	"os"
)

// Close closes a source that holds something open.
func Close(s Source) error {
	if c, ok := s.(io.Closer); ok {
		return c.Close()
	}
	return nil
}

// Expected returns about how many rows a register has. Parquet says it; of text it follows
// from the share of the bytes of f that the rows read so far have taken. It returns 0 where
// that is not known. f may be nil.
func Expected(s Source, f *os.File, rows int64) int64 {
	switch s := s.(type) {
	case *parquetSource:
		return s.parquet.NumRows()
	case *csvSource, *geoSource:
		if f == nil {
			return 0
		}
		info, err := f.Stat()
		at, wrong := f.Seek(0, io.SeekCurrent)
		if err != nil || wrong != nil || at == 0 {
			return 0
		}
		return int64(float64(rows) * float64(info.Size()) / float64(at))
	}
	return 0
}
