package cell

import (
	"cmp"
	_ "embed"
	"encoding/csv"
	"fmt"
	"slices"
	"strings"
)

// storeyWordsCSV is the table of words, by language. North America calls the storey at
// ground level the first and counts it: "4 stories" are four above ground. Most of
// Europe, Asia and Latin America number from the one above it: G+4, R+4 and EG+4 are
// five. A word that counts only the upper ones (OG, étages, pisos) is read beside a
// ground word alone: by itself it may or may not leave the ground storey out. Usage of
// each language is common practice, no source.
//
//go:embed storey_words.csv
var storeyWordsCSV string

// A storeyClass says what a word does in a count of storeys.
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

	numStoreyClasses
)

var storeyClassWords = [numStoreyClasses]string{
	aStorey: "storey", theGround: "ground", groundOrRoof: "ground or roof", anUpper: "upper",
	anAbove: "above", aBasement: "basement", aRoof: "roof", aMezzanine: "mezzanine", aNumber: "number",
	aJoint: "joint", aSpan: "range",
}

// A storeyWord is one word of the notations of storeys.
type storeyWord struct {
	word   string // in lower case
	class  storeyClass
	number int  // of aNumber
	behind bool // may stand behind "4 floors" and say where they are
}

// storeyWords are the words, longer ones before those they begin with.
var storeyWords = readStoreyWords(StoreyRows())

// StoreyRows returns the rows of the table without their header: language, what, words.
func StoreyRows() [][]string {
	rows, err := csv.NewReader(strings.NewReader(storeyWordsCSV)).ReadAll()
	if err != nil {
		panic("inventory: embedded table of storey words: " + err.Error())
	}
	return rows[1:]
}

func readStoreyWords(rows [][]string) (out []storeyWord) {
	for _, row := range rows {
		what, behind := strings.CutSuffix(row[1], " behind")
		w := storeyWord{behind: behind}
		if n, _ := fmt.Sscanf(what, "number %d", &w.number); n == 1 {
			what = "number"
		}
		if w.class = storeyClass(slices.Index(storeyClassWords[:], what)); w.class == ^storeyClass(0) {
			panic("inventory: embedded table of storey words has no " + what)
		}
		for w.word = range strings.SplitSeq(row[2], "|") {
			out = append(out, w)
		}
	}
	slices.SortStableFunc(out, func(a, b storeyWord) int { return cmp.Compare(len(b.word), len(a.word)) })
	return out
}
