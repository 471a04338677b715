package inventory

import (
	"fmt"
	"hash/maphash"
	"sort"
	"unicode"
)

// Admit ends a batch's way through the reader: it rejects ids used before, flags
// points and buildings seen before, and counts. Batches must come in the order
// of their Seq, from one goroutine, so that the first of two rows is the same
// with any number of workers.
func (r *Reader) Admit(b *Batch) { r.intake.admit(b, r.mapping) }

// Report returns what was read so far. It is complete once Next has returned
// io.EOF and every batch was admitted.
func (r *Reader) Report() *Report {
	r.intake.report.mapping(r.mapping, r.source.about().notes)
	return &r.intake.report
}

// An intake remembers the rows admitted so far.
type intake struct {
	next   int // Seq of the batch to come
	ids    idSet
	alike  map[uint64]int32    // line of the first id of some letters and digits
	points map[uint64]likeness // what first stood at a place, to 1e-7 degrees
	report Report
}

// A likeness is what two rows of one building have in common beside their place.
type likeness struct {
	area          float32
	year, storeys int16
	line          int32
}

func (in *intake) init() {
	in.ids.init()
	in.alike = make(map[uint64]int32)
	in.points = make(map[uint64]likeness)
}

func (in *intake) admit(b *Batch, m *mapping) {
	if b.Seq != in.next {
		panic("inventory: batches must be admitted in order")
	}
	in.next++
	kept := b.Buildings[:0]
	rejects := len(b.Rejects)
	for i := range b.Buildings {
		bl := &b.Buildings[i]
		if line, seen := in.ids.add(bl.ID, bl.Line); seen {
			b.Rejects = append(b.Rejects, m.duplicate(bl, line, ""))
			continue
		}
		in.confusable(b, bl)
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

// Duplicate returns the reject of a building whose id was used before, on a line of
// a file, "" for the register itself.
func (r *Reader) Duplicate(b *Building, line int, file string) Reject {
	return r.mapping.duplicate(b, line, file)
}

func (m *mapping) duplicate(b *Building, line int, file string) Reject {
	rj := Reject{File: m.file, Line: b.Line, ID: b.ID, Raw: b.ID, Rule: DuplicateID, Detail: fmt.Sprintf("first on line %d", line)}
	if file != "" {
		rj.Detail += " of " + file
	}
	if c := m.of[ID]; c >= 0 {
		rj.Column = m.columns[c].header
	}
	return rj
}

// place flags a building at the point of an earlier one, and one that is also
// like the first there in area, year and storeys.
func (in *intake) place(b *Batch, bl *Building) {
	key := pack(bl.Lon, bl.Lat)
	here := likeness{float32(bl.FloorArea), int16(bl.Year), int16(bl.Storeys), int32(bl.Line)}
	there, seen := in.points[key]
	if !seen {
		in.points[key] = here
		return
	}
	if there.line == here.line {
		return // parts listed on one line
	}
	in.flag(b, bl, StackedPoint, int(there.line))
	if here.line = there.line; here == there {
		in.flag(b, bl, NearDuplicate, int(there.line))
	}
}

// confusable flags an id that differs from an earlier one in case and punctuation
// only. Letters and digits are kept as 64 bits: of a million ids two others fall
// together by chance once in 37 million registers.
func (in *intake) confusable(b *Batch, bl *Building) {
	const start, prime = 14695981039346656037, 1099511628211 // FNV-1a
	h := uint64(start)
	for _, r := range bl.ID {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			h = (h ^ uint64(unicode.ToLower(r))) * prime
		}
	}
	if line, seen := in.alike[h]; seen && h != start {
		in.flag(b, bl, AlikeID, int(line))
	} else {
		in.alike[h] = int32(bl.Line)
	}
}

func (in *intake) flag(b *Batch, bl *Building, rule Rule, line int) {
	bl.Flags |= 1 << rule
	b.Findings = append(b.Findings, Finding{Line: bl.Line, ID: bl.ID, Raw: fmt.Sprintf("as line %d", line), Rule: rule})
}

// pack returns a place to 1e-7 degrees (1 cm) as one number.
func pack(lon, lat float64) uint64 {
	return uint64(uint32(int32(lon*1e7)))<<32 | uint64(uint32(int32(lat*1e7)))
}

// An idSet remembers ids exactly in little memory: their text one after the
// other, and an open-addressed table of places in it.
type idSet struct {
	seed  maphash.Seed
	text  []byte
	ends  []int   // of the ids in text
	lines []int32 // where each was seen
	table []int32 // number of an id plus 1, 0 for an empty slot; length a power of 2
}

func (s *idSet) init() {
	s.seed = maphash.MakeSeed()
	s.table = make([]int32, 64)
}

// add enters an id seen on a line. If it was there before, it returns the line
// it was first seen on.
func (s *idSet) add(id string, line int) (first int, seen bool) {
	slot := s.slot(id)
	if n := s.table[slot]; n != 0 {
		return int(s.lines[n-1]), true
	}
	s.text = append(s.text, id...)
	s.ends = append(s.ends, len(s.text))
	s.lines = append(s.lines, int32(line))
	s.table[slot] = int32(len(s.ends))
	if 4*len(s.ends) > 3*len(s.table) {
		s.grow()
	}
	return 0, false
}

// slot returns where id is in the table, or the empty slot where it belongs.
func (s *idSet) slot(id string) int {
	mask := len(s.table) - 1
	for i := int(maphash.String(s.seed, id)) & mask; ; i = (i + 1) & mask {
		n := s.table[i]
		if n == 0 || string(s.id(int(n-1))) == id {
			return i
		}
	}
}

func (s *idSet) id(n int) []byte {
	start := 0
	if n > 0 {
		start = s.ends[n-1]
	}
	return s.text[start:s.ends[n]]
}

func (s *idSet) grow() {
	s.table = make([]int32, 2*len(s.table))
	mask := len(s.table) - 1
	for n := range s.ends {
		i := int(maphash.Bytes(s.seed, s.id(n))) & mask
		for s.table[i] != 0 {
			i = (i + 1) & mask
		}
		s.table[i] = int32(n + 1)
	}
}
