package inventory

import (
	"strings"

	"plinth/archetypes"
	"plinth/hazard"
	"plinth/retrofit"
)

// wordsOf returns our words for the field, in the order of their codes. The code of the first word is
// first.
func wordsOf(f Field) (words []string, first int) {
	switch f {
	case System:
		for _, sys := range archetypes.Systems() {
			words = append(words, sys.String())
		}
		return words, int(archetypes.UnknownMix)
	case Profile:
		return []string{archetypes.Regular.String(), archetypes.WeakGround.String(), archetypes.SetBack.String()}, int(archetypes.Regular)
	case SiteClass:
		return []string{"A", "B", "C", "D", "E", "F"}, int(hazard.SiteClass('A'))
	case UseField:
		words = make([]string, 0, NumUses-1)
		for _, u := range usages[1:] {
			words = append(words, u.slug)
		}
		return words, int(House)
	case Contents:
		return []string{"ordinary", "sensitive", "fragile"}, int(retrofit.OrdinaryContents)
	case Plane, Heritage, PlanIrregular:
		return []string{"no", "yes"}, int(retrofit.No)
	}
	return nil, 0
}

// Words returns our words for the field, nil if its cells are no words.
func (f Field) Words() []string {
	words, _ := wordsOf(f)
	return words
}

// Reads reports whether a cell of the field that says word is understood without a mapping.
func (f Field) Reads(word string) bool {
	_, ok := findCode(f, codesOf(f), strings.TrimSpace(word))
	return ok
}

// answerSpellings lists other spellings of no and yes.
var answerSpellings = map[string]string{
	"n": "no", "f": "no", "false": "no", "0": "no",
	"y": "yes", "t": "yes", "true": "yes", "1": "yes", "x": "yes",
}

// codesOf returns the code of each word of the field, by the word in lower case.
func codesOf(f Field) map[string]uint8 {
	words, first := wordsOf(f)
	codes := make(map[string]uint8, 2*len(words))
	for i, w := range words {
		codes[strings.ToLower(w)] = uint8(first + i)
	}
	if f == Plane || f == Heritage || f == PlanIrregular {
		for other, w := range answerSpellings {
			codes[other] = codes[w]
		}
	}
	return codes
}

// longestType is the length of the longest building type of ASCE 41-17 Table 3-1.
const longestType = 4

// buildingType returns the code of the system for a building type of ASCE 41-17 Table 3-1.
func buildingType(f Field, word string) (uint8, bool) {
	if f != System || len(word) > longestType {
		return 0, false
	}
	sys, err := archetypes.ParseSystem(word)
	return uint8(sys), err == nil
}
