package source

import (
	"fmt"
	"math/big"
	"strconv"
	"time"

	"github.com/parquet-go/parquet-go"
	"github.com/parquet-go/parquet-go/format"
)

// cellText returns the function that gives a column's values as the text a cell
// would have.
func cellText(c *parquet.Column) func(parquet.Value) string {
	t := c.Type()
	if l := t.LogicalType(); l != nil {
		switch l := l.Value.(type) {
		case *format.DecimalType:
			return func(v parquet.Value) string { return scaled(unscaled(v), int(l.Scale)) }
		case *format.DateType:
			return func(v parquet.Value) string {
				return time.Unix(0, 0).UTC().AddDate(0, 0, int(v.Int32())).Format(time.DateOnly)
			}
		case *format.TimestampType:
			return timestamp(l)
		case *format.UUIDType:
			return uuid
		case *format.IntType:
			if !l.IsSigned {
				return func(v parquet.Value) string { return unsigned(v) }
			}
		}
	}
	return plainCell
}

// bare reports whether a type is of bytes that are not said to be text or anything else
// that can be read.
func bare(t parquet.Type) bool {
	if k := t.Kind(); k != parquet.ByteArray && k != parquet.FixedLenByteArray {
		return false
	}
	l := t.LogicalType()
	if l == nil {
		return true
	}
	switch l.Value.(type) {
	case *format.StringType, *format.EnumType, *format.JsonType, *format.DecimalType, *format.UUIDType:
		return false
	}
	return true
}

// uuid returns sixteen bytes as text in groups of 8-4-4-4-12 (RFC 9562, section 4).
func uuid(v parquet.Value) string {
	b := v.ByteArray()
	if len(b) != 16 {
		return plainCell(v)
	}
	return fmt.Sprintf("%x-%x-%x-%x-%x", b[:4], b[4:6], b[6:8], b[8:10], b[10:])
}

// plainCell returns a value by its physical type.
func plainCell(v parquet.Value) string {
	switch v.Kind() {
	case parquet.Boolean:
		return strconv.FormatBool(v.Boolean())
	case parquet.Int32:
		return strconv.FormatInt(int64(v.Int32()), 10)
	case parquet.Int64:
		return strconv.FormatInt(v.Int64(), 10)
	case parquet.Float:
		return decimal(float64(v.Float()), 32)
	case parquet.Double:
		return decimal(v.Double(), 64)
	case parquet.ByteArray, parquet.FixedLenByteArray:
		return string(v.ByteArray())
	}
	return fmt.Sprint(v)
}

func unsigned(v parquet.Value) string {
	if v.Kind() == parquet.Int32 {
		return strconv.FormatUint(uint64(v.Uint32()), 10)
	}
	return strconv.FormatUint(v.Uint64(), 10)
}

// timestamp returns the text of moments counted from 1970.
func timestamp(t *format.TimestampType) func(parquet.Value) string {
	return func(v parquet.Value) string {
		n := v.Int64()
		var at time.Time
		switch t.Unit.Value.(type) {
		case *format.MilliSeconds:
			at = time.UnixMilli(n)
		case *format.MicroSeconds:
			at = time.UnixMicro(n)
		default:
			at = time.Unix(0, n)
		}
		return at.UTC().Format("2006-01-02T15:04:05")
	}
}

// unscaled returns the whole number behind a decimal: big-endian two's complement
// where it is bytes.
func unscaled(v parquet.Value) *big.Int {
	switch v.Kind() {
	case parquet.Int32:
		return big.NewInt(int64(v.Int32()))
	case parquet.Int64:
		return big.NewInt(v.Int64())
	}
	b := v.ByteArray()
	n := new(big.Int).SetBytes(b)
	if len(b) > 0 && b[0]&0x80 != 0 {
		n.Sub(n, new(big.Int).Lsh(big.NewInt(1), uint(8*len(b))))
	}
	return n
}

// mostScale is the largest scale of a decimal that is read; 38 is usual.
const mostScale = 76

// scaled returns n/10^scale in decimals.
func scaled(n *big.Int, scale int) string {
	if scale <= 0 || scale > mostScale {
		return n.String()
	}
	ten := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(scale)), nil)
	return new(big.Rat).SetFrac(n, ten).FloatString(scale)
}
