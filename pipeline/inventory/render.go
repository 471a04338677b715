package inventory

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"plinth/pipeline/inventory/fault"
	"plinth/pipeline/page"
)

// wordsShown is how many unmapped words of a column the text shows.
const wordsShown = 12

// WriteTo writes the report as text of at most 80 columns. The same report gives
// the same bytes.
func (r *Report) WriteTo(to io.Writer) (int64, error) {
	w := &counter{to: to}
	b := page.New(w)
	r.writeTally(b)
	r.writeFixes(b)
	r.writeWords(b)
	r.writeFields(b)
	r.writeRules(b)
	fmt.Fprintln(b)
	b.Wrap("", "Screening, not an evaluation: a building not flagged is not thereby safe. "+
		"Local codes and a licensed engineer decide.")
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
	fmt.Fprintf(b, "  %9d rows read\n  %9d buildings to screen\n  %9d rejected\n\n", t.In, t.Buildings,
		t.Rejects)
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

func (r *Report) writeFixes(b *page.Writer) {
	for i, f := range r.fixes(false) {
		if i == 0 {
			fmt.Fprint(b, "\nFix first\n")
		}
		b.Wrap(fmt.Sprintf("%3d. ", i+1), f.text)
	}
}

// writeWords shows the words that are not mapped, as lines to paste into the plan.
func (r *Report) writeWords(b *page.Writer) {
	for i, u := range r.Unmapped() {
		if i == 0 {
			fmt.Fprint(b, "\nWords to map\n")
			b.Wrap("", "Lines for the plan, with the number of cells; \"\" takes a word as missing. "+
				"Check what is suggested.")
		}
		b.Line("")
		for _, line := range u.TOML(wordsShown, page.Width) {
			b.Line(line)
		}
	}
}

// writeFields shows how complete each mapped or filled field is.
func (r *Report) writeFields(b *page.Writer) {
	fmt.Fprintf(b, "\n%-17s %-17s %8s %8s %8s %8s %8s\n", "Field", "Column", "missing", "given", "derived",
		"assumed", "absent")
	for f := range Field(NumFields) {
		o := &r.Origins[f]
		missing := strconv.Itoa(r.Missing(f))
		if r.headers[f] == "" {
			if missing = "-"; o[Given]+o[Derived]+o[Assumed] == 0 {
				continue
			}
		}
		fmt.Fprintf(b, "%-17s %-17s %8s %8d %8d %8d %8d\n", f, clipTo(page.Harmless(r.headers[f]), 17),
			missing, o[Given], o[Derived], o[Assumed], o[Absent])
	}
	b.Wrap("", "Missing counts rows of the register without a usable value, rejected ones too; "+
		"given to absent count buildings.")
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
			count := strconv.Itoa(n) // of what the title says
			if !rejects {
				count = r.counted(rule)
			}
			b.Wrap("  ", fmt.Sprintf("%s, %s: %s", rule, count, s.Finding))
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
		b.WriteString(", " + fault.Shown(e.ID))
	}
	if e.Column != "" {
		fmt.Fprintf(&b, ", %s = \"%s\"", fault.Shown(e.Column), fault.Shown(e.Raw))
	} else if e.Raw != "" {
		b.WriteString(", " + fault.Shown(e.Raw))
	}
	if e.Note != "" {
		b.WriteString(": " + fault.Shown(e.Note))
	}
	return b.String()
}

// percent returns a share in whole percent. A share above 0 is not rounded to 0 %, and one below 1 is not
// rounded to 100 %.
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

// A counter counts the bytes that it passes to another writer.
type counter struct {
	to io.Writer
	n  int64
}

func (c *counter) Write(p []byte) (int, error) {
	n, err := c.to.Write(p)
	c.n += int64(n)
	return n, err
}
