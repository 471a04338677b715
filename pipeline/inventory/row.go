package inventory

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/paulmach/orb"

	"plinth/archetypes"
	"plinth/hazard"
	"plinth/pipeline/inventory/cell"
	"plinth/pipeline/inventory/fault"
	"plinth/pipeline/page"
	"plinth/retrofit"
)

// A row is one row of the register while it is read, cleaned and filled.
type row struct {
	r *Reader
	m *mapping
	b *Batch

	line      int
	cells     []string // of the mapped columns
	id        string
	name      string
	condition string
	share     share              // of a building whose parts are listed
	num       [NumFields]float64 // NaN where not known
	word      [NumFields]uint8
	origin    [NumFields]Origin
	way       [NumFields]Way
	touching  int
	flags     RuleSet
	unused    FieldSet
	drawn     bool  // the place comes from a geometry
	unread    Field // of storeys, whose cell says a number that cannot be read; 0 for none
}

// begin makes the row ready for the cells of a line.
func (w *row) begin(line int, cells []string) {
	w.line, w.cells, w.id, w.name, w.condition = line, cells, "", "", ""
	w.share, w.touching, w.flags, w.unused, w.drawn, w.unread = share{of: 1}, -1, 0, 0, false, 0
	w.word, w.origin, w.way = [NumFields]uint8{}, [NumFields]Origin{}, [NumFields]Way{}
	for f := range w.num {
		w.num[f] = math.NaN()
	}
}

// run takes the row through its stages: read, locate, clean, fill, require,
// grade. A stage that rejects it ends its way.
func (w *row) run(g orb.Geometry) {
	w.read()
	w.divide()
	w.outline(g)
	if !w.identified() || !w.located() || !w.cleaned() {
		return
	}
	if w.r.survey != nil {
		w.r.survey.count(w)
		return
	}
	w.beside()
	w.fill()
	if !w.complete() {
		return
	}
	w.keep()
}

// read understands every cell by itself.
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

func (w *row) set(f Field, o Origin, way Way) { w.origin[f], w.way[f] = o, way }

// known reports whether the field has a value.
func (w *row) known(f Field) bool { return w.origin[f] != Absent }

// drop forgets a value that is not believed.
func (w *row) drop(f Field) {
	w.num[f], w.word[f] = math.NaN(), 0
	w.set(f, Absent, noWay)
	w.unused |= 1 << f
}

// unusable reports whether a finding says that a cell has a value which was not used, other
// than one that stands for none.
func unusable(f Finding) bool {
	return f.Rule == NotANumber || f.Rule == OutOfRange || f.Rule == UnknownWord
}

// text returns a cell of text without blanks at its ends, repaired if it is not UTF-8 or
// holds what nobody can see. An id keeps the latter, and is rejected for it: results are
// joined by it, as it is.
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

// accept takes a number, noting how it was read.
func (w *row) accept(f Field, x float64, notes cell.Notes, header, raw string) {
	w.num[f] = x
	w.set(f, Given, byColumn)
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

// note records that a rule fired.
func (w *row) note(rule Rule, column, raw, used string) {
	w.flags |= 1 << rule
	w.b.Findings = append(w.b.Findings, Finding{Line: w.line, ID: w.id, Column: column, Raw: raw, Used: used,
		Rule: rule})
}

// noteField records that a rule fired on a field.
func (w *row) noteField(rule Rule, f Field, used string) {
	header, raw := w.source(f)
	w.note(rule, header, raw, used)
}

// source returns the column and cell a field was read from.
func (w *row) source(f Field) (header, raw string) {
	if i := w.m.of[f]; i >= 0 {
		return w.m.columns[i].header, fault.Clip(strings.TrimSpace(w.cells[i]))
	}
	return "", ""
}

// reject ends the row's way. It returns false for its callers to return.
func (w *row) reject(rule Rule, f Field, detail string) bool {
	header, raw := w.source(f)
	w.b.Rejects = append(w.b.Rejects, Reject{File: w.m.file, Line: w.line, ID: w.id, Column: header, Raw: raw,
		Rule: rule, Detail: detail})
	return false
}

// count returns a whole number, or unknown.
func (w *row) count(f Field, unknown int) int {
	if !w.known(f) {
		return unknown
	}
	return int(w.num[f])
}

// keep appends the row to the batch's buildings.
func (w *row) keep() {
	w.ground()
	b := w.b
	b.Buildings = append(b.Buildings, Building{
		Line: w.line, Lon: w.num[Lon], Lat: w.num[Lat],
		Year: w.count(Year, 0), YearStrengthened: w.count(YearStrengthened, 0),
		Storeys: w.count(Storeys, -1), StoreysBelow: w.count(StoreysBelow, -1),
		Height: w.num[Height], FloorArea: w.num[FloorArea], Footprint: w.num[Footprint],
		Length: w.num[Length], Width: w.num[Width], Gap: w.num[Gap], Touching: w.touching,
		System: archetypes.System(w.word[System]), Profile: archetypes.Profile(w.word[Profile]),
		SiteClass: hazard.SiteClass(w.word[SiteClass]), SitePeriod: w.num[SitePeriod], Vs30: w.num[Vs30],
		FaultDistance: w.num[FaultDistance],
		Use:           Use(w.word[UseField]), Contents: retrofit.Contents(w.word[Contents]),
		Plane: retrofit.Answer(w.word[Plane]), Heritage: retrofit.Answer(w.word[Heritage]),
		PlanIrregular: retrofit.Answer(w.word[PlanIrregular]),
		OccupantsDay:  w.num[OccupantsDay], OccupantsNight: w.num[OccupantsNight], Value: w.num[Value],
		Period: w.num[Period], StrengthRatio: w.num[StrengthRatio],
		Origin: w.origin, Flags: w.flags, Unused: w.unused, way: w.way,
	})
	bl := &b.Buildings[len(b.Buildings)-1]
	bl.Score, bl.Grade = grade(bl)
	b.text = append(b.text, w.id...)
	b.ends = append(b.ends, len(b.text))
	b.text = append(b.text, w.name...)
	b.ends = append(b.ends, len(b.text))
	b.text = append(b.text, w.condition...)
	b.ends = append(b.ends, len(b.text))
}
