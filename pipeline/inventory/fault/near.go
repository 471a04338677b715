package fault

import (
	"sort"
	"strings"
)

// Nearest returns up to three of words most like s, the likeliest first: those
// that hold it or are held by it, then those with the most pairs of neighbouring
// letters in common (Dice 1945). Case and punctuation do not count.
func Nearest(s string, words []string) []string {
	type scored struct {
		word  string
		score float64
	}
	var found []scored
	key := Letters(s)
	for _, w := range words {
		l := Letters(w)
		score := Alike(key, l)
		if key != "" && l != "" && (strings.Contains(l, key) || strings.Contains(key, l)) {
			score += 1
		}
		if score > 0.3 {
			found = append(found, scored{w, score})
		}
	}
	sort.SliceStable(found, func(i, j int) bool { return found[i].score > found[j].score })
	var out []string
	for _, f := range found[:min(3, len(found))] {
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

// Alike returns twice the number of letter pairs that a and b share over the
// number both have: 1 for equal words, 0 for nothing in common.
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

// DidYouMean phrases the nearest words, with all of them behind.
func DidYouMean(s string, words []string) string {
	all := "there are " + Listed(words, ", ")
	if near := Nearest(s, words); len(near) > 0 {
		return "did you mean " + Listed(near, " or ") + "? " + all
	}
	return all
}
