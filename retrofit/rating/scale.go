package rating

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/floats/scalar"
)

// Caution must accompany every rating.
const Caution = "screening estimate, not an assessment by the rule; the rule asks a qualified assessor"

// Scale is a published way of rating a building.
type Scale uint8

// The scales.
const (
	ASCE41     Scale = iota // limit state met at the design level
	NZSPercent              // percentage of new-building demand
	DM58                    // Italian risk class
	JapanIndex              // seismic index over the required index
	NumScales
)

var scaleSlugs = [NumScales]string{"asce-41", "nzs-percent", "dm-58-2017", "japan-index"}

// String returns the slug.
func (s Scale) String() string { return scaleSlugs[s] }

// Parse returns the scale with the given slug.
func Parse(slug string) (Scale, error) {
	for s := range NumScales {
		if scaleSlugs[s] == slug {
			return s, nil
		}
	}
	return 0, fmt.Errorf("scale %q is not one of %s", slug, strings.Join(scaleSlugs[:], ", "))
}

// Rating is a place on a scale: the band in words and a number for sorting, to two significant
// figures.
type Rating struct {
	Band  string
	Value float64
	Risk  Risk // of the Italian class alone
}

// Pair is the rating of a building on one scale as it stands and with a measure.
type Pair struct{ Before, After Rating }

// none returns the rating of a building that cannot be rated.
func none() Rating {
	nan := math.NaN()
	return Rating{Value: nan, Risk: Risk{PAM: nan, ISV: nan}}
}

// Band is one row of the table of scales.
type Band struct {
	Scale, Part, Name, Comparison string
	Bound                         float64 // NaN for the band of all remaining values
	Effective                     string  // date, or year of issue, from which the rule applies
	Source                        string
}

//go:embed scales.csv
var scalesCSV string

var table = read(scalesCSV)

// read parses the table. It panics on a fault, since the table is embedded.
func read(text string) [NumScales]map[string][]Band {
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		panic("rating: embedded scales: " + err.Error())
	}
	var out [NumScales]map[string][]Band
	for _, c := range rows[1:] {
		s, err := Parse(c[0])
		bound := math.NaN()
		if err == nil && c[3] != "else" {
			bound, err = strconv.ParseFloat(c[4], 64)
		}
		if err != nil {
			panic("rating: embedded scales: " + err.Error())
		}
		if out[s] == nil {
			out[s] = make(map[string][]Band)
		}
		out[s][c[1]] = append(out[s][c[1]], Band{c[0], c[1], c[2], c[3], bound, c[5], c[6]})
	}
	return out
}

// Bands returns the bands of a part of a scale, best first. The list is shared; do not change
// it.
func (s Scale) Bands(part string) []Band { return table[s][part] }

// Version returns the rule that the scale follows and the date from which it applies.
func (s Scale) Version() string {
	for _, part := range [...]string{"ratio", "percent", "pam"} {
		if b := s.Bands(part); len(b) > 0 {
			return b[0].Source + "; effective " + b[0].Effective
		}
	}
	panic("rating: scale without bands")
}

// takes reports whether v falls in the band, if it is in none of the bands before.
func (b *Band) takes(v float64) bool {
	switch b.Comparison {
	case "at-most":
		return v <= b.Bound
	case "at-least":
		return v >= b.Bound
	case "above":
		return v > b.Bound
	}
	return true
}

// place returns the index of the band of v; the best is 0.
func place(bands []Band, v float64) int {
	for i := range bands {
		if bands[i].takes(v) {
			return i
		}
	}
	panic("rating: a part of a scale without a last band")
}

// figures rounds a positive v to two significant figures, the most that screening supports.
func figures(v float64) float64 {
	return scalar.Round(v, 1-int(math.Floor(math.Log10(v))))
}
