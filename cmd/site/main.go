// Site renders the manual, docs/*.md and the pages in the root that it links to, as a folder of
// HTML that opens without a network. make site runs it.
package main

import (
	"bytes"
	_ "embed" // for the style sheet
	"fmt"
	"html/template"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"

	"plinth/pipeline/disk"
	"plinth/pipeline/report"
)

//go:embed site.css
var style string

var page = report.NewPlain(`<nav aria-label="Manual"><a href="{{.Home}}">Plinth: the manual</a></nav>
<article>
{{.Text}}</article>
`, style).WithPictures()

func main() {
	if len(os.Args) != 3 {
		fmt.Fprintln(os.Stderr, "usage: site ROOT FOLDER")
		os.Exit(2)
	}
	if err := site(os.Args[1], os.Args[2]); err != nil {
		fmt.Fprintln(os.Stderr, "site:", err)
		os.Exit(1)
	}
}

// site writes the pages of the repository at root to folder to, at the same paths.
func site(root, to string) error {
	paths := []string{"README.md", "DEVELOPERS.md", "CHANGELOG.md", "LICENSE"}
	err := filepath.WalkDir(filepath.Join(root, "docs"), func(path string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			path, err = filepath.Rel(root, path)
			paths = append(paths, path)
		}
		return err
	})
	for _, path := range paths {
		if err == nil {
			err = write(root, to, path)
		}
	}
	return err
}

// write renders one page, or copies a file that is not a page.
func write(root, to, path string) error {
	source, err := os.ReadFile(filepath.Join(root, path))
	if err != nil {
		return err
	}
	out := filepath.Join(to, path)
	if err := os.MkdirAll(filepath.Dir(out), 0o777); err != nil {
		return err
	}
	if filepath.Ext(path) != ".md" {
		return os.WriteFile(out, source, 0o666)
	}
	home, err := filepath.Rel(filepath.Dir(path), filepath.Join("docs", "index.html"))
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := markdown.Convert(source, &b); err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	return disk.Write(asHTML(out), 0o666, func(w io.Writer) error {
		return page.Write(w, title(source), struct {
			Home string
			Text template.HTML // from our own pages
		}{filepath.ToSlash(home), template.HTML(b.String())})
	})
}

var markdown = goldmark.New(
	goldmark.WithExtensions(extension.GFM),
	goldmark.WithParserOptions(parser.WithAutoHeadingID(),
		parser.WithASTTransformers(util.Prioritized(links{}, 100))),
)

// links rewrites links between pages to their HTML.
type links struct{}

// Transform implements parser.ASTTransformer.
func (links) Transform(doc *ast.Document, _ text.Reader, _ parser.Context) {
	ast.Walk(doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if l, ok := n.(*ast.Link); ok && entering && !bytes.Contains(l.Destination, []byte("://")) {
			file, section, found := strings.Cut(string(l.Destination), "#")
			file = asHTML(file)
			if found {
				file += "#" + section
			}
			l.Destination = []byte(file)
		}
		return ast.WalkContinue, nil
	})
}

// asHTML returns the name of a page's HTML file, and any other name unchanged.
func asHTML(path string) string {
	if base, ok := strings.CutSuffix(path, ".md"); ok {
		return base + ".html"
	}
	return path
}

// title returns the first heading.
func title(source []byte) string {
	line, _, _ := bytes.Cut(source, []byte("\n"))
	return strings.TrimPrefix(string(line), "# ")
}
