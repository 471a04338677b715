package inventory

import (
	"math"

	"github.com/paulmach/orb"
)

// A Batch is what Parse made of a Raw. It is filled in place and keeps its
// storage. Rows = len(Buildings) + len(Rejects), both in the order of the file.
type Batch struct {
	Seq       int
	Rows      int
	Buildings []Building
	Rejects   []Reject
	Findings  []Finding

	given  [NumFields]int // rows, rejected ones too, in which the register gives the field
	ratios histogram      // of height over storeys, as given
	row    row            // scratch
	text   []byte         // ids and names, one string a batch in the end
	ends   []int          // of the ids and names in text
}

func (b *Batch) reset(raw *Raw) {
	b.Seq, b.Rows = raw.Seq, raw.Rows
	clear(b.Buildings)
	clear(b.Rejects)
	clear(b.Findings)
	b.Buildings, b.Rejects, b.Findings = b.Buildings[:0], b.Rejects[:0], b.Findings[:0]
	b.given, b.ratios = [NumFields]int{}, histogram{}
	b.text, b.ends = b.text[:0], b.ends[:0]
}

// Parse turns raw rows into buildings and rejects. It is a pure function of raw:
// any number of goroutines may call it, each with a Batch of its own.
func (r *Reader) Parse(raw *Raw, b *Batch) {
	b.reset(raw)
	width := len(r.mapping.columns)
	w := &b.row
	w.r, w.m, w.b = r, r.mapping, b
	bad := raw.rejects
	for i, line := range raw.lines {
		for len(bad) > 0 && bad[0].Line < line {
			b.Rejects = append(b.Rejects, bad[0])
			bad = bad[1:]
		}
		w.begin(line, raw.cells[i*width:(i+1)*width])
		var g orb.Geometry
		if raw.shapes != nil {
			g = raw.shapes[i]
		}
		w.run(g)
	}
	b.Rejects = append(b.Rejects, bad...)
	b.settle()
	*w = row{}
}

// settle gives the buildings their ids and names, as parts of one string.
func (b *Batch) settle() {
	text := string(b.text)
	start := 0
	for i := range b.Buildings {
		mid, end := b.ends[2*i], b.ends[2*i+1]
		b.Buildings[i].ID, b.Buildings[i].Name = text[start:mid], text[mid:end]
		start = end
	}
}

// A histogram counts ratios in steps of a tenth of their natural logarithm, from
// 0.1 to 0.1 exp(8).
type histogram [80]int

func (h *histogram) add(ratio float64) {
	if i := 10 * math.Log(ratio/0.1); i >= 0 && i < float64(len(h)) {
		h[int(i)]++
	}
}
