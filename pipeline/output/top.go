package output

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"text/tabwriter"
	"unicode"
)

// A Summary is what a run says on the terminal when it is done.
type Summary struct {
	Counts Counts
	RankBy string     // the objective, as in the plan
	About  About      // whose currency the money is in
	First  []Building // the foremost buildings, in order of rank
}

// Width is the number of columns a Summary keeps within.
const Width = 80

// The widest texts of the table, in characters. The other columns take at most
// 4 (rank), 4 (data), 6 (cost), 7 (benefit), 12 (drift) and the gaps 12.
const (
	widestBuilding = 23
	widestMeasure  = 11 // and one for the mark of a tie
)

// Write writes the summary as text.
func (s *Summary) Write(w io.Writer) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%d rows read, %d buildings ranked, %d rejected.\n", s.Counts.In, s.Counts.Out, s.Counts.Rejected)
	if len(s.First) > 0 {
		fmt.Fprintf(&b, "The first %d by %s", len(s.First), plainText(s.RankBy, 40))
		if s.About.Currency != "" {
			fmt.Fprintf(&b, ", money in %s", plainText(s.About.Currency, 10))
		}
		b.WriteString("\n(benefit: net of the likely cost; drift: as it stands to with the measure):\n\n")
		if err := s.table(&b); err != nil {
			return err
		}
		b.WriteString("\n* too close to the next best measure to tell apart\n")
	}
	b.WriteString("\n" + wrap(Caution, Width-1) + "\n")
	_, err := io.WriteString(w, b.String())
	return err
}

func (s *Summary) table(b *strings.Builder) error {
	t := tabwriter.NewWriter(b, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "rank\tbuilding\tdata\tmeasure\tcost\tbenefit\tdrift %")
	for i := range s.First {
		r := &s.First[i]
		measure := plainText(r.Best, widestMeasure)
		if r.Tied {
			measure += "*"
		}
		fmt.Fprintf(t, "%d\t%s\t%s\t%s\t%s\t%s\t%s to %s\n", r.Rank, plainText(r.ID+" "+r.Name, widestBuilding),
			orDash(plainText(r.DataGrade, 4)), orDash(measure), shortNumber(r.BestCostLikely), shortNumber(r.BestNetBenefit),
			tenths(r.Drift), tenths(r.BestDrift))
	}
	return t.Flush()
}

// shortNumber returns v to two significant digits, the most a screening result
// is good for, with k, M or G for the thousands.
func shortNumber(v float64) string {
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

// plainText returns s on one line without anything a terminal would obey, cut to
// width characters.
func plainText(s string, width int) string {
	var out []rune
	for _, r := range strings.TrimSpace(s) {
		if !unicode.IsPrint(r) {
			r = '?'
		}
		if len(out) == width {
			out[width-1] = '.'
			break
		}
		out = append(out, r)
	}
	return string(out)
}

// wrap breaks s at spaces into lines of at most width characters.
func wrap(s string, width int) string {
	var b strings.Builder
	n := 0
	for _, word := range strings.Fields(s) {
		switch {
		case n == 0:
		case n+1+len(word) > width:
			b.WriteByte('\n')
			n = 0
		default:
			b.WriteByte(' ')
			n++
		}
		b.WriteString(word)
		n += len(word)
	}
	return b.String()
}
