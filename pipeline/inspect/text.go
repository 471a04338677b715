package inspect

import (
	"fmt"
	"io"
	"math"
	"strings"

	"plinth/pipeline/output"
	"plinth/pipeline/page"
)

// How many lines a search keeps of each list, for its text.
const (
	rowsShown   = 10
	visitsShown = 5
)

// Write writes what to find out next as text of 80 columns.
func (s *Search) Write(to io.Writer) error {
	w := page.New(to)
	unit := s.Unit
	if unit == "currency" && s.About.Currency != "" {
		unit = page.Cut(s.About.Currency, page.WidestCurrency)
	}
	w.Line("%d unknown fields in %d buildings could change what is done.", s.Found, s.Counts.Out)
	if s.Found > 0 {
		w.Line("Worth: expected gain of knowing before choosing, in %s.", unit)
		w.Line("")
		s.table(w)
		w.Line("")
		s.fields(w)
		w.Line("")
		w.Line("Visits, buildings within %d m of the first:", walkMetres)
		for i := range s.Visits {
			v := &s.Visits[i]
			w.Wrap(fmt.Sprintf("  %d  ", i+1),
				fmt.Sprintf("worth %s: %s; look for %s", output.Short(v.Worth),
					strings.Join(v.Buildings, ", "), strings.Join(v.Fields, ", ")))
		}
	}
	for _, note := range s.failedNote() {
		w.Line("")
		w.Wrap("", note)
	}
	w.Line("")
	w.Wrap("", output.Caution)
	return w.Flush()
}

func (s *Search) table(w *page.Writer) {
	w.Table("building\tfind out\tworth\tfirst choice\tchanges\tfunded", len(s.First),
		func(to io.Writer, i int) {
			r := &s.First[i]
			fmt.Fprintf(to, "%s\t%s\t%s\t%s\t%s\t%s\n", page.Cut(r.ID, page.WidestID), r.Field,
				output.Short(r.Worth), r.BestNow, percent(r.BestChanges), percent(r.FundedChanges))
		}, nil)
}

func (s *Search) fields(w *page.Writer) {
	w.Table("field, over the stock\tbuildings\tworth\tmeasures change\tfunding changes", len(s.Fields),
		func(to io.Writer, i int) {
			f := &s.Fields[i]
			fmt.Fprintf(to, "%s\t%d\t%s\t%.1f\t%.1f\n", f.Field, f.Buildings, output.Short(f.Worth), f.Best,
				f.Funded)
		}, nil)
}

func percent(v float64) string {
	if math.IsNaN(v) {
		return "-"
	}
	return fmt.Sprintf("%.0f %%", 100*v)
}
