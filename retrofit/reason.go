package retrofit

import (
	"math"
	"strconv"
	"strings"
)

// Reason returns one line that explains the measure's verdict to a manager, with the deciding
// number:
//
//	Not isolation on lead-rubber bearings here: the gap of 0.12 m to the neighbour is below the
//	0.35 m the isolators move
//
// It is the line of the first finding as grave as the verdict.
func (o *Outcome) Reason() string { return string(o.AppendReason(nil)) }

// AppendReason appends Reason to dst.
func (o *Outcome) AppendReason(dst []byte) []byte {
	d, _ := KindOf(o.Measure.Slug())
	f := o.decisive()
	if f == nil {
		dst = append(dst, "Nothing found against "...)
		dst = append(dst, d.Name...)
		return append(dst, " at this level of study"...)
	}
	switch o.Verdict {
	case Bar:
		dst = append(dst, "Not "...)
		dst = append(dst, d.Name...)
		dst = append(dst, " here: "...)
	case Doubt:
		dst = append(dst, "Before "...)
		dst = append(dst, d.Name...)
		dst = append(dst, ", study: "...)
	case Note:
		dst = append(dst, "In the design of "...)
		dst = append(dst, d.Name...)
		dst = append(dst, ": "...)
	case Missing:
		dst = append(dst, "Cannot tell about "...)
		dst = append(dst, d.Name...)
		dst = append(dst, ": "...)
	}
	return f.AppendText(dst)
}

// decisive returns the first finding as grave as the verdict, nil if all are clear.
func (o *Outcome) decisive() *Finding {
	if o.Verdict == Clear {
		return nil
	}
	for i := range o.Findings {
		if o.Findings[i].Verdict == o.Verdict {
			return &o.Findings[i]
		}
	}
	return nil
}

// AppendText appends the text of the finding: the rule's sentence with its value and limit, or
// the missing fact. A clear finding is named by its criterion.
func (f *Finding) AppendText(dst []byte) []byte {
	r := f.Rule
	switch f.Verdict {
	case Missing:
		return append(append(dst, f.unknown()...), " is not known"...)
	case Clear:
		dst = append(append(dst, r.Criterion.String()...), ' ')
		return appendValue(dst, f.Value, r.Criterion.Unit())
	}
	rest, v := r.Sentence, f.Value
	for {
		before, after, found := strings.Cut(rest, "%v")
		dst = append(dst, before...)
		if !found {
			return dst
		}
		dst = appendValue(dst, v, r.Criterion.Unit())
		rest, v = after, f.Limit
	}
}

// unknown returns the words for the missing fact of a Missing finding.
func (f *Finding) unknown() string {
	c := f.Rule.Criterion
	if !math.IsNaN(f.Value) {
		if c = f.Rule.Against; c == 0 {
			c = f.Rule.When
		}
	}
	return criteria[c].words
}

// appendValue appends v, an SI value, in a unit of the table of criteria, to the two or three
// figures appropriate to screening.
func appendValue(dst []byte, v float64, unit string) []byte {
	switch unit {
	case "answer":
		switch v {
		case 1:
			return append(dst, "yes"...)
		case 0:
			return append(dst, "no"...)
		}
		return append(dst, "unknown"...)
	case "%":
		return append(appendRounded(dst, 100*v), " %"...)
	case "":
		return appendRounded(dst, v)
	}
	return append(append(appendRounded(dst, v), ' '), unit...)
}

// appendRounded appends v to two decimals below 10, one below 100, else none,
// without trailing zeros.
func appendRounded(dst []byte, v float64) []byte {
	decimals := 2
	switch a := math.Abs(v); {
	case a >= 99.95:
		decimals = 0
	case a >= 9.995:
		decimals = 1
	}
	start := len(dst)
	dst = strconv.AppendFloat(dst, v, 'f', decimals, 64)
	if decimals == 0 || math.IsInf(v, 0) || math.IsNaN(v) {
		return dst
	}
	end := len(dst)
	for end > start && dst[end-1] == '0' {
		end--
	}
	if dst[end-1] == '.' {
		end--
	}
	return dst[:end]
}
