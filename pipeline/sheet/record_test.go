package sheet

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// A record is a sheet as a reader of the Markdown has it: text alone.
type record struct {
	titles []string
	steps  map[string]*step
}

// A step is a section of a record.
type step struct {
	title  string
	lines  []map[string]string // by head
	tables []map[string][]string
}

// parse reads the Markdown of a sheet back.
func parse(t testing.TB, text string) *record {
	r := &record{steps: map[string]*step{}}
	var now *step
	var heads []string
	for _, line := range strings.Split(text, "\n") {
		if title, ok := strings.CutPrefix(line, "## "); ok {
			now, heads = &step{title: shownText(title)}, nil
			r.titles = append(r.titles, now.title)
			r.steps[now.title] = now
			continue
		}
		if !strings.HasPrefix(line, "|") {
			heads = nil
			continue
		}
		cells := splitRow(line)
		switch {
		case heads == nil:
			heads = cells
			if heads[0] != quantityHead {
				now.tables = append(now.tables, map[string][]string{})
			}
		case strings.HasPrefix(cells[0], "---"):
		case heads[0] == quantityHead:
			m := map[string]string{}
			for i, h := range heads {
				m[h] = cells[i]
			}
			now.lines = append(now.lines, m)
		default:
			require.Len(t, cells, len(heads), line)
			tb := now.tables[len(now.tables)-1]
			for i, h := range heads {
				tb[h] = append(tb[h], cells[i])
			}
		}
	}
	return r
}

var backslash = regexp.MustCompile("\\\\([\\\\`*_\\[\\]#|~$/.])")

// shownText returns what a reader of Markdown sees of an escaped text.
func shownText(s string) string {
	return strings.NewReplacer("&lt;", "<", "&gt;", ">", "&amp;", "&").Replace(backslash.ReplaceAllString(s, "$1"))
}

// splitRow returns the cells of a row of a table.
func splitRow(line string) []string {
	const bar = "\x00" // an escaped bar is in no text: texts are harmless
	var out []string
	for _, c := range strings.Split(strings.ReplaceAll(strings.Trim(line, "|"), `\|`, bar), "|") {
		out = append(out, shownText(strings.ReplaceAll(strings.TrimSpace(c), bar, "|")))
	}
	return out
}

// step returns the step whose title is or begins so, exactly where there is one.
func (r *record) step(t testing.TB, title string) *step {
	t.Helper()
	if s := r.steps[title]; s != nil {
		return s
	}
	for _, name := range r.titles {
		if strings.HasPrefix(name, title) {
			return r.steps[name]
		}
	}
	t.Fatalf("no step %q in %q", title, r.titles)
	return nil
}

// line returns the line whose name begins so.
func (s *step) line(t testing.TB, name string) map[string]string {
	t.Helper()
	for _, l := range s.lines {
		if strings.HasPrefix(l[quantityHead], name) {
			return l
		}
	}
	t.Fatalf("no line %q in %q", name, s.title)
	return nil
}

// value returns the number a line says.
func (s *step) value(t testing.TB, name string) float64 {
	t.Helper()
	word, _, _ := strings.Cut(s.line(t, name)[valueHead], " ")
	return number(t, word)
}

// input returns the number behind symbol in the inputs of a line.
func (s *step) input(t testing.TB, name, symbol string) float64 {
	t.Helper()
	return within(t, s.line(t, name)[inputsHead], symbol)
}

// within returns the number behind symbol in text.
func within(t testing.TB, text, symbol string) float64 {
	t.Helper()
	m := regexp.MustCompile(`(?:^|[ ,;(])` + regexp.QuoteMeta(symbol) + ` (-?[0-9.e+-]+)`).FindStringSubmatch(text)
	require.NotNil(t, m, "%s in %q", symbol, text)
	return number(t, m[1])
}

// column returns a column of the first table that has one of that head.
func (s *step) column(t testing.TB, head string) []float64 {
	t.Helper()
	for _, tb := range s.tables {
		if cells, ok := tb[head]; ok {
			out := make([]float64, len(cells))
			for i, c := range cells {
				out[i] = number(t, c)
			}
			return out
		}
	}
	t.Fatalf("no column %q in %q", head, s.title)
	return nil
}

func number(t testing.TB, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(strings.TrimRight(s, ","), 64)
	require.NoError(t, err)
	return v
}
