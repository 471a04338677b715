package screen

import (
	"cmp"
	"encoding/binary"
	"math"
	"slices"
	"strings"
	"sync"

	"plinth/pipeline/assess"
	"plinth/pipeline/output"
	"plinth/retrofit"
)

// The verdicts of a building are one record: its id, preceded by its length as a varint, and
// for each rule that is not clear the numbers of measure, rule and verdict, one byte each, and
// the two values compared, eight bytes each. Text is generated when rows are written; carried
// through the sorter it would be most of the bytes.
const findingSize = 3 + 2*8

// A ruleIndex numbers the measures, and the rules in the order of their names.
type ruleIndex struct {
	measures []*retrofit.Kind
	rules    []*retrofit.Rule
	numberOf map[*retrofit.Rule]byte
}

var ruleNumbers = sync.OnceValue(func() *ruleIndex {
	k := &ruleIndex{measures: retrofit.Kinds(), numberOf: make(map[*retrofit.Rule]byte)}
	for i := range retrofit.DefaultRules() {
		k.rules = append(k.rules, &retrofit.DefaultRules()[i])
	}
	slices.SortFunc(k.rules, func(a, b *retrofit.Rule) int { return strings.Compare(a.Name, b.Name) })
	for i, r := range k.rules {
		k.numberOf[r] = byte(i)
	}
	if len(k.rules) > math.MaxUint8 || len(k.measures) > math.MaxUint8 {
		panic("pipeline: more rules or measures than a byte counts")
	}
	return k
})

// appendVerdicts appends the record of a: measures in the order of their slugs, rules in the
// order of their names. It appends nothing if every rule is clear.
func (w *rowWriter) appendVerdicts(record []byte, a *assess.Assessment) []byte {
	k, begun := ruleNumbers(), false
	for _, i := range a.Study().MeasuresBySlug() {
		o := &a.Options[i]
		w.findings = w.findings[:0]
		for i := range o.Findings {
			if f := &o.Findings[i]; f.Verdict != retrofit.Clear {
				w.findings = append(w.findings, numbered{k.numberOf[f.Rule], f})
			}
		}
		slices.SortFunc(w.findings, func(f, g numbered) int { return cmp.Compare(f.rule, g.rule) })
		measure := byte(slices.IndexFunc(k.measures,
			func(k *retrofit.Kind) bool { return k.Slug == o.Measure.Slug() }))
		for _, f := range w.findings {
			if !begun {
				record = append(binary.AppendUvarint(record, uint64(len(a.Building.ID))), a.Building.ID...)
				begun = true
			}
			record = append(record, measure, f.rule, byte(f.Verdict))
			record = binary.LittleEndian.AppendUint64(record, math.Float64bits(f.Value))
			record = binary.LittleEndian.AppendUint64(record, math.Float64bits(f.Limit))
		}
	}
	return record
}

// numbered is a finding with the number of its rule.
type numbered struct {
	rule byte
	*retrofit.Finding
}

// VerdictDecoder returns the decoder of the records that go to Outlets.Verdicts.
func VerdictDecoder() output.Decoder[output.Verdict] {
	k := ruleNumbers()
	var row output.Verdict
	var text textBuffer
	return func(b []byte, f func(*output.Verdict) error) error {
		n, size := binary.Uvarint(b)
		if size <= 0 || n > uint64(len(b)-size) || (len(b)-size-int(n))%findingSize != 0 {
			return output.ErrShortRow
		}
		row.BuildingID = string(b[size : size+int(n)])
		for b = b[size+int(n):]; len(b) > 0; b = b[findingSize:] {
			if int(b[0]) >= len(k.measures) || int(b[1]) >= len(k.rules) || b[2] > byte(retrofit.Bar) {
				return output.ErrShortRow
			}
			found := retrofit.Finding{
				Rule: k.rules[b[1]], Verdict: retrofit.Verdict(b[2]),
				Value: math.Float64frombits(binary.LittleEndian.Uint64(b[3:])),
				Limit: math.Float64frombits(binary.LittleEndian.Uint64(b[11:])),
			}
			row.Measure, row.Rule, row.Verdict = k.measures[b[0]].Slug, found.Rule.Name,
				found.Verdict.String()
			row.Value, row.Limit, row.Unit = found.Value, found.Limit, found.Rule.Criterion.Unit()
			row.Sentence = text.finding(&found)
			if err := f(&row); err != nil {
				return err
			}
		}
		return nil
	}
}
