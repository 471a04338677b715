package inventory

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A cell of storeys that says a number is read or rejects its row: the height never
// stands for it. A cell that says none may be filled.
func TestStoreysAreNeverReplaced(t *testing.T) {
	for _, c := range []struct {
		cell    string
		storeys int // 0 for a reject
		below   int
		from    Origin
	}{
		{"6 (+2 UG)", 6, 2, Given},
		{"G+4", 5, -1, Given},
		{"3-4", 4, -1, Assumed},
		{"5+2", 0, 0, Absent},
		{"about five or so", 0, 0, Absent},
		{"unknown", 4, -1, Derived}, // 14 m of 3.6 m each
		{"several", 4, -1, Derived},
		{"", 4, -1, Derived},
	} {
		text := smallHeader + rowWith("floors="+c.cell, "height=14")
		if c.storeys > 5 {
			text = smallHeader + rowWith("floors="+c.cell, "height=18")
		}
		buildings, rejects, rep := read(t, open(t, text, smallPlan(), Options{}))
		if c.storeys == 0 {
			require.Len(t, rejects, 1, c.cell)
			assert.Equal(t, UnreadStoreys, rejects[0].Rule, c.cell)
			continue
		}
		require.Len(t, buildings, 1, c.cell)
		assert.Equal(t, c.storeys, buildings[0].Storeys, c.cell)
		assert.Equal(t, c.below, buildings[0].StoreysBelow, c.cell)
		assert.Equal(t, c.from, buildings[0].Origin[Storeys], c.cell)
		assert.Equal(t, strings.Contains(c.cell, "UG"), rep.Given[StoreysBelow] == 1, c.cell)
	}
}

// Storeys below ground have their column; a notation beside it does not overrule it.
func TestStoreysBelowHaveTheirColumn(t *testing.T) {
	for below, want := range map[string]int{"1": 1, "": 2, "3 UG": 3, "n/a": 2} {
		inv := smallPlan()
		inv.Columns["storeys_below"] = "name"
		delete(inv.Columns, "name")
		buildings, _, _ := read(t, open(t, smallHeader+rowWith("floors=2B+G+4", "height=", "name="+below), inv, Options{}))
		require.Len(t, buildings, 1, below)
		assert.Equal(t, 5, buildings[0].Storeys, below)
		assert.Equal(t, want, buildings[0].StoreysBelow, below)
	}
}
