package inventory

import (
	"fmt"
	"io"
	"sort"
	"strconv"
	"strings"

	"plinth/pipeline/page"
)

// maxFixes is the number of things the report asks the owner to fix first.
const maxFixes = 10

// WriteTo writes the report as text of at most 80 columns. The same report gives
// the same bytes.
func (r *Report) WriteTo(to io.Writer) (int64, error) {
	w := &counter{to: to}
	b := page.New(w)
	r.writeTally(b)
	r.writeFixes(b)
	r.writeFields(b)
	r.writeRules(b)
	fmt.Fprintln(b)
	b.Wrap("", "Screening, not an evaluation: a building not flagged is not thereby safe. Local codes and a licensed engineer decide.")
	err := b.Flush()
	return w.n, err
}

// String returns the report as WriteTo writes it.
func (r *Report) String() string {
	var b strings.Builder
	r.WriteTo(&b) // a Builder does not fail
	return b.String()
}

func (r *Report) writeTally(b *page.Writer) {
	t := &r.Tally
	fmt.Fprintf(b, "Register %s\n\n", clipTo(page.Harmless(r.file), page.Width-9))
	fmt.Fprintf(b, "  %9d rows read\n  %9d buildings to screen\n  %9d rejected\n\n", t.In, t.Buildings, t.Rejects)
	for _, n := range r.notes {
		b.Wrap("  - ", n)
	}
	if len(r.notes) > 0 {
		b.Line("")
	}
	fmt.Fprint(b, "Data grade ")
	for i, n := range r.Grades {
		fmt.Fprintf(b, "  %c %d (%s)", 'A'+i, n, percent(n, t.Buildings))
	}
	fmt.Fprintln(b)
}

// A fix is one thing to put right, weighed by the rows it would help (judgement):
// a rejected row counts one, a row whose grade is capped a quarter, another
// finding a fiftieth; a field of the rubric that the register does not give counts
// half its share of the points.
type fix struct {
	weight float64
	text   string
}

func (r *Report) fixes() []fix {
	var out []fix
	for rule := range numRules {
		n, s := r.Count(rule), rule.Spec()
		weight := float64(n)
		switch {
		case n == 0:
			continue
		case s.Rejects:
		case s.Cap != 0:
			weight *= 0.25
		default:
			weight *= 0.02
		}
		out = append(out, fix{weight, fmt.Sprintf("%s, %d of %d rows: %s", rule, n, r.Tally.In, s.Remedy)})
	}
	for _, line := range rubric {
		o := &r.Origins[line.field]
		if n := r.Tally.Buildings - o[Given]; n > 0 {
			out = append(out, fix{float64(n) * line.points / 200, fmt.Sprintf("%s, not given for %d of %d buildings: it %s", line.field, n, r.Tally.Buildings, line.why)})
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].weight > out[j].weight })
	return out[:min(len(out), maxFixes)]
}

// Fixes returns what to put right first, the most useful first, ten at most.
func (r *Report) Fixes() []string {
	var out []string
	for _, f := range r.fixes() {
		out = append(out, f.text)
	}
	return out
}

func (r *Report) writeFixes(b *page.Writer) {
	for i, f := range r.fixes() {
		if i == 0 {
			fmt.Fprint(b, "\nFix first\n")
		}
		b.Wrap(fmt.Sprintf("%3d. ", i+1), f.text)
	}
}

// writeFields shows how complete each mapped or filled field is.
func (r *Report) writeFields(b *page.Writer) {
	fmt.Fprintf(b, "\n%-17s %-17s %8s %8s %8s %8s %8s\n", "Field", "Column", "missing", "given", "derived", "assumed", "absent")
	for f := range Field(NumFields) {
		o := &r.Origins[f]
		missing := strconv.Itoa(r.Missing(f))
		if r.headers[f] == "" {
			if missing = "-"; o[Given]+o[Derived]+o[Assumed] == 0 {
				continue
			}
		}
		fmt.Fprintf(b, "%-17s %-17s %8s %8d %8d %8d %8d\n", f, clipTo(page.Harmless(r.headers[f]), 17), missing, o[Given], o[Derived], o[Assumed], o[Absent])
	}
	b.Wrap("", "Missing counts rows of the register without a usable value, rejected ones too; given to absent count buildings.")
}

// writeRules shows what each rule met, with examples.
func (r *Report) writeRules(b *page.Writer) {
	for _, rejects := range [...]bool{true, false} {
		title := "\nRejected rows\n"
		if !rejects {
			title = "\nFindings in cells and rows\n"
		}
		for rule := range numRules {
			n, s := r.Count(rule), rule.Spec()
			if n == 0 || s.Rejects != rejects {
				continue
			}
			fmt.Fprint(b, title)
			title = ""
			b.Wrap("  ", fmt.Sprintf("%s, %d: %s", rule, n, s.Finding))
			for _, e := range r.Examples[rule] {
				b.Wrap("      ", e.String())
			}
		}
	}
}

// String returns the example on one line.
func (e *Example) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "line %d", e.Line)
	if e.ID != "" {
		b.WriteString(", " + printable(e.ID))
	}
	if e.Column != "" {
		fmt.Fprintf(&b, ", %s = \"%s\"", printable(e.Column), printable(e.Raw))
	} else if e.Raw != "" {
		b.WriteString(", " + printable(e.Raw))
	}
	if e.Note != "" {
		b.WriteString(": " + printable(e.Note))
	}
	return b.String()
}

// percent returns a share in whole percent; less than one half is not rounded to
// none, and short of all not to all.
func percent(n, of int) string {
	switch p := 100 * float64(n) / float64(max(of, 1)); {
	case n > 0 && p < 1:
		return "<1%"
	case n < of && p > 99:
		return ">99%"
	default:
		return fmt.Sprintf("%.0f%%", p)
	}
}

// clipTo shortens s to at most n letters.
func clipTo(s string, n int) string {
	r := []rune(s)
	if len(r) <= n {
		return s
	}
	return string(r[:n-3]) + "..."
}

// A counter counts the bytes it hands on.
type counter struct {
	to io.Writer
	n  int64
}

func (c *counter) Write(p []byte) (int, error) {
	n, err := c.to.Write(p)
	c.n += int64(n)
	return n, err
}
