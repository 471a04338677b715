package inventory

import (
	"fmt"
	"sort"
	"strings"
	"unicode"

	"plinth/pipeline/internal/near"
)

// Bounds on the unmapped words that a report keeps. A column of free text must not fill the memory.
const (
	maxWords     = 1000 // distinct words a column
	longestWord  = 200  // bytes of a word
	closeEnough  = 0.6  // least share of letter pairs of a suggestion (judgement)
	leastTelling = 4    // least letters of a word that a suggestion holds (judgement)
)

// A WordCount is an unmapped word and the number of cells that hold it.
type WordCount struct {
	Word  string `json:"word"`
	Cells int    `json:"cells"`
	Ours  string `json:"suggestion"` // the only one of our words that is close, "" if there is none
}

// A vocabulary counts the unmapped words of a column. It keeps a number of words: those that come first
// in the order of their bytes. A word that was dropped once is never taken up again. Every count is
// therefore whole, and parts of a register merge in any order.
type vocabulary struct {
	words []WordCount // by word
	cells int         // all of them
}

// count adds cells of a word.
func (v *vocabulary) count(word string, cells int) {
	v.cells += cells
	if len(word) <= longestWord {
		v.keep(word, cells)
	}
}

func (v *vocabulary) keep(word string, cells int) {
	i := sort.Search(len(v.words), func(i int) bool { return v.words[i].Word >= word })
	if i < len(v.words) && v.words[i].Word == word {
		v.words[i].Cells += cells
		return
	}
	if i == maxWords {
		return
	}
	if len(v.words) == maxWords {
		v.words = v.words[:maxWords-1]
	}
	v.words = append(v.words, WordCount{})
	copy(v.words[i+1:], v.words[i:])
	v.words[i] = WordCount{Word: strings.Clone(word), Cells: cells}
}

// merge adds the counts of another part of the column.
func (v *vocabulary) merge(o *vocabulary) {
	v.cells += o.cells
	for _, w := range o.words {
		v.keep(w.Word, w.Cells)
	}
}

// An Unmapped lists the words of a column that are not mapped.
type Unmapped struct {
	Field  string      `json:"field"`
	Column string      `json:"column"`
	Cells  int         `json:"cells"`
	Words  []WordCount `json:"words"`       // most frequent first
	Rest   int         `json:"rest_cells"`  // cells of words that are not listed
	Ours   []string    `json:"words_known"` // what they may be mapped to

	mapped bool // the plan has the table that the words belong to
}

// Unmapped returns the unmapped words of each column, in the order of the fields.
func (r *Report) Unmapped() []Unmapped {
	out := []Unmapped{}
	for f := range Field(NumFields) {
		v := r.words[r.headers[f]]
		if v == nil || r.headers[f] == "" || f.Spec().Kind != Word {
			continue
		}
		ours, _ := wordsOf(f)
		u := Unmapped{Words: []WordCount{}, Field: f.String(), Column: r.headers[f], Cells: v.cells, Rest: v.cells, Ours: ours, mapped: r.mapped[f]}
		u.Words = append(u.Words, v.words...)
		for i := range u.Words {
			u.Words[i].Ours = suggestion(u.Words[i].Word, ours)
			u.Rest -= u.Words[i].Cells
		}
		sort.SliceStable(u.Words, func(i, j int) bool { return u.Words[i].Cells > u.Words[j].Cells })
		out = append(out, u)
	}
	return out
}

// suggestion returns our word that has the same letters, or else the only one of ours that is close to
// word. It returns "" if none is close, or several are.
func suggestion(word string, ours []string) string {
	found, key := "", near.Letters(word)
	for _, o := range ours {
		l := near.Letters(o)
		if l == key {
			return o
		}
		held := len(key) >= leastTelling && strings.Contains(l, key) ||
			len(l) >= leastTelling && strings.Contains(key, l)
		if !held && near.Alike(key, l) < closeEnough {
			continue
		}
		if found != "" {
			return ""
		}
		found = o
	}
	return found
}

// TOML returns lines of a plan that map at most most of the words. No line is wider than width. Comments
// list the words they may be mapped to and the number that were left out.
func (u *Unmapped) TOML(most, width int) []string {
	head := fmt.Sprintf("[inventory.values.%s]", u.Field)
	if u.mapped { // a table stands once in a plan
		head = "# under the line " + head + " that the plan has:"
	}
	lines := []string{head}
	comment := "#"
	for i, ours := range u.Ours {
		if i < len(u.Ours)-1 {
			ours += ","
		}
		if len(comment)+1+len(ours) > width {
			lines, comment = append(lines, comment), "#"
		}
		comment += " " + ours
	}
	lines = append(lines, comment)
	listed := 0
	for _, w := range u.Words {
		line := fmt.Sprintf("%s = %q  # %d", QuoteTOML(w.Word), w.Ours, w.Cells)
		if listed == most {
			break
		}
		if len([]rune(line)) <= width {
			lines, listed = append(lines, line), listed+1
		}
	}
	if left := len(u.Words) - listed; left > 0 {
		lines = append(lines, fmt.Sprintf("# and %d more of the column's words; check --json lists them",
			left))
	}
	if u.Rest > 0 {
		lines = append(lines, fmt.Sprintf("# and %d cells of words too long or too many to list", u.Rest))
	}
	return lines
}

// QuoteTOML returns s as a basic string of TOML v1.0.0. Characters that cannot be seen are escaped.
func QuoteTOML(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case unicode.IsPrint(r):
			b.WriteRune(r)
		default:
			fmt.Fprintf(&b, "\\U%08X", r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
