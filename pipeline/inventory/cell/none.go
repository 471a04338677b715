package cell

import "strings"

// NullWords mean no value in any register, in any case.
var NullWords = []string{"<null>", "null", "n/a", "#n/a", "na", "nan", "nil", "none", "tbd", "tba",
	"unknown", "not known", "-", "--", "?"}

// NoID reports whether an id stands for none. Fewer words do than elsewhere: NA
// or 0 may be somebody's id.
func NoID(s string) bool {
	for _, w := range [...]string{"-", "--", "?", "<null>", "null", "#n/a", "n/a"} {
		if len(s) == len(w) && strings.EqualFold(s, w) {
			return true
		}
	}
	return s == ""
}

// NullNumber reports whether x is one of the numbers that stand for no value
// where no negative number makes sense (common practice, no source).
func NullNumber(x float64) bool { return x == -1 || x == -9 || x == -99 || x == -999 || x == -9999 }

// StartsCount reports whether s begins like a number that hardly ever stands for none.
func StartsCount(s string) bool { return s[0] >= '1' && s[0] <= '9' }
