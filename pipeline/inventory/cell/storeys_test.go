package cell

import (
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
		want Storeys
	}{
		{"IV", Storeys{Above: 4, Below: -1}},
		{"xii", Storeys{Above: 12, Below: -1}},
		{"G+4", Storeys{Above: 5, Below: -1}},
		{"g + 1", Storeys{Above: 2, Below: -1}},
		{"GF+3", Storeys{Above: 4, Below: -1}},
		{"G", Storeys{Above: 1, Below: -1}},
		{"ground+2", Storeys{Above: 3, Below: -1}},
		{"Ground floor plus 2 upper floors", Storeys{Above: 3, Below: -1}},
		{"G+M+4", Storeys{Above: 5, Below: -1, mezzanine: true}},
		{"G+4+R", Storeys{Above: 5, Below: -1, roof: true}},
		{"stilt+4", Storeys{Above: 5, Below: -1}},
		{"2B+G+12", Storeys{Above: 13, Below: 2}},
		{"B1+B2+G+4", Storeys{Above: 5, Below: 2}},
		{"B1+G+4", Storeys{Above: 5, Below: 1}},
		{"B2/5F", Storeys{Above: 5, Below: 2}},
		{"5F/B1F", Storeys{Above: 5, Below: 1}},
		{"5F B1F", Storeys{Above: 5, Below: 1}},
		{"B1-5F", Storeys{Above: 5, Below: 1}},
		{"4 storeys", Storeys{Above: 4, Below: -1}},
		{"4 fl.", Storeys{Above: 4, Below: -1}},
		{"four", Storeys{Above: 4, Below: -1}},
		{"two-storey", Storeys{Above: 2, Below: -1}},
		{"4 floors above ground, 1 floor below ground", Storeys{Above: 4, Below: 1}},
		{"3 + basement", Storeys{Above: 3, Below: 1}},
		{"3-4", Storeys{Above: 4, Below: -1, Span: true}},
		{"3 to 4 storeys", Storeys{Above: 4, Below: -1, Span: true}},
		{"2½", Storeys{Above: 2, Below: -1, half: true}},
		{"2 1/2", Storeys{Above: 2, Below: -1, half: true}},
		{"2.5", Storeys{Above: 2, Below: -1, half: true}},
		{"2,5", Storeys{Above: 2, Below: -1, half: true}},
		{"EG+2", Storeys{Above: 3, Below: -1}},
		{"UG+EG+3", Storeys{Above: 4, Below: 1}},
		{"UG+EG+2.OG+DG", Storeys{Above: 3, Below: 1, roof: true}},
		{"6 (+2 UG)", Storeys{Above: 6, Below: 2}},
		{"2 UG + EG + 5 OG", Storeys{Above: 6, Below: 2}},
		{"RC+3", Storeys{Above: 4, Below: -1}},
		{"R+4", Storeys{Above: 5, Below: -1}},
		{"rez-de-chaussée + 2 étages + combles", Storeys{Above: 3, Below: -1, roof: true}},
		{"PB+3", Storeys{Above: 4, Below: -1}},
		{"R/C+3", Storeys{Above: 4, Below: -1}},
		{"4 piani", Storeys{Above: 4, Below: -1}},
		{"P+4", Storeys{Above: 5, Below: -1}},
		{"Po+P+4+Pk", Storeys{Above: 5, Below: 1, roof: true}},
		{"Z+4", Storeys{Above: 5, Below: -1}},
		{"5 эт.", Storeys{Above: 5, Below: -1}},
		{"地上5階地下2階", Storeys{Above: 5, Below: 2}},
		{"地上５階／地下２階", Storeys{Above: 5, Below: 2}},
		{"2 basement levels", Storeys{Below: 2}},
	} {
		got, ok := ParseStoreys(c.cell)
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
		if got, ok := ParseStoreys(cell); ok {
			assert.True(t, cell == "B" && got.Above == 0, "%q was read as %+v", cell, got)
		}
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
		got, ok := ParseStoreys(s)
		if !ok {
			return
		}
		require.GreaterOrEqual(t, got.Above, 0)
		require.LessOrEqual(t, got.Above, 201)
		require.GreaterOrEqual(t, got.Below, -1)
		require.True(t, got.Above > 0 || got.Below >= 0, "%q says nothing: %+v", s, got)
		again, ok := ParseStoreys(" " + s + " ")
		require.True(t, ok)
		require.Equal(t, got, again, "space around it")
	})
}
