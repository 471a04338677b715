package cell

import "strings"

// A Dimension says what kind of quantity a number measures.
type Dimension uint8

// The dimensions of the fields.
const (
	None     Dimension = iota // a bare number or a word
	Angle                     // degrees
	Distance                  // m
	Surface                   // m2
	Time                      // s
	Ratio                     // 1
	People                    // heads
	Money                     // of the plan's currency
)

// A unit is one accepted unit with its size in the unit we keep.
type unit struct {
	name string
	size float64
}

// Foot is the international foot in m (1959, by definition).
const Foot = 0.3048

// units lists the accepted units, the one we keep first. The foot is the
// international foot of 0.3048 m exactly and the inch a twelfth of it
// (international yard and pound agreement, 1959).
var units = [...][]unit{
	Angle: {{"deg", 1}},
	Distance: {{"m", 1}, {"cm", 0.01}, {"mm", 0.001}, {"km", 1000}, {"ft", Foot},
		{"in", 0.0254}, {"yd", 0.9144}, {"mi", 1609.344}},
	Surface: {{"m2", 1}, {"ft2", Foot * Foot}, {"yd2", 0.9144 * 0.9144}, {"ha", 1e4}},
	Time:    {{"s", 1}, {"ms", 0.001}},
	Ratio:   {{"1", 1}, {"g", 1}, {"%", 0.01}},
	People:  {{"1", 1}},
	Money:   {{"1", 1}, {"thousand", 1e3}, {"million", 1e6}},
}

// spellings maps other ways of writing a unit to its name in units.
var spellings = map[string]string{
	"metre": "m", "metres": "m", "meter": "m", "meters": "m",
	"foot": "ft", "feet": "ft", "'": "ft", "inch": "in", "inches": "in", "\"": "in",
	"m²": "m2", "m^2": "m2", "sqm": "m2", "sq m": "m2", "sq.m": "m2",
	"ft²": "ft2", "ft^2": "ft2", "sqft": "ft2", "sq ft": "ft2", "sq.ft": "ft2", "sf": "ft2",
	"sec": "s", "second": "s", "seconds": "s",
	"percent": "%", "ratio": "1", "degrees": "deg", "degree": "deg",
}

// Declared reports whether a column of the dimension needs its unit declared:
// where two units are in common use, a guess would be wrong by 3.28 or more.
func (d Dimension) Declared() bool {
	return d == Distance || d == Surface || d == Time || d == Ratio
}

// Units returns the names of the units of d, the one kept inside first.
func (d Dimension) Units() []string {
	if int(d) >= len(units) {
		return nil
	}
	names := make([]string, len(units[d]))
	for i, u := range units[d] {
		names[i] = u.name
	}
	return names
}

// Size returns the size of the unit called word, in the unit kept inside.
func (d Dimension) Size(word string) (float64, bool) {
	if int(d) >= len(units) {
		return 0, false
	}
	word = strings.ToLower(strings.TrimSpace(word))
	if name, ok := spellings[word]; ok {
		word = name
	}
	for _, u := range units[d] {
		if u.name == word {
			return u.size, true
		}
	}
	return 0, false
}
