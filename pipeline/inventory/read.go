package inventory

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"plinth/pipeline/inventory/cell"
	"plinth/pipeline/page"
)

// read reads the cells of a row, each without regard to the others.
func (w *row) read() {
	if i := w.m.of[ID]; i >= 0 { // first, so that findings can name the building
		w.id = w.text(&w.m.columns[i], w.cells[i])
		if cell.NoID(w.id) {
			w.id = ""
		}
		w.id = w.partID(w.id)
	}
	for i := range w.m.columns {
		c := &w.m.columns[i]
		s := strings.TrimSpace(w.cells[i])
		if s == "" {
			continue
		}
		found := len(w.b.Findings)
		switch c.field.Spec().Kind {
		case Text:
			if c.field == ID || w.null(c, s) {
				break
			}
			if w.set(c.field, Given, byColumn); c.field == Name {
				w.name = w.text(c, s)
			} else {
				w.condition = w.text(c, s)
			}
		case Word:
			w.readWord(c, s)
		default:
			w.readNumber(c, s)
		}
		if c.field != ID && w.known(c.field) {
			w.b.given[c.field]++
		} else if slices.ContainsFunc(w.b.Findings[found:], unusable) {
			w.unused |= 1 << c.field
		}
	}
	if w.id != "" {
		w.set(ID, Given, byColumn)
		w.b.given[ID]++
	}
}

// unusable reports whether a finding means that the value of a cell was not used. A word for a missing
// value does not count.
func unusable(f Finding) bool {
	return f.Rule == NotANumber || f.Rule == OutOfRange || f.Rule == UnknownWord
}

// text returns a cell of text without blanks at its ends. It repairs text that is not UTF-8 or holds
// characters that cannot be seen. An id keeps such characters and is rejected for them, since results
// are joined by the id as it is.
func (w *row) text(c *column, s string) string {
	s = strings.TrimSpace(s)
	if !utf8.ValidString(s) {
		fixed := strings.ToValidUTF8(s, "\uFFFD")
		w.note(NotUTF8, c.header, s, fixed)
		s = fixed
	}
	if fixed := page.Legible(s); fixed != s && c.field != ID {
		w.note(UnseenCharacter, c.header, s, fixed)
		return fixed
	}
	return s
}

// null reports whether s is a word for no value, and notes it.
func (w *row) null(c *column, s string) bool {
	if cell.StartsCount(s) && !w.m.numbers {
		return false
	}
	if _, ok := w.m.null.Find(s); !ok {
		return false
	}
	w.note(NullWord, c.header, s, "")
	return true
}

// readWord reads a cell of a field of words.
func (w *row) readWord(c *column, s string) {
	code, ok := c.codes.Find(s)
	if !ok {
		if ours, mapped := c.values.Find(s); mapped && ours == "" || w.null(c, s) {
			return
		}
		if code, ok = buildingType(c.field, s); !ok {
			w.note(UnknownWord, c.header, s, "")
			return
		}
	}
	w.word[c.field] = code
	w.set(c.field, Given, byColumn)
}

// readNumber reads a cell of a number, a count or a date.
func (w *row) readNumber(c *column, s string) {
	raw := s
	if ours, ok := c.values.Find(s); ok {
		if s = ours; s == "" {
			return
		}
	} else if w.null(c, s) {
		return
	}
	spec := c.field.Spec()
	if spec.Kind == Date {
		w.readYear(c, s, raw)
		return
	}
	f, ok := cell.ParseFigure(s, w.m.decimal)
	size := c.size
	if ok && f.Unit != "" {
		size, ok = spec.Dimension.Size(f.Unit)
	}
	x := f.Value * size
	if spec.Kind == Count && x != math.Trunc(x) {
		ok = false
	}
	switch {
	case !ok && (c.field == Storeys || c.field == StoreysBelow || c.field == StoreysTotal):
		w.readStoreys(c, s, raw)
	case !ok:
		w.note(NotANumber, c.header, raw, "")
	case cell.NullNumber(f.Value) && spec.Min >= 0, x == 0 && spec.ZeroNull:
		w.note(NullNumber, c.header, raw, "")
	case !spec.holds(x) && spec.Dimension != cell.Angle: // angles are judged together
		w.note(OutOfRange, c.header, raw, "")
	default:
		w.accept(c.field, x, f.Notes, c.header, raw)
	}
}

func (w *row) readYear(c *column, s, raw string) {
	year, notes, ok := cell.ParseYear(s)
	switch {
	case !ok:
		w.note(NotANumber, c.header, raw, "")
	case notes.Has(cell.PlaceholderDate):
		w.note(PlaceholderDate, c.header, raw, "")
	case !c.field.Spec().holds(float64(year)):
		w.note(OutOfRange, c.header, raw, "")
	default:
		w.accept(c.field, float64(year), notes, c.header, raw)
	}
}

// accept sets the field to a number and notes how it was read.
func (w *row) accept(f Field, x float64, notes cell.Notes, header, raw string) {
	w.num[f] = x
	w.set(f, Given, byColumn)
	if notes.Has(cell.NotStanding) {
		w.gone = f
		return
	}
	if f == Year && w.m.effective {
		w.note(EffectiveYear, header, raw, "")
		w.set(f, Assumed, byEffective)
	}
	if notes == 0 {
		return
	}
	used := strconv.FormatFloat(x, 'g', 7, 64)
	for n, rule := range noteRules {
		if notes.Has(cell.Note(n)) {
			w.note(rule, header, raw, used)
		}
	}
	if notes.Has(cell.Approximate) || notes.Has(cell.NoSuchDate) || notes.Has(cell.Century) {
		w.set(f, Assumed, byDoubtful)
	}
}

// noteRules are the rules that fire on a value with a note.
var noteRules = [...]Rule{
	cell.Approximate: Approximate, cell.UnitInCell: UnitInCell, cell.Thousands: Thousands,
	cell.ExcelDate: ExcelDate, cell.NoSuchDate: NoSuchDate, cell.Century: Century,
}
