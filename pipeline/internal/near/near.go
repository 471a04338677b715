// Package near finds which known word was meant by one that is not known: a key of a plan, a
// column of a register.
package near

import (
	"sort"
	"strings"
)

// Words returns up to n of words most like s, the likeliest first. A word counts by its pairs of
// letters (Alike) or a slip of the pen, and by the share of the longer word that the shorter is, if
// one holds the other. Case and punctuation do not count. That 0.3 is like enough is judgement.
func Words(s string, words []string, n int) []string {
	type scored struct {
		word  string
		score float64
	}
	var found []scored
	key := Letters(s)
	for _, w := range words {
		l := Letters(w)
		score := max(Alike(key, l), slip(key, l))
		if key != "" && l != "" && (strings.Contains(l, key) || strings.Contains(key, l)) {
			score += float64(min(len(key), len(l))) / float64(max(len(key), len(l)))
		}
		if score > 0.3 {
			found = append(found, scored{w, score})
		}
	}
	sort.SliceStable(found, func(i, j int) bool { return found[i].score > found[j].score })
	var out []string
	for _, f := range found[:min(n, len(found))] {
		out = append(out, f.word)
	}
	return out
}

// Letters returns s in lower case without anything but letters and digits.
func Letters(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r >= 'A' && r <= 'Z':
			return r + 'a' - 'A'
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9', r >= 0x80:
			return r
		}
		return -1
	}, s)
}

// Alike returns twice the number of pairs of neighbouring letters that a and b share over the
// number both have (Dice 1945): 1 for equal words, 0 for nothing in common.
func Alike(a, b string) float64 {
	if len(a) < 2 || len(b) < 2 {
		return 0
	}
	pairs := make(map[string]int)
	for i := range len(a) - 1 {
		pairs[a[i:i+2]]++
	}
	shared := 0
	for i := range len(b) - 1 {
		if pairs[b[i:i+2]] > 0 {
			pairs[b[i:i+2]]--
			shared++
		}
	}
	return 2 * float64(shared) / float64(len(a)+len(b)-2)
}

// slip returns how alike two words are that one slip of the pen in four letters tells apart: 1
// less the edits over the letters of the longer. It returns 0 for others. Two neighbours that
// changed places, of which pairs of letters see nothing in a short word, are one slip.
func slip(a, b string) float64 {
	d := edits(a, b)
	if d > max(1, len(a)/4) || a == "" || b == "" {
		return 0
	}
	return 1 - float64(d)/float64(max(len(a), len(b)))
}

// edits returns the number of letters put in, left out, changed or swapped with a neighbour that
// lead from a to b (Damerau 1964, no letter edited twice).
func edits(a, b string) int {
	rows := make([][]int, len(a)+1)
	for i := range rows {
		rows[i] = make([]int, len(b)+1)
		rows[i][0] = i
	}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(a); i++ {
		for j := 1; j <= len(b); j++ {
			changed := rows[i-1][j-1]
			if a[i-1] != b[j-1] {
				changed++
			}
			rows[i][j] = min(rows[i-1][j]+1, rows[i][j-1]+1, changed)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				rows[i][j] = min(rows[i][j], rows[i-2][j-2]+1)
			}
		}
	}
	return rows[len(a)][len(b)]
}
