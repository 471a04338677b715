package cell

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestParseFigure(t *testing.T) {
	for _, c := range []struct {
		text    string
		decimal byte
		value   float64
		unit    string
		ok      bool
	}{
		{"14.05", '.', 14.05, "", true},
		{"+3", '.', 3, "", true},
		{"-123.2", '.', -123.2, "", true},
		{"\u2212123.2", '.', -123.2, "", true}, // minus sign
		{"1.5e3", '.', 1500, "", true},
		{"1,234", '.', 1234, "", true},
		{"1,234,567.8", '.', 1234567.8, "", true},
		{"12 345", '.', 12345, "", true},
		{"12\u00a0345,5", ',', 12345.5, "", true},
		{"1'234", '.', 1234, "", true},
		{"1.234,5", ',', 1234.5, "", true},
		{"1.234.567", ',', 1234567, "", true},
		{"12,5", ',', 12.5, "", true},
		{"1,234", ',', 1.234, "", true},
		{"12,5", '.', 0, "", false}, // a decimal comma that was not declared
		{"1,2345", '.', 0, "", false},
		{"1,23,456", '.', 0, "", false},
		{"1.2.3", '.', 0, "", false},
		{"12.5", ',', 0, "", false},
		{"40ft", '.', 40, "ft", true},
		{"1 200 m2", '.', 1200, "m2", true},
		{"> 20", '.', 20, "", true},
		{"ca. 15 m", '.', 15, "m", true},
		{"", '.', 0, "", false},
		{"-", '.', 0, "", false},
		{".", '.', 0, "", false},
		{"e5", '.', 0, "", false},
		{"infinity", '.', 0, "", false},
		{"nan", '.', 0, "", false},
		{"1_000", '.', 1, "_000", true}, // no unit of any dimension
		{"1e999", '.', 1, "e999", true},
	} {
		f, ok := ParseFigure(c.text, c.decimal)
		assert.Equal(t, c.ok, ok, c.text)
		if ok && c.ok {
			assert.Equal(t, c.value, f.Value, c.text)
			assert.Equal(t, c.unit, f.Unit, c.text)
		}
	}
}

func TestParseYear(t *testing.T) {
	about, none, day := Notes(1<<Approximate), Notes(1<<PlaceholderDate), Notes(1<<ExcelDate)
	for _, c := range []struct {
		text  string
		year  int
		notes Notes
		ok    bool
	}{
		{"1947", 1947, 0, true},
		{"demolished 2020", 2020, 1 << NotStanding, true},
		{"2025 (planned)", 2025, 1 << NotStanding, true},
		{"2025 geplant", 2025, 1 << NotStanding, true},
		{"u/c 2025", 2025, 1 << NotStanding, true},
		{"proposed 2024", 2024, 1 << NotStanding, true},
		{"1389 AH", 1389, about, true},
		{"1968 (plant)", 1968, about, true},
		{"built 1968", 1968, 0, true},
		{"12 May 1966", 1966, 0, true},
		{"Thu, 12 Mai 1966", 1966, 0, true},
		{"3rd of June 1966", 1966, 0, true},
		{"1947.0", 1947, 0, true},
		{"20090501", 2009, 0, true},
		{"01052009", 2009, 0, true},
		{"197506", 1975, 0, true},
		{"20240220195546", 2024, 0, true},
		{"2009-05-01", 2009, 0, true},
		{"2009-05", 2009, 0, true},
		{"2009-05-01T00:00:00Z", 2009, 0, true},
		{"01/05/2009", 2009, 0, true},
		{"1 May 1975", 1975, 0, true},
		{"March 1975", 1975, 0, true},
		{"1947?", 1947, about, true},
		{"c1947", 1947, about, true},
		{"c. 1947", 1947, about, true},
		{"circa 1947", 1947, about, true},
		{"1950s", 1950, about, true},
		{"1930-35", 1930, about, true},
		{"1930-1935", 1930, about, true},
		{"before 1940", 1939, about, true},
		{"pre-1940", 1939, about, true},
		{"<1940", 1939, about, true},
		{"000000", 0, none, true},
		{"0", 0, none, true},
		{"00000000", 0, none, true},
		{"19000101", 0, none, true},
		{"1900-01-01", 0, none, true},
		{"1/1/1900", 0, none, true},
		{"99991231", 0, none, true},
		{"27395", 1975, day, true},
		{"old", 0, 0, false},
		{"19th century", 1850, 1 << Century, true},
		{"1968-13-45", 1968, 1 << NoSuchDate, true},
		{"31/12/1968", 1968, 0, true},
		{"12/31/1968", 1968, 0, true},
		{"31/13/1968", 1968, 1 << NoSuchDate, true},
		{"1968-00-00", 1968, 0, true},
		{"1968-12-32T10:00:00", 1968, 1 << NoSuchDate, true},
		{"01/05/75", 0, 0, false},
		{"19475", 1953, day, true},
		{"1234567", 0, 0, false},
		{"-1947", 1947, 0, true},
	} {
		year, notes, ok := ParseYear(c.text)
		assert.Equal(t, c.ok, ok, c.text)
		if ok {
			assert.Equal(t, c.year, year, c.text)
			assert.Equal(t, c.notes, notes, c.text)
		}
	}
}

// Exact by definition: the international foot is 0.3048 m, the acre 4840 yd2.
func TestUnits(t *testing.T) {
	for _, c := range []struct {
		d    Dimension
		word string
		size float64
		ok   bool
	}{
		{Distance, "m", 1, true}, {Distance, "Feet", 0.3048, true}, {Distance, "in", 0.0254, true},
		{Surface, "ft2", 0.09290304, true}, {Surface, "SQ FT", 0.09290304, true}, {Surface, "m²", 1, true}, {Surface, "ha", 10000, true}, {Surface, "yd2", 0.83612736, true},
		{Ratio, "%", 0.01, true}, {Time, "ms", 0.001, true},
		{Distance, "m2", 0, false}, {Surface, "m", 0, false}, {None, "m", 0, false}, {Distance, "furlong", 0, false},
	} {
		size, ok := c.d.Size(c.word)
		assert.Equal(t, c.ok, ok, c.word)
		assert.InDelta(t, c.size, size, 1e-15, c.word) // rounding of 0.3048 squared
	}
}

// Centuries that ended before any code are read as their middle; later ones say
// nothing of the code.
func TestCenturies(t *testing.T) {
	for _, c := range []struct {
		cell string
		year int // 0 for not read
	}{
		{"19. Jh.", 1850}, {"19 Jh", 1850}, {"18. Jahrhundert", 1750}, {"19th century", 1850},
		{"19th cent.", 1850}, {"XIX secolo", 1850}, {"siglo XVIII", 1750},
		{"XIXe siècle", 1850}, {"19世紀", 1850}, {"XIX век", 1850},
		{"20. Jh.", 0}, {"21st century", 0}, {"XX век", 0}, {"19", 0}, {"century", 0},
		{"18th or 19th century", 0}, {"unbekannt", 0},
	} {
		year, notes, ok := ParseYear(c.cell)
		if c.year == 0 {
			assert.False(t, ok && notes.Has(Century), "%s was read as %d", c.cell, year)
			continue
		}
		assert.True(t, ok, c.cell)
		assert.Equal(t, c.year, year, c.cell)
		assert.True(t, notes.Has(Century), c.cell)
	}
}

// cells that registers are known to hold.
var knownCells = []string{
	"", " ", "0", "1", "-1", "4", "12.5", "1e9", "-9999", "NaN", "Inf", "0x1F", "1,234.5", "\"1,234\"", "~5", ">20", "14 ft", "1947?", "19470101", "000000",
	"n/a", "<Null>", "TBD", "RC", "rc", "office", "yes", "Café", "Caf\xe9", "\"a\nb\"", "\"", "a\"b", "\"a\"b", "-150.1234", "40.1234", "B1", "B2", "\x00", "'",
}

func FuzzFigure(f *testing.F) {
	for _, s := range knownCells {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for _, mark := range []byte{'.', ','} {
			if fig, ok := ParseFigure(s, mark); ok {
				require.False(t, math.IsNaN(fig.Value) || math.IsInf(fig.Value, 0), s)
			}
		}
		if s != "" {
			ParseYear(s)
		}
	})
}
