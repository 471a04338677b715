package sheet

import (
	"context"
	"html"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"
	markup "github.com/yuin/goldmark/renderer/html"

	"plinth/pipeline/assess"
	"plinth/pipeline/output"
	"plinth/pipeline/page"
	"plinth/pipeline/plan"
	"plinth/pipeline/report/reporttest"
	"plinth/pipeline/sample"
)

// demoSheet returns the sheet of a building of the demo town.
func demoSheet(t *testing.T, id string) *Sheet {
	t.Helper()
	dir := t.TempDir()
	require.NoError(t, sample.Write(t.Context(), dir, sample.Buildings, false))
	p, err := plan.Load(filepath.Join(dir, sample.PlanFile))
	require.NoError(t, err)
	study, err := assess.Open(p)
	require.NoError(t, err)
	a, err := study.AssessOne(context.Background(), id)
	require.NoError(t, err)
	return Make(study, a)
}

// Every computed line that has a formula names where the formula is from, and
// every line says where its value came from.
func TestEveryNumberHasItsOrigin(t *testing.T) {
	s := demoSheet(t, "CS-00007")
	for i := range s.Sections {
		for _, l := range s.Sections[i].Lines {
			if l.Name != "What it is" {
				word, _, _ := strings.Cut(l.Origin, ":") // the rule may follow
				assert.Contains(t, []string{"given", "derived", "assumed", "computed"}, word, l.Name)
			}
		}
	}
	var b strings.Builder
	require.NoError(t, s.WriteText(&b))
	for _, line := range strings.Split(b.String(), "\n") {
		assert.LessOrEqual(t, len([]rune(line)), 80, line)
	}
}

// hostileSheet is a sheet in which every text is an owner's.
func hostileSheet() *Sheet {
	s := &Sheet{Title: reporttest.Hostile[1], Run: reporttest.Hostile[2], Caution: output.Caution}
	for i, text := range reporttest.Hostile {
		runes := []rune(text)
		text = string(runes[:min(800, len(runes))])
		short := string(runes[:min(20, len(runes))]) // titles and tables are our own words and numbers
		sec := Section{Title: short, Items: []Item{{"doubt", text}}, Notes: []string{text}}
		sec.line(text, float64(i), text, text, text, text)
		sec.fact("# "+text, text+" |", "`"+text, "*"+text+"*", "_"+text)
		sec.table(short, short+"|").row(short, "1|2")
		s.Sections = append(s.Sections, sec)
	}
	return s
}

// TestHostileSheet: whatever an owner wrote shows as it is and is obeyed nowhere.
func TestHostileSheet(t *testing.T) {
	s := hostileSheet()
	var text, markdown, web strings.Builder
	require.NoError(t, s.WriteText(&text))
	require.NoError(t, s.WriteMarkdown(&markdown))
	require.NoError(t, s.WriteHTML(&web))
	lower := strings.ToLower(web.String())
	for _, tag := range []string{"<script", "<img", "<svg", "<b>"} {
		assert.NotContains(t, lower, tag)
	}
	for _, r := range "\u202e\u202c\u2066\u2028\x00\x07\x1b" {
		for _, out := range []string{text.String(), markdown.String(), web.String()} {
			assert.False(t, strings.ContainsRune(out, r), "%U", r)
		}
	}

	var rendered strings.Builder
	md := goldmark.New(goldmark.WithExtensions(extension.GFM), goldmark.WithRendererOptions(markup.WithUnsafe()))
	require.NoError(t, md.Convert([]byte(markdown.String()), &rendered))
	for _, tag := range regexp.MustCompile(`<[^/][^>]*>`).FindAllString(rendered.String(), -1) {
		assert.Regexp(t, `^<(h1|h2|p|strong|ul|li|table|thead|tbody|tr|t[hd]( style="text-align:right")?)>$`, tag, "no markup but the sheet's own")
	}
	r := parse(t, markdown.String())
	for i, title := range r.titles {
		assert.Equal(t, page.Harmless(strings.Join(strings.Fields(s.Sections[i].Title), " ")), title)
	}
	path := filepath.Join(t.TempDir(), "sheet.html")
	require.NoError(t, os.WriteFile(path, []byte(web.String()), 0o666))
	reporttest.InBrowser(t, "plain.mjs", path)
}

// FuzzEscape: an independent reader of Markdown shows an escaped text as it is.
func FuzzEscape(f *testing.F) {
	for _, text := range reporttest.Hostile {
		f.Add(text)
	}
	md := goldmark.New(goldmark.WithExtensions(extension.GFM), goldmark.WithRendererOptions(markup.WithUnsafe()))
	f.Fuzz(func(t *testing.T, text string) {
		var b strings.Builder
		require.NoError(t, md.Convert([]byte("| a |\n| --- |\n| x "+escape(text)+" x |\n"), &b))
		_, cell, ok := strings.Cut(b.String(), "<td>")
		require.True(t, ok)
		cell, after, _ := strings.Cut(cell, "</td>")
		require.NotContains(t, after, "<td>", "one cell")
		require.Equal(t, strings.Join(strings.Fields("x "+page.Harmless(strings.Join(strings.Fields(text), " "))+" x"), " "), strings.Join(strings.Fields(html.UnescapeString(cell)), " "))
	})
}

// TestThreeWaysOneWording: text, Markdown and page say the same.
func TestThreeWaysOneWording(t *testing.T) {
	s := demoSheet(t, "CS-00010")
	words := func(write func(io.Writer) error, clean func(string) string) string {
		var b strings.Builder
		require.NoError(t, write(&b))
		return strings.Join(strings.Fields(clean(b.String())), " ")
	}
	tags := regexp.MustCompile(`<[^>]*>`)
	text := words(s.WriteText, func(s string) string { return s })
	markdown := words(s.WriteMarkdown, shownText)
	page := words(s.WriteHTML, func(s string) string { return html.UnescapeString(tags.ReplaceAllString(s, " ")) })
	has := func(what string) {
		what = strings.Join(strings.Fields(what), " ")
		for _, out := range []string{text, markdown, page} {
			assert.True(t, strings.Contains(out, what), what)
		}
	}
	has(s.Title)
	has(s.Caution)
	for i := range s.Sections {
		sec := &s.Sections[i]
		has(sec.Title)
		for j := range sec.Lines {
			l := &sec.Lines[j]
			for _, part := range []string{l.Name, l.value(), l.Origin, l.Formula, l.Source, l.Inputs} {
				has(part)
			}
		}
		for _, it := range sec.Items {
			has(it.Text)
		}
		for _, n := range sec.Notes {
			has(n)
		}
	}
}

// TestSourcesResolve: every page of docs that a sheet sends a reviewer to is there,
// with the section it names.
func TestSourcesResolve(t *testing.T) {
	found := map[string]bool{}
	for _, id := range []string{"CS-00006", "CS-00010"} {
		var b strings.Builder
		require.NoError(t, demoSheet(t, id).WriteMarkdown(&b))
		for _, m := range regexp.MustCompile(`docs/[a-z/-]+\.md(#[a-z0-9-]+)?`).FindAllString(shownText(b.String()), -1) {
			found[m] = true
		}
	}
	assert.Greater(t, len(found), 5)
	for m := range found {
		path, section, _ := strings.Cut(m, "#")
		text, err := os.ReadFile(filepath.Join("..", "..", path))
		require.NoError(t, err)
		anchors := map[string]bool{"": true}
		for _, h := range regexp.MustCompile(`(?m)^#+ (.*)$`).FindAllStringSubmatch(string(text), -1) {
			anchors[strings.ReplaceAll(strings.ToLower(h[1]), " ", "-")] = true
		}
		assert.True(t, anchors[section], m)
	}
}
