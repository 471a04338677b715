package inventory

import (
	"fmt"
	"sort"

	"plinth/pipeline/inventory/seen"
)

// Admit is the last step of a batch through the reader. It rejects ids that were used before, flags
// points and buildings that were seen before, and counts. One goroutine must call it with batches in
// the order of their Seq. The first of two rows is then the same with any number of workers.
func (r *Reader) Admit(b *Batch) { r.intake.admit(b, r.mapping) }

// Report returns what was read so far. It is complete once Next has returned
// io.EOF and every batch was admitted.
func (r *Reader) Report() *Report {
	r.intake.report.mapping(r.mapping, r.source.About().Notes)
	return &r.intake.report
}

// An intake remembers the rows admitted so far.
type intake struct {
	next   int // Seq of the batch to come
	ids    seen.IDs
	points seen.Ledger[seen.Likeness] // what first stood at a place, to 1e-7 degrees
	report Report
}

func (in *intake) init() { in.ids.Init() }

// forget frees the memory that grows with the register. The report stays.
func (in *intake) forget() { in.ids, in.points = seen.IDs{}, seen.Ledger[seen.Likeness]{} }

func (in *intake) admit(b *Batch, m *mapping) {
	if b.Seq != in.next {
		panic("inventory: batches must be admitted in order")
	}
	in.next++
	kept := b.Buildings[:0]
	rejects := len(b.Rejects)
	for i := range b.Buildings {
		bl := &b.Buildings[i]
		same, alike := in.ids.Add(bl.ID, bl.Line)
		if same > 0 {
			b.Rejects = append(b.Rejects, m.duplicate(bl, same, ""))
			continue
		}
		if alike > 0 {
			in.flag(b, bl, AlikeID, alike)
		}
		in.place(b, bl)
		kept = append(kept, *bl)
	}
	clear(b.Buildings[len(kept):])
	b.Buildings = kept
	if len(b.Rejects) > rejects {
		sort.SliceStable(b.Rejects, func(i, j int) bool { return b.Rejects[i].Line < b.Rejects[j].Line })
	}
	in.report.add(b)
}

// Duplicate returns the reject of a building whose id was used before. line and file say where; file
// is "" for the register itself.
func (r *Reader) Duplicate(b *Building, line int, file string) Reject {
	return r.mapping.duplicate(b, line, file)
}

func (m *mapping) duplicate(b *Building, line int, file string) Reject {
	rj := Reject{File: m.file, Line: b.Line, ID: b.ID, Raw: b.ID, Rule: DuplicateID,
		Detail: fmt.Sprintf("first on line %d", line)}
	if file != "" {
		rj.Detail += " of " + file
	}
	if c := m.of[ID]; c >= 0 {
		rj.Column = m.columns[c].header
	}
	return rj
}

// place flags a building at the point of an earlier one. It flags one that also has the area, year and
// storeys of the first building there.
func (in *intake) place(b *Batch, bl *Building) {
	key := seen.Point(bl.Lon, bl.Lat)
	here := seen.Likeness{
		Area: float32(bl.FloorArea), Year: int16(bl.Year), Storeys: int16(bl.Storeys), Line: int32(bl.Line),
	}
	there := in.points.Find(key)
	if there == nil {
		in.points.Enter(key, here)
		return
	}
	if there.Line == here.Line {
		return // parts listed on one line
	}
	in.flag(b, bl, StackedPoint, int(there.Line))
	if here.Line = there.Line; here == *there {
		in.flag(b, bl, NearDuplicate, int(there.Line))
	}
}

func (in *intake) flag(b *Batch, bl *Building, rule Rule, line int) {
	bl.Flags |= 1 << rule
	like := fmt.Sprintf("as line %d", line)
	b.Findings = append(b.Findings, Finding{Line: bl.Line, ID: bl.ID, Raw: like, Rule: rule})
}
