package inventory

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/inventory/fault"
)

// Names of columns are an owner's text: whatever they hold, nothing that a terminal obeys
// comes through, and in the errors of one register they are listed once.
func TestNamesOfColumnsAreHarmless(t *testing.T) {
	const bad = "\x1b]0;title\x07\u202e"
	var names []string
	for i := range 100 {
		names = append(names, fmt.Sprintf("%s%d", bad, i))
	}
	header := strings.Join(names, ",") + "\n" + strings.Repeat(",", 99) + "\n"
	property := `"\u001b]0;title\u0007\u202e":1`
	for text, format := range map[string]string{header: "csv", collection(`{"type":"Feature","properties":{` + property + `}}`): "geojson"} {
		inv := smallPlan()
		if inv.Format = format; format == "geojson" {
			inv = geoPlan()
		}
		delete(inv.Columns, "use")
		delete(inv.Columns, "id")
		_, err := NewReader(strings.NewReader(text), "register", inv, Options{})
		require.Error(t, err)
		assert.NotContains(t, err.Error(), "\x1b")
		assert.NotContains(t, err.Error(), "\x07")
		assert.NotContains(t, err.Error(), "\u202e")
		assert.Equal(t, 1, strings.Count(err.Error(), "; there are "), "the header once")
		assert.Contains(t, err.Error(), "the columns there are stand above")
		assert.Less(t, len(err.Error()), 5000)
	}

	inv := smallPlan()
	inv.Columns["name"] = bad
	r := open(t, strings.Replace(smallHeader, "name", bad, 1)+smallRow, inv, Options{})
	_, _, report := read(t, r)
	assert.Contains(t, report.String(), "\ufffd]0;title\ufffd")
	assert.NotContains(t, report.String(), "\x1b")
	assert.NotContains(t, report.String(), "\u202e")

	reject := Reject{File: bad, Line: 1, ID: bad, Column: bad, Detail: bad}
	assert.NotContains(t, reject.Error(), "\x1b")
	assert.Equal(t, 1, strings.Count((&fault.FileError{File: "a\nb", Rule: bad}).Error(), "\n")+1, "one line")
}
