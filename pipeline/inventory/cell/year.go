package cell

import (
	"regexp"
	"strings"
	"time"
	"unicode"
)

// ParseYear reads the year of a date written for people: 1947, 1947?, c1947,
// 1950s, 1930-35 (the first), before 1940 (1939), 20090501, 2009-05-01,
// 01/05/2009, 197506, or the day number of a spreadsheet. Dates that stand for
// none, such as 000000 and 1 January 1900, give the note PlaceholderDate.
func ParseYear(s string) (year int, notes Notes, ok bool) {
	if i := strings.IndexByte(s, '.'); i > 0 && strings.Trim(s[i+1:], "0") == "" && allDigits(s[:i]) {
		s = s[:i] // a spreadsheet's 1947.0
	}
	if allDigits(s) {
		return compactDate(s)
	}
	lower := strings.ToLower(s)
	start, second := -1, false
	for i := 0; i < len(s); {
		j := i
		for j < len(s) && s[j] >= '0' && s[j] <= '9' {
			j++
		}
		switch {
		case j-i == 4 && start < 0:
			start = i
		case j-i == 4:
			second = true
		case j-i > 4:
			return 0, 0, false
		}
		i = j + 1
	}
	if start < 0 {
		year, ok = parseCentury(lower)
		return year, 1 << Century, ok
	}
	year = number(s[start : start+4])
	if newYear1900(lower) {
		return 0, 1 << PlaceholderDate, true
	}
	if notStanding.MatchString(lower) {
		return year, 1 << NotStanding, true
	}
	if second || doubtful(lower, start) || strangeWords(lower) {
		notes |= 1 << Approximate
	}
	if noSuchDate(lower) {
		notes |= 1 << NoSuchDate
	}
	if strings.Contains(lower, "pre") || strings.Contains(lower, "before") || lower[0] == '<' {
		year--
	}
	return year, notes, true
}

// notStanding matches what says beside a year that no building stands there now: planned, at work,
// demolished.
var notStanding = regexp.MustCompile(`(?:^|[^\p{L}])(?:planned|geplant|propos|proyectad|projet[eé]|in progetto|future|` +
	`under construction|u/c|unbuilt|not built|im bau|d[eé]mol|razed|torn down|pulled down|abgerissen|` +
	`abgebrochen|abriss|rückbau|yıkıl)`)

// datePart matches the words that dates are written with: months and days of the week by how they
// begin, the letters of times and ordinals, and words that only say that a year follows.
var datePart = regexp.MustCompile(`^(?:(?:jan|feb|fév|mar|mär|mrz|apr|avr|abr|may|mai|mag|jun|jui|giu|jul|lug|` +
	`aug|aoû|ago|sep|set|oct|okt|ott|out|nov|dec|dez|déc|dic|gen|ene|mon|tue|wed|thu|fri|sat|sun)\p{L}*` +
	`|t|z|utc|gmt|am|pm|st|nd|rd|th|of|de|del|of|the|in|year|yr|built|erbaut|baujahr|bj|construction|ad|ce|s)$`)

// strangeWords reports whether a lower-case date has words that are no part of one. What they say of
// the year is not known.
func strangeWords(s string) bool {
	words := strings.FieldsFuncSeq(s, func(r rune) bool { return !unicode.IsLetter(r) })
	for w := range words {
		if !datePart.MatchString(w) {
			return true
		}
	}
	return false
}

// compactDate reads a date of digits only.
func compactDate(s string) (year int, notes Notes, ok bool) {
	if strings.Trim(s, "0") == "" {
		return 0, 1 << PlaceholderDate, true
	}
	switch len(s) {
	case 1, 2, 3, 4:
		return number(s), 0, true
	case 5: // days since 30 December 1899, as spreadsheets count
		d := number(s)
		if d < 10000 { // 1927; below, the number is more likely a slip
			return 0, 0, false
		}
		return time.Date(1899, 12, 30+d, 0, 0, 0, 0, time.UTC).Year(), 1 << ExcelDate, true
	case 6:
		return number(s[:4]), 0, number(s[4:]) <= 12
	case 8, 12, 14:
		if s[:8] == "19000101" || s[:6] == "189912" || s[:4] == "9999" {
			return 0, 1 << PlaceholderDate, true
		}
		if number(s[4:6]) <= 12 && number(s[6:8]) <= 31 {
			return number(s[:4]), 0, true
		}
		return number(s[4:8]), 0, len(s) == 8 && number(s[:2]) <= 31 && number(s[2:4]) <= 31
	}
	return 0, 0, false
}

// noSuchDate reports whether s is a date in figures whose month or day no calendar
// has, in whichever order they stand. A 0 stands for one that is not known.
func noSuchDate(s string) bool {
	if i := strings.IndexAny(s, "t "); i >= 0 { // a time behind it
		s = s[:i]
	}
	var parts [2]int
	n, years := 0, 0
	between := func(r rune) bool { return r == '-' || r == '/' || r == '.' }
	for part := range strings.FieldsFuncSeq(s, between) {
		switch {
		case !allDigits(part):
			return false
		case len(part) == 4:
			years++
			continue
		case len(part) > 2 || n == 2:
			return false
		}
		parts[n] = number(part)
		n++
	}
	low, high := min(parts[0], parts[1]), max(parts[0], parts[1])
	return years == 1 && n == 2 && (low > 12 || high > 31)
}

// newYear1900 reports whether a date is the first day spreadsheets know, or the
// day before it: both stand for an empty cell.
func newYear1900(s string) bool {
	for _, d := range [...]string{"1900-01-01", "1900/01/01", "01/01/1900", "1/1/1900", "01.01.1900",
		"01-01-1900", "1899-12-3", "12/30/1899", "9999-"} {
		if strings.Contains(s, d) {
			return true
		}
	}
	return false
}

// doubtful reports whether the lower-case date s, whose year starts at start, is
// marked as not exact: by letters before it that are no month's, or a mark behind.
func doubtful(s string, start int) bool {
	behind := s[start+4:]
	if strings.ContainsAny(s, "?~<>≈*") || strings.HasPrefix(behind, "s") || strings.HasPrefix(behind, "'s") {
		return true
	}
	for _, w := range [...]string{"circa", "ca", "c.", "pre", "post", "before", "after",
		"about", "approx", "est", "early", "late", "mid"} {
		if strings.HasPrefix(s, w) {
			return true
		}
	}
	if start > 0 && s[0] == 'c' && start == 1 {
		return true
	}
	// 1930-35: a range within a century; 1930-12 is a month.
	rest := s[start+4:]
	return len(rest) == 3 && (rest[0] == '-' || rest[0] == '/') && allDigits(rest[1:]) &&
		number(rest[1:]) > 12
}

func allDigits(s string) bool {
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return false
		}
	}
	return s != ""
}

// number returns the value of a string of a few digits.
func number(s string) int {
	n := 0
	for i := range len(s) {
		n = 10*n + int(s[i]-'0')
	}
	return n
}
