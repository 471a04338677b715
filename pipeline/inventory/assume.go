package inventory

import (
	"fmt"
	"maps"
	"slices"

	"plinth/pipeline/inventory/cell"
	"plinth/pipeline/inventory/fault"
)

// assumptions holds the values of [inventory.assume], by field.
type assumptions struct {
	set  [NumFields]bool
	num  [NumFields]float64
	word [NumFields]uint8
}

// assumptions reads [inventory.assume]. Numbers are in the unit we keep (m, m2,
// s) unless the value names another, such as "12 ft".
func (m *mapping) assumptions(assume map[string]string) []error {
	var errs []error
	for _, key := range slices.Sorted(maps.Keys(assume)) {
		text := assume[key]
		e := &fault.FileError{File: m.file, Key: "inventory.assume." + key, Value: text}
		f, ok := FieldBySlug(key)
		if !ok {
			e.Rule, e.Remedy = "not a field of a building", fault.DidYouMean(key, fieldSlugs())
			errs = append(errs, e)
			continue
		}
		if e.Rule, e.Remedy = m.assumption(f, text); e.Rule != "" {
			errs = append(errs, e)
		}
	}
	return errs
}

// assumption reads one value. rule says what is wrong with it, "" if it can be used.
func (m *mapping) assumption(f Field, text string) (rule, remedy string) {
	a, spec := &m.assume, f.Spec()
	switch {
	case f == ID || f == Name || f == Lon || f == Lat:
		return fmt.Sprintf("%s cannot be assumed", f), "remove the key"
	case spec.Kind == Word:
		code, ok := findCode(f, codesOf(f), text)
		if !ok {
			words, _ := wordsOf(f)
			return fmt.Sprintf("not one of our words for %s", f), fault.DidYouMean(text, words)
		}
		a.word[f] = code
	case spec.Kind == Date:
		year, notes, ok := cell.ParseYear(text)
		if !ok || notes != 0 || !spec.holds(float64(year)) {
			return "not a year", `write four digits, such as "1970"`
		}
		a.num[f] = float64(year)
	default:
		fig, ok := cell.ParseFigure(text, '.')
		size := 1.0
		if ok && fig.Unit != "" {
			size, ok = spec.Dimension.Size(fig.Unit)
		}
		x := fig.Value * size
		if !ok || !spec.holds(x) || spec.Kind == Count && x != float64(int(x)) {
			unit := first(spec.Dimension.Units())
			return "not a value this field can have",
				fmt.Sprintf("write a number from %g to %g %s", spec.Min, spec.Max, unit)
		}
		a.num[f] = x
	}
	a.set[f] = true
	return "", ""
}

// holds reports whether x is in the accepted range.
func (s *Spec) holds(x float64) bool { return x >= s.Min && x <= s.Max }
