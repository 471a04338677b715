package output

import (
	"cmp"
	"encoding/binary"
	"math"

	"github.com/xitongsys/parquet-go/parquet"
)

// maxStatisticsText is the longest text, in bytes, that is kept as a bound. A longer text means no
// bounds, since a cut text would be a wrong bound.
const maxStatisticsText = 64

// stats counts the values of one leaf in one row group.
type stats struct {
	nulls int64
	float span[float64]
	int   span[int64]
	text  span[string]
}

// A span is the range of the values that were added to it.
type span[T cmp.Ordered] struct {
	min, max T
	seen     bool
}

// add widens s to include v, which is never NaN.
func (s *span[T]) add(v T) {
	if !s.seen {
		s.min, s.max, s.seen = v, v, true
		return
	}
	s.min, s.max = min(s.min, v), max(s.max, v)
}

// thrift returns the footer's statistics of a leaf of the given kind: the true number of nulls, and
// the bounds if they are known and ordered. A lower bound of zero is written as -0, as the Parquet
// format asks (parquet.thrift, ColumnOrder, TYPE_ORDER for DOUBLE). An upper bound of zero is +0,
// since Round leaves no negative zero.
func (s *stats) thrift(kind string) *parquet.Statistics {
	out := parquet.NewStatistics()
	nulls := s.nulls
	out.NullCount = &nulls
	switch {
	case kind == kindDouble && s.float.seen:
		low := s.float.min
		if low == 0 {
			low = math.Copysign(0, -1)
		}
		out.MinValue = binary.LittleEndian.AppendUint64(nil, math.Float64bits(low))
		out.MaxValue = binary.LittleEndian.AppendUint64(nil, math.Float64bits(s.float.max))
	case kind == kindInt && s.int.seen:
		out.MinValue = binary.LittleEndian.AppendUint64(nil, uint64(s.int.min))
		out.MaxValue = binary.LittleEndian.AppendUint64(nil, uint64(s.int.max))
	case kind == kindBool && s.int.seen:
		out.MinValue, out.MaxValue = []byte{byte(s.int.min)}, []byte{byte(s.int.max)}
	case kind == kindText && s.text.seen && max(len(s.text.min), len(s.text.max)) <= maxStatisticsText:
		out.MinValue, out.MaxValue = []byte(s.text.min), []byte(s.text.max)
	}
	return out
}
