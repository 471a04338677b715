package propose

import (
	"cmp"
	_ "embed" // the names
	"encoding/csv"
	"slices"
	"sort"
	"strings"

	"plinth/pipeline/inventory"
	"plinth/pipeline/inventory/cell"
)

//go:embed column_words.csv
var namesTable string

//go:embed cell_words.csv
var wordsTable string

// names are the names of columns by field, without their punctuation. Common practice, no
// source.
var names = func() map[inventory.Field][]string {
	out := map[inventory.Field][]string{}
	for _, r := range records(namesTable) {
		f, _ := inventory.FieldBySlug(r[0])
		for _, n := range strings.Fields(r[1]) {
			out[f] = append(out[f], strings.ReplaceAll(n, "-", ""))
		}
	}
	return out
}()

// meanings are our words by field and the word of an owner. Common practice, no source.
var meanings = func() map[inventory.Field]map[string]string {
	out := map[inventory.Field]map[string]string{}
	for _, r := range records(wordsTable) {
		f, _ := inventory.FieldBySlug(r[0])
		if out[f] == nil {
			out[f] = map[string]string{}
		}
		for _, w := range strings.Split(r[2], ";") {
			out[f][w] = r[1]
		}
	}
	return out
}()

func records(text string) [][]string {
	r, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		panic("propose: an embedded table cannot be read")
	}
	return r[1:]
}

// A fit says how well a column fits a field.
type fit struct {
	field  inventory.Field
	column int
	score  float64
	named  bool
}

// columns returns the column of each field, the best fits first served.
func (t *table) columns() []fit {
	var fits []fit
	for at, header := range t.header {
		for f := range inventory.Field(inventory.NumFields) {
			if t.frame.Drawn && (f == inventory.Lon || f == inventory.Lat) {
				continue
			}
			name, values := named(f, header), t.values(f, at)
			word := f.Spec().Kind == inventory.Word
			if name == 0 && !(word && values >= 0.6 && len(f.Words()) > 6) || name > 0 && !word && values < 0.5 {
				continue
			}
			fits = append(fits, fit{f, at, name + 0.1*values, name > 0})
		}
	}
	sort.SliceStable(fits, func(i, j int) bool { return fits[i].score > fits[j].score })
	var taken []fit
	for _, c := range fits {
		if !slices.ContainsFunc(taken, func(o fit) bool { return o.field == c.field || o.column == c.column }) {
			taken = append(taken, c)
		}
	}
	if !slices.ContainsFunc(taken, func(o fit) bool { return o.field == inventory.ID }) {
		for at := range t.header {
			free := !slices.ContainsFunc(taken, func(o fit) bool { return o.column == at })
			if free && t.header[at] != "" && t.values(inventory.ID, at) == 1 {
				taken = append(taken, fit{inventory.ID, at, 0, false})
				break
			}
		}
	}
	slices.SortFunc(taken, func(a, b fit) int { return cmp.Compare(a.field, b.field) })
	return taken
}

// named returns 1 if a header is a name of the field, with a unit at its end or without, a
// share of it if the name is one of its words, and 0 else.
func named(f inventory.Field, header string) float64 {
	words, _ := split(f, header)
	whole := strings.Join(words, "")
	best := 0.0
	for _, n := range append(names[f], strings.ReplaceAll(f.String(), "_", "")) {
		if n == whole {
			return 1
		}
		if slices.Contains(words, n) && len(n) > 3 {
			best = max(best, 0.5*float64(len(n))/float64(len(whole)))
		}
	}
	return best
}

// split returns the words of a header in small letters, without the unit at its end.
func split(f inventory.Field, header string) (words []string, unit string) {
	header = strings.ToLower(header)
	words = strings.FieldsFunc(header, func(r rune) bool { return strings.ContainsRune(" _-./()[],:;#\n\t", r) })
	for n := min(2, len(words)-1); n > 0; n-- {
		last := strings.Join(words[len(words)-n:], " ")
		if last == "qm" {
			last = "m2"
		}
		if _, ok := f.Spec().Dimension.Size(last); ok && f.Spec().Dimension != cell.Ratio && last != "1" {
			return words[:len(words)-n], last
		}
	}
	return words, ""
}

// values returns the share of the filled cells of a column that a field can have, 1 for a
// column without any that has a name.
func (t *table) values(f inventory.Field, at int) float64 {
	good, filled := 0, 0
	seen := map[string]bool{}
	for _, c := range t.cells[at] {
		if t.null(c) && f != inventory.ID {
			continue
		}
		filled++
		if f == inventory.ID {
			if c != "" && !seen[c] {
				good++
			}
			seen[c] = true
		} else if t.holds(f, c) {
			good++
		}
	}
	if filled == 0 {
		return 0
	}
	return float64(good) / float64(filled)
}

// holds reports whether a cell may be one of a field.
func (t *table) holds(f inventory.Field, c string) bool {
	spec := f.Spec()
	switch spec.Kind {
	case inventory.Text:
		return true
	case inventory.Word:
		ours, _ := meaning(f, c)
		return ours != ""
	case inventory.Date:
		year, _, ok := cell.ParseYear(c)
		return ok && float64(year) >= spec.Min && float64(year) <= spec.Max
	}
	x, ok := t.figure(c)
	if f == inventory.Lon || f == inventory.Lat {
		return ok && x >= -180 && x <= 180 && x != float64(int(x))
	}
	if f == inventory.Storeys || f == inventory.StoreysBelow {
		return !ok || x >= 0 && x <= spec.Max // notations of storeys are read by check
	}
	return ok && x >= 0 && (spec.Max <= spec.Min || x <= 20*spec.Max)
}

// figure returns the number that a cell holds.
func (t *table) figure(c string) (float64, bool) {
	mark := byte('.')
	if t.inv.Decimal == "," {
		mark = ','
	}
	f, ok := cell.ParseFigure(c, mark)
	return f.Value, ok
}

// meaning returns our word for an owner's, "" if there is none that is plain, and whether the
// program reads the word as it is.
func meaning(f inventory.Field, word string) (ours string, asItIs bool) {
	if f.Reads(word) {
		return word, true
	}
	return meanings[f][strings.ToLower(word)], false
}
