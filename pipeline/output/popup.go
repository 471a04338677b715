package output

import (
	"math"
	"slices"
	"strings"

	"plinth/retrofit"
)

// A priority is a class of ranks by share of the stock, so that a map of any stock has few buildings
// in the foremost classes.
type priority struct {
	word  string
	share float64 // of the stock, up to which rank the class goes
	says  string
}

// priorities are the classes, the foremost first. The shares are judgement.
var priorities = []priority{
	{"first 1 %", 0.01, "among the first hundredth of the stock by rank"},
	{"first 5 %", 0.05, "among the first twentieth, after the first hundredth"},
	{"first 20 %", 0.2, "among the first fifth, after the first twentieth"},
	{"rest", 1, "after the first fifth by rank, and not thereby safe"},
}

// priorityOf returns the class of a rank among n buildings. The last place of a class is rounded up:
// the first of any stock is in the first class.
func priorityOf(rank, n int64) string {
	for _, p := range priorities {
		if float64(rank) <= math.Ceil(p.share*float64(n)) {
			return p.word
		}
	}
	return ""
}

// Describe fills the columns that a map shows in words, for one of n buildings whose other columns
// are filled. Storage for the words is taken from b and returned.
func (r *Building) Describe(n int64, b []byte) []byte {
	r.Label = strings.TrimSpace(r.ID + " " + r.Name)
	r.Priority = priorityOf(r.Rank, n)
	b = r.appendReason(b[:0])
	r.Reason = string(b)
	return b
}

// appendReason appends why the building stands where it does, in sentences for a reader of a map.
func (r *Building) appendReason(b []byte) []byte {
	if r.LookNow != "" {
		b = append(append(append(b, strings.ToUpper(r.LookNow[:1])...), r.LookNow[1:]...), ". "...)
	}
	if r.TargetMissed != "" {
		b = append(append(append(b, "Misses the target of the plan: "...), r.TargetMissed...), ". "...)
	}
	b = appendAmount(append(b, "Storey drift "...), r.Drift, "%")
	b = appendAmount(append(b, " and floor acceleration "...), r.FloorAccel, "g")
	b = appendFloat(append(b, " in shaking of "...), Round(r.DesignReturnPeriod, DefaultDigits))
	b = append(b, " years; expected loss "...)
	b = append(appendAmount(b, r.AnnualLoss, r.Currency), " a year. "...)
	switch kind, ok := retrofit.KindOf(r.Best); {
	case r.Best == "":
		b = append(b, "No measure could be judged."...)
	case !ok || r.Best == noMeasure:
		b = append(b, "No measure is worth more than it costs by the objective."...)
	default:
		b = append(append(append(b, "First measure: "...), kind.Name...), ", about "...)
		b = appendAmount(b, r.BestCostLikely, r.Currency)
		b = append(appendAmount(append(b, ", net benefit "...), r.BestNetBenefit, r.Currency), '.')
	}
	if r.DataGrade == "C" || r.DataGrade == "D" {
		b = append(append(append(b, " Data grade "...), r.DataGrade...), ": find out more first."...)
	}
	return b
}

// noMeasure is the slug of leaving the building as it is.
const noMeasure = "none"

// appendAmount appends v to two significant digits, thousands apart, and its unit. A missing number is
// called unknown.
func appendAmount(b []byte, v float64, unit string) []byte {
	if math.IsNaN(v) {
		return append(b, "unknown"...)
	}
	start := len(b)
	if b = appendFloat(b, Round(v, 2)); math.Abs(v) >= 1000 && math.Abs(v) < 1e15 {
		for at := len(b) - 3; at > start && b[at-1] != '-'; at -= 3 {
			b = slices.Insert(b, at, ',')
		}
	}
	if unit != "" {
		b = append(append(b, ' '), unit...)
	}
	return b
}

// mapColumns are the columns of Building for maps.
func mapColumns() []Column[Building] {
	return []Column[Building]{
		{Name: "area", Text: func(r *Building) *string { return &r.Area },
			Doc: "group of the register or cell of the grid that areas counts the building in; missing where the plan " +
				"asks for no areas or the building has none"},
		{Name: "label", Text: func(r *Building) *string { return &r.Label },
			Doc: "id and name, for a map"},
		{Name: "priority", Text: func(r *Building) *string { return &r.Priority },
			Doc: "class of the rank by share of the stock: first 1 %, first 5 %, first 20 %, rest"},
		{Name: "reason", Text: func(r *Building) *string { return &r.Reason },
			Doc: "why the building stands where it does and what comes first, in sentences; numbers to two digits"},
	}
}

// priorityWords are the classes of ranks.
func priorityWords() []Word {
	var list []Word
	for _, p := range priorities {
		list = append(list, Word{p.word, p.says})
	}
	return list
}
