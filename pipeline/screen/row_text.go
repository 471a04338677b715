package screen

import (
	"math"
	"strconv"

	"plinth/pipeline/assess"
	"plinth/pipeline/inventory"
	"plinth/pipeline/output"
	"plinth/retrofit"
)

// A textBuffer builds the texts of rows in storage that it uses again.
type textBuffer struct{ b []byte }

func (t *textBuffer) reset() { t.b = t.b[:0] }

// assumed lists the fields that were filled by a rule.
func (t *textBuffer) assumed(b *inventory.Building) string {
	t.reset()
	for f := range inventory.Field(inventory.NumFields) {
		replaced := b.Unused.Has(f) && b.Origin[f] != inventory.Absent
		if b.Origin[f] == inventory.Assumed || replaced {
			t.separate("; ")
			t.b = append(t.b, f.String()...)
		}
		if replaced {
			t.b = append(t.b, " (the cell was not used)"...)
		}
	}
	return string(t.b)
}

// whyNot returns one line that says, for each measure but the best, why it is barred or
// doubtful.
func (t *textBuffer) whyNot(a *assess.Assessment) string {
	t.reset()
	if !a.SlopeKnown() {
		t.b = append(t.b, "Nothing is chosen: one return period does not say what a year costs; give more, "+
			"or hazard.k"...)
	}
	for i := range a.Options {
		o := &a.Options[i]
		switch {
		case o == a.Best():
		case o.CostsLives(&a.Before):
			t.separate("; ")
			t.b = append(t.b, "Not "...)
			d, _ := retrofit.KindOf(o.Measure.Slug())
			t.b = append(t.b, d.Name...)
			t.b = append(t.b, ": by these numbers more people would die with it than as the building "+
				"stands"...)
		case o.Short && !a.Choosable(o):
			t.separate("; ")
			d, _ := retrofit.KindOf(o.Measure.Slug())
			t.b = append(append(append(t.b, "Not "...), d.Name...), ": it falls short of the target of the plan"...)
		case o.Verdict != retrofit.Clear:
			t.separate("; ")
			t.b = o.AppendReason(t.b)
		}
	}
	return string(t.b)
}

// design returns the sizes of a measure in one line.
func (t *textBuffer) design(o *assess.Option) string {
	t.reset()
	for i := range o.Sized {
		q := &o.Sized[i]
		if math.IsNaN(q.Value) {
			continue
		}
		t.separate("; ")
		t.b = append(t.b, q.Name...)
		t.b = append(t.b, ' ')
		t.b = strconv.AppendFloat(t.b, output.Round(q.Value, 3), 'g', -1, 64)
		if q.Unit != "" {
			t.b = append(t.b, ' ')
			t.b = append(t.b, q.Unit...)
		}
	}
	return string(t.b)
}

func (t *textBuffer) reason(o *assess.Option) string {
	t.b = o.AppendReason(t.b[:0])
	return string(t.b)
}

func (t *textBuffer) finding(f *retrofit.Finding) string {
	t.b = f.AppendText(t.b[:0])
	return string(t.b)
}

func (t *textBuffer) separate(by string) {
	if len(t.b) > 0 {
		t.b = append(t.b, by...)
	}
}
