package inventory

import (
	"cmp"
	"slices"
)

// A storeyClass is what a word in a count of storeys does.
type storeyClass uint8

const (
	noStoreyWord storeyClass = iota
	aStorey                  // counts storeys above ground, the one at ground level among them
	theGround                // the storey at ground level
	groundOrRoof             // R: rez-de-chaussée, or a roof storey behind a ground storey
	anUpper                  // counts storeys above the one at ground level
	anAbove                  // counts storeys above ground
	aBasement                // counts storeys below ground
	aRoof                    // a storey in or on the roof: said, not counted
	aMezzanine               // a floor within a storey: said, not counted
	aNumber                  // a number in letters
	aJoint                   // stands between two parts
	aSpan                    // stands between the ends of a range
)

// A storeyWord is one word of the notations of storeys.
type storeyWord struct {
	word   string // in lower case
	class  storeyClass
	number int  // of aNumber
	behind bool // may stand behind "4 floors" and say where they are
}

// storeyWords is the table of words, by language. North America calls the storey at
// ground level the first and counts it: "4 stories" are four above ground. Most of
// Europe, Asia and Latin America number from the one above it: G+4, R+4 and EG+4 are
// five. A word that counts only the upper ones (OG, étages, pisos) is read beside a
// ground word alone: by itself it may or may not leave the ground storey out.
var storeyWords = sortedStoreyWords([]storeyWord{
	// English
	{word: "f", class: aStorey}, {word: "fl", class: aStorey}, {word: "flr", class: aStorey}, {word: "flrs", class: aStorey},
	{word: "floor", class: aStorey}, {word: "floors", class: aStorey}, {word: "st", class: aStorey},
	{word: "storey", class: aStorey}, {word: "storeys", class: aStorey}, {word: "story", class: aStorey}, {word: "stories", class: aStorey},
	{word: "level", class: aStorey}, {word: "levels", class: aStorey},
	{word: "g", class: theGround}, {word: "gf", class: theGround}, {word: "gr", class: theGround},
	{word: "ground", class: theGround}, {word: "ground floor", class: theGround}, {word: "stilt", class: theGround},
	{word: "upper", class: anUpper},
	{word: "above", class: anAbove, behind: true}, {word: "above ground", class: anAbove, behind: true},
	{word: "b", class: aBasement}, {word: "bf", class: aBasement}, {word: "bsmt", class: aBasement},
	{word: "basement", class: aBasement}, {word: "basements", class: aBasement},
	{word: "below", class: aBasement, behind: true}, {word: "below ground", class: aBasement, behind: true}, {word: "underground", class: aBasement, behind: true},
	{word: "attic", class: aRoof}, {word: "roof", class: aRoof}, {word: "penthouse", class: aRoof}, {word: "ph", class: aRoof},
	{word: "m", class: aMezzanine}, {word: "mezz", class: aMezzanine}, {word: "mezzanine", class: aMezzanine},
	{word: "single", class: aNumber, number: 1}, {word: "one", class: aNumber, number: 1}, {word: "two", class: aNumber, number: 2},
	{word: "three", class: aNumber, number: 3}, {word: "four", class: aNumber, number: 4}, {word: "five", class: aNumber, number: 5},
	{word: "six", class: aNumber, number: 6}, {word: "seven", class: aNumber, number: 7}, {word: "eight", class: aNumber, number: 8},
	{word: "nine", class: aNumber, number: 9}, {word: "ten", class: aNumber, number: 10}, {word: "eleven", class: aNumber, number: 11},
	{word: "twelve", class: aNumber, number: 12},
	{word: "and", class: aJoint}, {word: "plus", class: aJoint}, {word: "with", class: aJoint},
	{word: "to", class: aSpan}, {word: "or", class: aSpan},
	// German
	{word: "eg", class: theGround}, {word: "erdgeschoss", class: theGround},
	{word: "og", class: anUpper}, {word: "obergeschoss", class: anUpper}, {word: "obergeschosse", class: anUpper},
	{word: "geschosse", class: aStorey}, {word: "vollgeschosse", class: aStorey}, {word: "vg", class: aStorey},
	{word: "ug", class: aBasement}, {word: "kg", class: aBasement}, {word: "tg", class: aBasement}, {word: "keller", class: aBasement},
	{word: "untergeschoss", class: aBasement}, {word: "untergeschosse", class: aBasement}, {word: "tiefgarage", class: aBasement},
	{word: "dg", class: aRoof}, {word: "dachgeschoss", class: aRoof},
	{word: "und", class: aJoint}, {word: "bis", class: aSpan}, {word: "oder", class: aSpan},
	// French
	{word: "r", class: groundOrRoof}, {word: "rc", class: theGround}, {word: "rdc", class: theGround}, {word: "rez-de-chaussée", class: theGround},
	{word: "étage", class: anUpper}, {word: "étages", class: anUpper}, {word: "sous-sol", class: aBasement}, {word: "sous-sols", class: aBasement},
	{word: "combles", class: aRoof},
	// Spanish, Catalan, Portuguese, Italian
	{word: "pb", class: theGround}, {word: "planta baja", class: theGround}, {word: "plantas", class: aStorey},
	{word: "piso", class: anUpper}, {word: "pisos", class: anUpper}, {word: "sótano", class: aBasement}, {word: "sótanos", class: aBasement},
	{word: "ático", class: aRoof},
	{word: "r/c", class: theGround}, {word: "térreo", class: theGround}, {word: "cave", class: aBasement}, {word: "caves", class: aBasement},
	{word: "pt", class: theGround}, {word: "piano terra", class: theGround}, {word: "piani", class: aStorey},
	{word: "seminterrato", class: aBasement}, {word: "interrato", class: aBasement}, {word: "interrati", class: aBasement},
	// Dutch, Swedish, Norwegian
	{word: "bg", class: theGround}, {word: "begane grond", class: theGround}, {word: "bouwlagen", class: aStorey},
	{word: "våningar", class: aStorey}, {word: "etasjer", class: aStorey},
	// Serbian, Croatian, Bosnian, Slovene, Romanian, Polish, Turkish
	{word: "p", class: theGround}, {word: "pr", class: theGround}, {word: "prizemlje", class: theGround}, {word: "parter", class: theGround},
	{word: "sprat", class: anUpper}, {word: "sprata", class: anUpper}, {word: "spratova", class: anUpper}, {word: "kat", class: anUpper},
	{word: "po", class: aBasement}, {word: "podrum", class: aBasement}, {word: "suteren", class: aBasement}, {word: "subsol", class: aBasement},
	{word: "pk", class: aRoof}, {word: "potkrovlje", class: aRoof}, {word: "mansarda", class: aRoof},
	{word: "z", class: theGround}, {word: "zemin", class: theGround}, {word: "katlı", class: aStorey}, {word: "bodrum", class: aBasement},
	// Russian
	{word: "этаж", class: aStorey}, {word: "этажа", class: aStorey}, {word: "этажей", class: aStorey}, {word: "эт", class: aStorey},
	{word: "подвал", class: aBasement}, {word: "мансарда", class: aRoof},
	// Japanese, Chinese
	{word: "地上", class: anAbove}, {word: "地下", class: aBasement}, {word: "階建", class: aStorey}, {word: "階", class: aStorey},
	{word: "层", class: aStorey}, {word: "層", class: aStorey}, {word: "塔屋", class: aRoof},
})

// sortedStoreyWords puts longer words before those they begin with.
func sortedStoreyWords(words []storeyWord) []storeyWord {
	slices.SortStableFunc(words, func(a, b storeyWord) int { return cmp.Compare(len(b.word), len(a.word)) })
	return words
}
