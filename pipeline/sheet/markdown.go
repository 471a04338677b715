package sheet

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"plinth/pipeline/page"
)

// WriteMarkdown writes the sheet as Markdown with tables (GitHub Flavored Markdown 0.29). Every
// text is escaped, so that it shows as the owner wrote it.
func (s *Sheet) WriteMarkdown(to io.Writer) error {
	w := bufio.NewWriter(to)
	fmt.Fprintf(w, "%s\n\n", page.Marks[1])
	fmt.Fprintf(w, "# %s\n\n", escape(s.Title))
	if s.Run != "" {
		fmt.Fprintf(w, "%s\n\n", escape(s.Run))
	}
	fmt.Fprintf(w, "**%s.** %s\n", cautionHead, escape(s.Caution))
	for i := range s.Sections {
		s.Sections[i].markdown(w)
	}
	return w.Flush()
}

func (s *Section) markdown(w io.Writer) {
	fmt.Fprintf(w, "\n## %s\n", escape(s.Title))
	if len(s.Lines) > 0 {
		s.Calculation().markdown(w, "---")
	}
	if len(s.Items) > 0 {
		fmt.Fprintln(w)
	}
	for _, it := range s.Items {
		fmt.Fprintf(w, "- **%s** %s\n", escape(it.Mark), escape(it.Text))
	}
	for i := range s.Tables {
		s.Tables[i].markdown(w, "---:")
	}
	for _, n := range s.Notes {
		fmt.Fprintf(w, "\n%s: %s\n", noteHead, escape(n))
	}
}

// markdown writes the table with its columns aligned by rule.
func (t *Table) markdown(w io.Writer, rule string) {
	fmt.Fprintln(w)
	writeRow(w, t.Columns)
	fmt.Fprintf(w, "|%s\n", strings.Repeat(" "+rule+" |", len(t.Columns)))
	for _, r := range t.Rows {
		writeRow(w, r)
	}
}

func writeRow(w io.Writer, cells []string) {
	io.WriteString(w, "|") // a failure comes back from Flush
	for _, c := range cells {
		fmt.Fprintf(w, " %s |", escape(c))
	}
	io.WriteString(w, "\n")
}

// marks escapes the characters that Markdown would read as markup inside a line.
var marks = strings.NewReplacer(
	"&", "&amp;", "<", "&lt;", ">", "&gt;", `\`, `\\`, "`", "\\`", "*", `\*`, "_", `\_`,
	"[", `\[`, "]", `\]`, "#", `\#`, "|", `\|`, "~", `\~`, "$", `\$`, "://", `:\//`, "www.", `www\.`, "@", `\@`,
)

// escape returns s on one line, harmless and without markup.
func escape(s string) string {
	return marks.Replace(page.Harmless(strings.Join(strings.Fields(s), " ")))
}
