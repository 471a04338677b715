package cell

import (
	"slices"
	"strings"
)

// centuryWords say that a number is a century's, in lower case.
var centuryWords = [...]string{
	"century", "cent", // English
	"jahrhundert", "jhdt", "jhd", "jh", // German
	"siècle", "siecle", // French
	"siglo", "secolo", "século", // Spanish, Italian, Portuguese
	"век",      // Russian
	"世紀", "世纪", // Japanese, Chinese
}

// lastCentury is the last one that ended before any code asked for strength against
// earthquakes: the first were those after Messina 1908 and in Japan 1924 (from
// memory). Of a later one the year decides, so that the century alone says nothing.
const lastCentury = 19

// parseCentury reads a century, such as 19. Jh., XIX secolo or 18th century, as the
// year in its middle. All its years are of one era of codes.
func parseCentury(lower string) (year int, ok bool) {
	rest, found := lower, false
	for _, w := range centuryWords {
		if before, after, cut := strings.Cut(rest, w); cut {
			rest, found = before+" "+after, true
			break
		}
	}
	if !found {
		return 0, false
	}
	between := func(r rune) bool { return r == ' ' || r == '.' || r == '-' }
	for _, word := range strings.FieldsFunc(rest, between) {
		n := centuryNumber(word)
		switch {
		case n == 0 && len(word) > 2 || n > 0 && year > 0:
			return 0, false
		case n > 0:
			year = 100*(n-1) + 50
		}
	}
	return year, year > 0 && year < 100*lastCentury
}

// centuryNumber reads 19, 19th, 19e or xix; 0 for none.
func centuryNumber(word string) int {
	i := 0
	for i < len(word) && word[i] >= '0' && word[i] <= '9' {
		i++
	}
	if i > 0 {
		switch word[i:] {
		case "", "th", "e", "ème", "eme", "º":
			if i <= 2 {
				return number(word[:i])
			}
		}
		return 0
	}
	word = strings.TrimSuffix(strings.TrimSuffix(word, "ème"), "e")
	if word == "" {
		return 0
	}
	return max(0, slices.Index(romanCenturies[:], word))
}

// romanCenturies are the centuries a building may be of, in lower case.
var romanCenturies = [...]string{
	10: "x", 11: "xi", 12: "xii", 13: "xiii", 14: "xiv", 15: "xv", 16: "xvi",
	17: "xvii", 18: "xviii", 19: "xix", 20: "xx", 21: "xxi",
}
