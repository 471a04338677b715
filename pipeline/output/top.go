package output

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"plinth/pipeline/page"
)

// A Summary is what a run prints on the terminal at its end.
type Summary struct {
	Counts Counts
	RankBy string     // the objective, as in the plan
	About  About      // whose currency the money is in
	First  []Building // the foremost buildings, in order of rank
	Checks []RankCheck

	Now      int      // buildings an engineer should look at now, whatever their rank
	NowFirst []string // ids of the first of them
}

// The widest texts of the table beside the ids, in characters: the longest slug of a measure, and a
// name on a line of its own. The other columns take at most 4 (rank), 4 (data), 6 (cost), 6 (net)
// and 11 (drift), and the gaps take 12.
const (
	widestMeasure = 22 // and one for the mark of a tie
	widestName    = page.Width - 6
)

// Write writes the summary as text.
func (s *Summary) Write(to io.Writer) error {
	w := page.New(to)
	w.Line("%d rows read, %d buildings ranked, %d rejected.", s.Counts.In, s.Counts.Out, s.Counts.Rejected)
	if len(s.First) > 0 {
		money := ""
		if s.About.Currency != "" {
			money = ", money in " + page.Cut(s.About.Currency, 10)
		}
		w.Line("The first %d by %s%s", len(s.First), page.Cut(s.RankBy, 40), money)
		w.Line("(net: benefit less likely cost; drift: as it stands to with the measure):\n")
		s.table(w)
		w.Line("\n* too close to the next best measure to tell apart")
	}
	if len(s.Checks) > 0 {
		w.Line("")
	}
	for _, c := range s.Checks {
		w.Line("Against %s: Kendall tau %.2f, %.0f of the first %d the same", c.Order, c.Tau,
			c.Overlap*float64(c.Top), c.Top)
	}
	if b := s.About.BuiltIn; b != "" {
		w.Line("")
		w.Wrap("", "Money rests on built-in defaults: "+b+". Set your own in the plan before it decides.")
	}
	if s.Now > 0 {
		w.Line("")
		more := ""
		if s.Now > len(s.NowFirst) {
			more = ", ..."
		}
		w.Wrap("", fmt.Sprintf("Have an engineer look now, whatever the rank, at %d (%.0f %%): %s%s (column look_now).",
			s.Now, 100*float64(s.Now)/float64(max(1, s.Counts.Out)), page.Cut(strings.Join(s.NowFirst, ", "), 400), more))
	}
	w.Line("")
	w.Wrap("", Caution)
	return w.Flush()
}

// table writes a line for each building, with its name below.
func (s *Summary) table(w *page.Writer) {
	w.Table("rank\tbuilding\tdata\tmeasure\tcost\tnet\tdrift %", len(s.First), func(to io.Writer, i int) {
		r := &s.First[i]
		measure := page.Cut(r.Best, widestMeasure)
		if r.Tied {
			measure += "*"
		}
		fmt.Fprintf(to, "%d\t%s\t%s\t%s\t%s\t%s\t%s to %s\n", r.Rank, page.Cut(r.ID, page.WidestID),
			orDash(page.Cut(r.DataGrade, 4)), orDash(measure), Short(r.BestCostLikely), Short(r.BestNetBenefit),
			r.DriftWords(r.Drift, tenths), r.DriftWords(r.BestDrift, tenths))
	}, func(i int) string {
		if name := page.Cut(s.First[i].Name, widestName); name != "" {
			return "      " + name
		}
		return ""
	})
}

// Short returns v to two significant digits, with k, M or G for the thousands. A screening result
// is good for no more digits.
func Short(v float64) string {
	if math.IsNaN(v - v) {
		return "-"
	}
	v = Round(v, 2)
	for _, unit := range []struct {
		size float64
		name string
	}{{1e9, "G"}, {1e6, "M"}, {1e3, "k"}} {
		if math.Abs(v) >= unit.size {
			return string(appendFloat(nil, Round(v/unit.size, 2))) + unit.name
		}
	}
	return string(appendFloat(nil, v))
}

// tenths returns v to one decimal.
func tenths(v float64) string {
	if math.IsNaN(v - v) {
		return "-"
	}
	return strconv.FormatFloat(v, 'f', 1, 64)
}

func orDash(s string) string {
	if s == "" {
		return "-"
	}
	return s
}
