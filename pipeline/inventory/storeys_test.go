package inventory

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Storeys as people write them. Whether the storey at ground level counts is common
// usage of each language, no source: North America numbers it 1, Europe 0 (G, EG, RC,
// PB, prizemlje).
func TestStoreysAsPeopleWriteThem(t *testing.T) {
	for _, c := range []struct {
		cell string
		want storeyCount
	}{
		{"G+4", storeyCount{above: 5, below: -1}},
		{"g + 1", storeyCount{above: 2, below: -1}},
		{"GF+3", storeyCount{above: 4, below: -1}},
		{"G", storeyCount{above: 1, below: -1}},
		{"ground+2", storeyCount{above: 3, below: -1}},
		{"Ground floor plus 2 upper floors", storeyCount{above: 3, below: -1}},
		{"G+M+4", storeyCount{above: 5, below: -1, mezzanine: true}},
		{"G+4+R", storeyCount{above: 5, below: -1, roof: true}},
		{"stilt+4", storeyCount{above: 5, below: -1}},
		{"2B+G+12", storeyCount{above: 13, below: 2}},
		{"B1+B2+G+4", storeyCount{above: 5, below: 2}},
		{"B1+G+4", storeyCount{above: 5, below: 1}},
		{"B2/5F", storeyCount{above: 5, below: 2}},
		{"5F/B1F", storeyCount{above: 5, below: 1}},
		{"5F B1F", storeyCount{above: 5, below: 1}},
		{"B1-5F", storeyCount{above: 5, below: 1}},
		{"4 storeys", storeyCount{above: 4, below: -1}},
		{"4 fl.", storeyCount{above: 4, below: -1}},
		{"four", storeyCount{above: 4, below: -1}},
		{"two-storey", storeyCount{above: 2, below: -1}},
		{"4 floors above ground, 1 floor below ground", storeyCount{above: 4, below: 1}},
		{"3 + basement", storeyCount{above: 3, below: 1}},
		{"3-4", storeyCount{above: 4, below: -1, span: true}},
		{"3 to 4 storeys", storeyCount{above: 4, below: -1, span: true}},
		{"2½", storeyCount{above: 2, below: -1, half: true}},
		{"2 1/2", storeyCount{above: 2, below: -1, half: true}},
		{"2.5", storeyCount{above: 2, below: -1, half: true}},
		{"2,5", storeyCount{above: 2, below: -1, half: true}},
		{"EG+2", storeyCount{above: 3, below: -1}},
		{"UG+EG+3", storeyCount{above: 4, below: 1}},
		{"UG+EG+2.OG+DG", storeyCount{above: 3, below: 1, roof: true}},
		{"6 (+2 UG)", storeyCount{above: 6, below: 2}},
		{"2 UG + EG + 5 OG", storeyCount{above: 6, below: 2}},
		{"RC+3", storeyCount{above: 4, below: -1}},
		{"R+4", storeyCount{above: 5, below: -1}},
		{"rez-de-chaussée + 2 étages + combles", storeyCount{above: 3, below: -1, roof: true}},
		{"PB+3", storeyCount{above: 4, below: -1}},
		{"R/C+3", storeyCount{above: 4, below: -1}},
		{"4 piani", storeyCount{above: 4, below: -1}},
		{"P+4", storeyCount{above: 5, below: -1}},
		{"Po+P+4+Pk", storeyCount{above: 5, below: 1, roof: true}},
		{"Z+4", storeyCount{above: 5, below: -1}},
		{"5 эт.", storeyCount{above: 5, below: -1}},
		{"地上5階地下2階", storeyCount{above: 5, below: 2}},
		{"地上５階／地下２階", storeyCount{above: 5, below: 2}},
		{"2 basement levels", storeyCount{below: 2}},
	} {
		got, ok := parseStoreys(c.cell)
		assert.True(t, ok, c.cell)
		assert.Equal(t, c.want, got, c.cell)
	}
}

// What may mean two things, or something else, is not read.
func TestStoreysNotRead(t *testing.T) {
	for _, cell := range []string{
		"5+2", "4+1", "3/4", "4 étages", "2 OG", "12m3", "12 m", "3.7", "2.55", "4000", "G4", "G+G", "G+", "+G", "G++4",
		"B", "1-10",
		"4-3", "4 incl. ground", "S+4", "2P+G+4", "A4", "4 or", "penthouse", "", "  ",
		"½", "0 floors", "G+3-4", "several", "1st floor",
	} {
		if got, ok := parseStoreys(cell); ok {
			assert.True(t, cell == "B" && got.above == 0, "%q was read as %+v", cell, got)
		}
	}
}

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

// Whatever is written, a count that was read is one that a building can have.
func FuzzStoreys(f *testing.F) {
	for _, s := range []string{
		"G+4", "B2/5F", "地上5階地下2階", "6 (+2 UG)", "2½", "3-4", "UG+EG+2.OG+DG", "5+2", "rez-de-chaussée", "\xff",
		"B1B2B3", "one-two-three",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		got, ok := parseStoreys(s)
		if !ok {
			return
		}
		require.GreaterOrEqual(t, got.above, 0)
		require.LessOrEqual(t, got.above, 201)
		require.GreaterOrEqual(t, got.below, -1)
		require.True(t, got.above > 0 || got.below >= 0, "%q says nothing: %+v", s, got)
		again, ok := parseStoreys(" " + s + " ")
		require.True(t, ok)
		require.Equal(t, got, again, "space around it")
	})
}
