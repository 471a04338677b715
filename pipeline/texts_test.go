package pipeline

import (
	"io"
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/budget"
	"plinth/pipeline/confirm"
	"plinth/pipeline/inspect"
	"plinth/pipeline/inventory"
	"plinth/pipeline/output"
	"plinth/pipeline/page"
)

// What the commands print keeps within 80 columns and shows no controls, whatever an
// owner calls a building and however large or far from a number a value is.
func TestTextsFitTheTerminal(t *testing.T) {
	const longest, id = "lead-rubber-strengthen", "\x1b[31m0000\t000-long-id-of-an-owner"
	about := output.About{Currency: "golden crowns of the realm"}
	confirmed := confirm.Confirmation{}
	for i, v := range []float64{0.1234, 12.345, 123.456, 98765, math.Inf(1), math.NaN()} {
		r := output.Confirmed{
			Rank: int64(98 + i), BuildingID: id + strings.Repeat("x", i), BuildingName: strings.Repeat("long name ", 12), Measure: longest,
			Moved: "building from 98 to 105; measure from 12 to 13", Status: strings.Repeat("said of the runs; ", 9), Collapsed: 11, Place: 12, PlaceHistory: 13,
			DriftSpectral: v, DriftHistory: v, DriftOutside: true, AccelSpectral: v, AccelHistory: v, AccelOutside: true,
		}
		confirmed.Rows = append(confirmed.Rows, r)
	}
	work := output.Work{Year: 2027, ID: id, Measure: longest, CostLikely: 1.24e9, CostLow: 1.24e6, CostHigh: 1.24e9, Gain: -1.24e6, Must: true}
	spending := budget.Spending{Works: []output.Work{work}, Waiting: []output.Work{work}, Money: []float64{1.24e9}, Unit: "currency", Next: 0.123456, About: about}
	search := inspect.Search{Found: 1, First: []output.Inspection{{ID: id, Field: inventory.YearStrengthened.String(), Worth: -1.24e6, BestNow: longest, BestChanges: 1, FundedChanges: 1}}}
	for f := inventory.Field(0); f < inventory.NumFields; f++ {
		search.Fields = append(search.Fields, inspect.FieldWorth{Field: f.String(), Buildings: 9_999_999, Worth: 1.24e9, Best: 123456.7, Funded: 123456.7})
	}
	search.Unit, search.About = "currency", about
	for name, write := range map[string]func(io.Writer) error{"confirm": confirmed.Write, "confirm --details": confirmed.Details,
		"budget": spending.Write, "inspect": search.Write} {
		var b strings.Builder
		require.NoError(t, write(&b))
		for line := range strings.Lines(b.String()) {
			line = strings.TrimSuffix(line, "\n")
			assert.LessOrEqual(t, utf8.RuneCountInString(line), page.Width, "%s: %s", name, line)
			assert.NotContains(t, line, "\x1b", name)
		}
		assert.Contains(t, b.String(), "not thereby", name)
	}
	var b strings.Builder
	require.NoError(t, confirmed.Details(&b))
	assert.Regexp(t, `lead-rubber-strengthen +falls falls! +falls falls! `, b.String(), "a median of collapse is said in a word")
	assert.Regexp(t, `lead-rubber-strengthen +- +-! `, b.String())
}
