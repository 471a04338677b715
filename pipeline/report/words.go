package report

import (
	"math"
	"strconv"
	"strings"
	"unicode"

	"plinth/pipeline/output"
	"plinth/pipeline/page"
	"plinth/retrofit"
)

// longestText is the largest number of characters of one text on the page. The files hold the whole
// text.
const longestText = 400

// shown returns s in a form that may stand on a page: harmless, and cut if it is very long.
func shown(s string) string {
	s = page.Harmless(s)
	n := 0
	for i := range s {
		if n++; n > longestText {
			return s[:i] + " ... (cut)"
		}
	}
	return s
}

// measureName returns a measure in plain words, with a small letter at the front.
func measureName(slug string) string {
	if slug == "" {
		return "no measure could be judged"
	}
	if d, ok := retrofit.KindOf(slug); ok {
		return d.Name
	}
	return shown(slug)
}

// upper returns s with a capital letter at the front.
func upper(s string) string {
	for i, r := range s {
		return string(unicode.ToUpper(r)) + s[i+len(string(r)):]
	}
	return s
}

// A money is the unit in which the page writes money: thousands for a stock of houses, millions for
// a stock of hospitals.
type money struct {
	unit float64
	name string // "thousand crowns"
}

func newMoney(largest float64, currency string) money {
	if currency == "" {
		currency = "of currency"
	}
	switch {
	case largest >= 1e8:
		return money{1e6, "million " + currency}
	case largest >= 1e4:
		return money{1e3, "thousand " + currency}
	}
	return money{1, currency}
}

// String returns the name of the unit.
func (m money) String() string { return m.name }

// in returns v in the unit, to two significant digits.
func (m money) in(v float64) string { return twoDigits(v / m.unit) }

// words returns a large sum in words, such as "14 million crowns".
func words(v float64, currency string) string {
	m := newMoney(math.Abs(v)*100, currency) // a million from 10^6 on
	if math.Abs(v) < 1e6 {
		m = newMoney(math.Abs(v), currency)
	}
	return m.in(v) + " " + m.name
}

// between returns the range of a large sum in words, such as "11 to 24 million crowns".
func between(low, high float64, currency string) string {
	from, to := words(low, currency), words(high, currency)
	n, unit, _ := strings.Cut(from, " ")
	if _, same, _ := strings.Cut(to, " "); same == unit {
		return n + " to " + to
	}
	return from + " to " + to
}

// twoDigits returns v to two significant digits, with commas between thousands, and a dash if it is
// not known. A screening result is good for no more digits.
func twoDigits(v float64) string { return digits(v, 2) }

// digits returns v to n significant digits in the same form.
func digits(v float64, n int) string {
	if math.IsNaN(v - v) {
		return "-"
	}
	s := strconv.FormatFloat(output.Round(v, n), 'f', -1, 64)
	whole, rest, _ := strings.Cut(s, ".")
	sign := ""
	if strings.HasPrefix(whole, "-") {
		sign, whole = "\u2212", whole[1:]
	}
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	if rest != "" {
		rest = "." + rest
	}
	return sign + whole + rest
}
