package inventory

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"plinth/pipeline/inventory/fault"
)

// FuzzMapping: a column, a unit and a pair of values that a plan gives to any field are
// refused with a remedy, or a register is read with them and its rows are conserved.
func FuzzMapping(f *testing.F) {
	f.Add("system", "type", "", "RC", "concrete-frame")
	f.Add("height", "height", "ft", "14", "")
	f.Add("year", "built", "", "1965", "c. 1950")
	f.Add("site_class", "name", "kPa", "Old Hall", "d ")
	f.Fuzz(func(t *testing.T, field, column, unit, theirs, ours string) {
		inv := smallPlan()
		inv.Columns[field] = column
		if unit != "" {
			inv.Units[field] = unit
		}
		if theirs != "" {
			inv.Values[field] = map[string]string{theirs: ours}
		}
		r, err := NewReader(strings.NewReader(smallHeader+smallRow+rowWith("ref=B2", "type="+strings.Trim(theirs, "\",\r\n"))), "register.csv", inv, Options{})
		if err == nil {
			read(t, r)
			return
		}
		var fe *fault.FileError
		require.True(t, errors.As(err, &fe), "%v", err)
		require.NotEmpty(t, fe.Key+fe.Column)
		require.NotEmpty(t, fe.Remedy)
	})
}
