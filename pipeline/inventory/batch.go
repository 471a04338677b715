package inventory

import (
	"math"

	"github.com/paulmach/orb"

	"plinth/pipeline/inventory/source"
)

// A Batch holds the buildings and rejects that Parse made of a Raw, in the order of the file. It is
// filled in place and keeps its storage. Rows = len(Buildings) + len(Rejects).
type Batch struct {
	Seq       int
	Rows      int
	Buildings []Building
	Rejects   []Reject
	Findings  []Finding

	given   [NumFields]int // rows, rejected ones too, in which the register gives the field
	heights histogram      // of height over storeys, as given
	areas   histogram      // of areaScale times floor area over footprint times storeys, as given
	values  histogram      // of the cube root of value over floor area, as given
	row     row            // scratch
	text    []byte         // ids and names, one string a batch in the end
	ends    []int          // of the ids and names in text
}

func (b *Batch) reset(raw *Raw) {
	b.Seq, b.Rows = raw.Seq, raw.Rows
	clear(b.Buildings)
	clear(b.Rejects)
	clear(b.Findings)
	b.Buildings, b.Rejects, b.Findings = b.Buildings[:0], b.Rejects[:0], b.Findings[:0]
	b.given, b.heights, b.areas, b.values = [NumFields]int{}, histogram{}, histogram{}, histogram{}
	b.text, b.ends = b.text[:0], b.ends[:0]
}

// Parse turns raw rows into buildings and rejects. The result depends on raw alone. Any number of
// goroutines may call it, each with a Batch of its own.
func (r *Reader) Parse(raw *Raw, b *Batch) {
	b.reset(raw)
	width := r.mapping.width
	w := &b.row
	w.r, w.m, w.b = r, r.mapping, b
	rows := &raw.split
	bad := rows.Bad
	for i, line := range rows.Lines {
		for len(bad) > 0 && bad[0].Line < line {
			b.Rejects = append(b.Rejects, r.mapping.unsplit(&bad[0]))
			bad = bad[1:]
		}
		w.begin(line, rows.Cells[i*width:(i+1)*width])
		if len(raw.shares) > 0 {
			w.share = raw.shares[i]
		}
		var g orb.Geometry
		if len(rows.Shapes) > 0 {
			g = rows.Shapes[i]
		}
		w.run(g)
	}
	for i := range bad {
		b.Rejects = append(b.Rejects, r.mapping.unsplit(&bad[i]))
	}
	b.settle()
	*w = row{}
}

// faultRules are the rules that reject a row which a source could not split.
var faultRules = [...]Rule{source.Ragged: RaggedRow, source.BrokenQuote: BrokenQuote,
	source.BadFeature: BadFeature}

// unsplit returns the reject of a row which a source could not split.
func (m *mapping) unsplit(bad *source.Bad) Reject {
	return Reject{File: m.file, Line: bad.Line, Raw: bad.Raw, Rule: faultRules[bad.Fault], Detail: bad.Detail}
}

// settle gives the buildings their ids, names and conditions. All of them are parts of one string, so
// that a batch allocates once.
func (b *Batch) settle() {
	text := string(b.text)
	start := 0
	for i := range b.Buildings {
		bl, ends := &b.Buildings[i], b.ends[4*i:4*i+4]
		bl.ID, bl.Name, bl.Condition = text[start:ends[0]], text[ends[0]:ends[1]], text[ends[1]:ends[2]]
		bl.Group = text[ends[2]:ends[3]]
		start = ends[3]
	}
}

// A histogram counts ratios in steps of a tenth of their natural logarithm, from
// 0.1 to 0.1 exp(8).
type histogram [80]int

// areaScale is the factor that puts ratios of areas in the middle of a histogram.
const areaScale = 10

func (h *histogram) add(ratio float64) {
	if i := 10 * math.Log(ratio/0.1); i >= 0 && i < float64(len(h)) {
		h[int(i)]++
	}
}
