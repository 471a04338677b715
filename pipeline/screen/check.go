package screen

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"math"
	"path/filepath"
	"slices"
	"strings"

	"plinth/hazard"
	"plinth/hazard/field"
	"plinth/pipeline/assess"
	"plinth/pipeline/inventory"
	"plinth/pipeline/output"
	"plinth/pipeline/page"
	"plinth/pipeline/report"
)

// A Check holds what reading and cleaning a register has shown. No building was assessed.
type Check struct {
	Title string // of the plan
	File  string // the register

	Register *inventory.Report
	Hazard   field.Coverage
	Design   float64 // yr, of the range of Sa

	NoHazard     bool             // the plan names none: the register alone was read
	Located      int64            // buildings with a hazard
	Outside      int64            // buildings without one
	OutsideFirst []string         // the first few of them and why
	Failed       int64            // buildings on which the program failed
	FailedFirst  []string         // the first few of them and why
	Nearest      [2]float64       // m, least and largest distance to the nearest node
	Sa           [2]float64       // g, least and largest Sa(1 s) at the design return period
	Statuses     map[string]int64 // buildings by the status of their hazard
	Zones        []string         // warnings of the site zones
}

// outsideShown is how many buildings without hazard a check names.
const outsideShown = 5

// CheckRegister reads the register, cleans it and looks up every building's hazard, if the plan
// names one.
func CheckRegister(ctx context.Context, study *assess.Study) (*Check, error) {
	c := &Check{
		Title: study.Plan().Name, File: filepath.Base(study.Plan().Inventory.Path),
		Hazard: study.Coverage(), Design: study.Plan().Hazard.Design, Statuses: make(map[string]int64),
		Zones: study.GroundWarnings(), NoHazard: !study.HasHazard(),
		Nearest: [2]float64{math.Inf(1), 0}, Sa: [2]float64{math.Inf(1), 0},
	}
	var site hazard.Site
	register, err := study.EachBatch(ctx, func(batch *inventory.Batch) error {
		for i := range batch.Buildings {
			if c.NoHazard {
				c.Located++
				continue
			}
			c.locate(study, &batch.Buildings[i], &site)
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	c.Register = register
	register.Idle[inventory.SiteClass] = study.Plan().Hazard.SoilIncluded != nil &&
		*study.Plan().Hazard.SoilIncluded
	return c, register.Tally.Check()
}

// locate looks up the hazard of one building and counts what it shows.
func (c *Check) locate(study *assess.Study, b *inventory.Building, site *hazard.Site) {
	if err := study.Locate(b, site); err != nil {
		n, first := &c.Outside, &c.OutsideFirst
		if assess.FailureOf(err) != nil {
			*site = hazard.Site{}
			n, first = &c.Failed, &c.FailedFirst
		}
		if *n++; len(*first) < outsideShown {
			*first = append(*first, fmt.Sprintf("line %d, %s: %v", b.Line, b.ID, err))
		}
		return
	}
	c.Located++
	c.Nearest[0], c.Nearest[1] = min(c.Nearest[0], site.Distance), max(c.Nearest[1], site.Distance)
	sa := site.Spectra[study.Design()].Sa(1)
	c.Sa[0], c.Sa[1] = min(c.Sa[0], sa), max(c.Sa[1], sa)
	for _, w := range site.Status.Words() {
		c.Statuses[w]++
	}
}

// Usable returns how many buildings a screening would assess.
func (c *Check) Usable() int64 { return c.Located }

// Rejected returns how many rows it would reject.
func (c *Check) Rejected() int64 { return int64(c.Register.Tally.Rejects) + c.Outside + c.Failed }

// Counts returns the rows in, the buildings out and the rejects of a screening.
func (c *Check) Counts() output.Counts {
	return output.Counts{In: int64(c.Register.Tally.In), Out: c.Usable(), Rejected: c.Rejected()}
}

// Write writes the check as text of 80 columns.
func (c *Check) Write(to io.Writer) error {
	if _, err := c.Register.WriteTo(to); err != nil {
		return err
	}
	w := page.New(to)
	w.Heading("Hazard")
	for _, s := range c.hazardLines() {
		w.Wrap("- ", s)
	}
	return w.Flush()
}

// WriteJSON writes the check for a program to read.
func (c *Check) WriteJSON(to io.Writer) error {
	t := &c.Register.Tally
	e := json.NewEncoder(to)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(struct {
		Title    string         `json:"title"`
		Register string         `json:"register"`
		In       int64          `json:"rows_in"`
		Usable   int64          `json:"buildings"`
		Rejected int64          `json:"rejected"`
		Outside  int64          `json:"outside_hazard"`   // among the rejected
		Failed   int64          `json:"failed,omitempty"` // on which the program failed, among the rejected
		Grades   map[string]int `json:"data_grades"`
		Fixes    []string       `json:"put_right_first"`
		Hazard   []string       `json:"hazard"`
		Cautions []string       `json:"cautions"`
		inventory.Detail
	}{
		c.Title, c.File, int64(t.In), c.Usable(), c.Rejected(), c.Outside, c.Failed,
		map[string]int{"A": c.Register.Grades[0], "B": c.Register.Grades[1], "C": c.Register.Grades[2],
			"D": c.Register.Grades[3]},
		c.Register.Fixes(), c.hazardLines(), output.Cautions, c.Register.Detail(),
	})
}

// WriteHTML writes the check as a page for the owner of the register.
func (c *Check) WriteHTML(to io.Writer) error {
	return report.WriteCheck(to, report.CheckInput{Title: c.Title, File: c.File, Register: c.Register,
		Outside: c.Outside + c.Failed, Hazard: c.hazardLines()})
}

// hazardLines describes the hazard and where the buildings lie in it.
func (c *Check) hazardLines() []string {
	var out []string
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	if c.NoHazard {
		say("the plan names none, so the register alone was read and no place was looked up; fill in [hazard] " +
			"(docs/methods/hazard-by-location.md) before anything is screened")
		return out
	}
	h := &c.Hazard
	if h.File != "" {
		say("%s: %d nodes from longitude %.6g to %.6g and latitude %.6g to %.6g", filepath.Base(h.File),
			h.Nodes,
			h.Bound.Min[0], h.Bound.Max[0], h.Bound.Min[1], h.Bound.Max[1])
	}
	for _, l := range h.Range {
		say("%g yr: PGA %.3g to %.3g g, Sa %.3g to %.3g g", l.ReturnPeriod, l.PGALow, l.PGATop, l.SaLow,
			l.SaTop)
	}
	for _, s := range h.Warnings {
		say("%s", s)
	}
	for _, s := range c.Zones {
		say("site zones: %s", s)
	}
	say("%d buildings located, %d outside the hazard", c.Located, c.Outside)
	out = append(out, c.OutsideFirst...)
	if c.Failed > 0 {
		say("%s on which the program failed: %s", assess.BuildingsInWords(c.Failed),
			strings.Join(c.FailedFirst, "; "))
	}
	if c.Located > 0 {
		say("distance to the nearest node: %.1f to %.1f km", c.Nearest[0]/1000, c.Nearest[1]/1000)
		say("Sa(1 s) at %g yr on the buildings' ground: %.3g to %.3g g", c.Design, c.Sa[0], c.Sa[1])
	}
	for _, s := range slices.Sorted(maps.Keys(c.Statuses)) {
		say("%s: %d buildings", s, c.Statuses[s])
	}
	return out
}
