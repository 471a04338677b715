package inventory

import (
	"reflect"
	"testing"
	"unsafe"

	"github.com/stretchr/testify/require"

	"plinth/pipeline/internal/wire"
)

// fillFields gives every field below v a value of its own.
func fillFields(v reflect.Value, next *int) {
	*next++
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			f := v.Field(i)
			fillFields(reflect.NewAt(f.Type(), unsafe.Pointer(f.UnsafeAddr())).Elem(), next)
		}
	case reflect.Array:
		for i := range v.Len() {
			fillFields(v.Index(i), next)
		}
	case reflect.String:
		v.SetString(string(rune('a' + *next)))
	case reflect.Float64:
		v.SetFloat(float64(*next) + 0.5)
	case reflect.Int:
		v.SetInt(int64(*next))
	default:
		v.SetUint(uint64(*next % 200))
	}
}

// No field of a building is forgotten in its record.
func TestBuildingInARecord(t *testing.T) {
	var want, got Building
	n := 0
	fillFields(reflect.ValueOf(&want).Elem(), &n)
	c := wire.Writer(nil)
	want.Wire(&c)
	r := wire.Reader(c.Bytes())
	got.Wire(&r)
	require.NoError(t, r.End())
	require.Equal(t, want, got)
}
