package confirm

import (
	"fmt"
	"io"
	"math"

	"plinth/pipeline/output"
	"plinth/pipeline/page"
	"plinth/pipeline/ranking"
)

// A Confirmation is the shortlist by time histories.
type Confirmation struct {
	Rows   []output.Confirmed // buildings in the order of the screening, measures by their place
	Counts output.Counts      // of the register
}

// choicesShown is the number of buildings that each list of the answer names.
const choicesShown = 5

// Write writes the answer as text of 80 columns that fits one screen: which first choices time
// histories confirm, change and drop.
func (c *Confirmation) Write(to io.Writer) error {
	w := page.New(to)
	var confirmed int
	var changed, dropped, falls []string
	all := output.FirstChoices(c.Rows)
	for i := range all {
		f := &all[i]
		switch {
		case f.Confirmed():
			confirmed++
		case f.Then == ranking.NoMeasure:
			dropped = append(dropped, f.ID+": "+f.Measure)
		default:
			changed = append(changed, f.ID+": "+f.Measure+", now "+f.Then)
		}
		if f.Falls {
			falls = append(falls, f.ID)
		}
	}
	w.Wrap("", fmt.Sprintf("Of %d first choices time histories confirm %d, change %d and drop %d.", len(all), confirmed,
		len(changed), len(dropped)))
	list(w, "Another measure first:", changed)
	list(w, "Nothing pays any more; an engineer decides:", dropped)
	list(w, "Falls as it stands in most records, an engineer now:", falls)
	w.Line("")
	w.Wrap("", "Every value of both methods: confirm.html, confirm.csv, or --details.")
	w.Wrap("", "Agreement of two models of a shear stick, not accuracy against reality.")
	w.Wrap("", output.Caution)
	return w.Flush()
}

// list writes the first of some lines below a heading, and how many there are.
func list(w *page.Writer, heading string, lines []string) {
	if len(lines) == 0 {
		return
	}
	w.Line("")
	if len(lines) > choicesShown {
		heading = fmt.Sprintf("%s the first %d of %d", heading, choicesShown, len(lines))
	}
	w.Line("%s", heading)
	for _, l := range lines[:min(choicesShown, len(lines))] {
		w.Line("  %s", page.Cut(l, page.Width-2))
	}
}

// Details writes a line a row as text of 80 columns: both methods and what changes.
func (c *Confirmation) Details(to io.Writer) error {
	w := page.New(to)
	w.Wrap("", "Time histories (h) beside spectral values (s) at the design return period. ! marks a "+
		"spectral value outside its stated band; c counts records that end in collapse, and falls stands "+
		"where most do.")
	w.Line("")
	w.Line("   %-22s %13s %14s %11s %3s", "measure", "drift % s, h", "floor g s, h", "place s, h", "c")
	id := ""
	for i := range c.Rows {
		r := &c.Rows[i]
		if r.BuildingID != id {
			id = r.BuildingID
			w.Wrap(fmt.Sprintf("%d  ", r.Rank),
				page.Cut(id, widestText)+" "+page.Cut(r.BuildingName, widestText))
		}
		w.Line("   %-22s %6s %5s%s %7s %5s%s %5d %4d %4d", r.Measure, hundredths(r.DriftSpectral),
			hundredths(r.DriftHistory), mark(r.DriftOutside),
			hundredths(r.AccelSpectral), hundredths(r.AccelHistory), mark(r.AccelOutside), r.Place,
			r.PlaceHistory, r.Collapsed)
		if r.Moved != "" {
			w.Wrap("   moved: ", r.Moved)
		}
		if r.Status != "" {
			w.Wrap("   note: ", r.Status)
		}
	}
	w.Line("")
	w.Wrap("", "Agreement of two models of a shear stick, not accuracy against reality.")
	w.Wrap("", output.Caution)
	return w.Flush()
}

// widestText is as much of a name as a line of its own has room for, beside its rank.
const widestText = page.Width - 10

func mark(outside bool) string {
	if outside {
		return "!"
	}
	return " "
}

// hundredths returns v to two decimals, in words where there is no such number.
func hundredths(v float64) string {
	switch {
	case math.IsInf(v, 1):
		return "falls"
	case !(math.Abs(v) < 100):
		return output.Short(v)
	}
	return fmt.Sprintf("%.2f", v)
}
