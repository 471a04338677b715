package inventory

import (
	"math"
	"strings"

	"github.com/paulmach/orb"

	"plinth/archetypes"
	"plinth/hazard"
	"plinth/pipeline/inventory/fault"
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
	gone      Field // of a year, whose cell says that the building does not stand; 0 for none
}

// begin makes the row ready for the cells of a line.
func (w *row) begin(line int, cells []string) {
	w.line, w.cells, w.id, w.name, w.condition = line, cells, "", "", ""
	w.share, w.touching, w.flags, w.unused, w.drawn, w.unread, w.gone = share{of: 1}, -1, 0, 0, false, 0, 0
	w.word, w.origin, w.way = [NumFields]uint8{}, [NumFields]Origin{}, [NumFields]Way{}
	for f := range w.num {
		w.num[f] = math.NaN()
	}
}

// run takes the row through its stages: read, locate, clean, fill, require, grade. It ends at the stage
// that rejects the row.
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

func (w *row) set(f Field, o Origin, way Way) { w.origin[f], w.way[f] = o, way }

// known reports whether the field has a value.
func (w *row) known(f Field) bool { return w.origin[f] != Absent }

// drop removes a value that is not believed.
func (w *row) drop(f Field) {
	w.num[f], w.word[f] = math.NaN(), 0
	w.set(f, Absent, noWay)
	w.unused |= 1 << f
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

// reject marks the row as rejected. It returns false, for its callers to return.
func (w *row) reject(rule Rule, f Field, detail string) bool {
	header, raw := w.source(f)
	w.b.Rejects = append(w.b.Rejects, Reject{File: w.m.file, Line: w.line, ID: w.id, Column: header, Raw: raw,
		Rule: rule, Detail: detail})
	return false
}

// count returns the value of a field as a whole number, or unknown if it has none.
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
		ClassifiedYear: w.count(ClassifiedYear, 0),
		Storeys:        w.count(Storeys, -1), StoreysBelow: w.count(StoreysBelow, -1),
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
	b.text = append(b.text, w.group()...)
	b.ends = append(b.ends, len(b.text))
}
