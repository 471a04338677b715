package commands

import (
	"bytes"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
)

// A page is one page of the manual as a reader of Markdown has it.
type manualPage struct {
	path   string // from the root
	source []byte
	tree   ast.Node
}

// manualPages returns every page of docs and those of the root, in order.
func manualPages(t *testing.T) []manualPage {
	root := filepath.Join("..", "..")
	paths := []string{"README.md", "DEVELOPERS.md", "CHANGELOG.md"}
	require.NoError(t, filepath.WalkDir(filepath.Join(root, "docs"), func(path string, d fs.DirEntry, err error) error {
		if filepath.Ext(path) == ".md" {
			rel, _ := filepath.Rel(root, path)
			paths = append(paths, rel)
		}
		return err
	}))
	md := goldmark.New(goldmark.WithExtensions(extension.GFM), goldmark.WithParserOptions(parser.WithAutoHeadingID()))
	var pages []manualPage
	for _, path := range paths {
		source, err := os.ReadFile(filepath.Join(root, path))
		require.NoError(t, err)
		pages = append(pages, manualPage{filepath.ToSlash(path), source, md.Parser().Parse(text.NewReader(source))})
	}
	return pages
}

// each calls do with every node of a page.
func (p *manualPage) each(do func(ast.Node)) {
	ast.Walk(p.tree, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if entering {
			do(n)
		}
		return ast.WalkContinue, nil
	})
}

// lines returns the text of a block of code.
func (p *manualPage) lines(n ast.Node) string {
	var b strings.Builder
	for i := range n.Lines().Len() {
		segment := n.Lines().At(i)
		b.Write(segment.Value(p.source))
	}
	return b.String()
}

// TestLinksOfTheManual: every link to a page, a section or a picture leads somewhere,
// and every page is reached from the front page.
func TestLinksOfTheManual(t *testing.T) {
	pages := manualPages(t)
	sections := map[string][]string{}
	for i := range pages {
		pages[i].each(func(n ast.Node) {
			if id, ok := n.AttributeString("id"); ok {
				sections[pages[i].path] = append(sections[pages[i].path], string(id.([]byte)))
			}
		})
	}
	links := map[string][]string{}
	for i := range pages {
		p := &pages[i]
		p.each(func(n ast.Node) {
			var to string
			switch n := n.(type) {
			case *ast.Link:
				to = string(n.Destination)
			case *ast.Image:
				to = string(n.Destination)
			}
			if to == "" || strings.Contains(to, "://") {
				return
			}
			file, section, _ := strings.Cut(to, "#")
			target := p.path
			if file != "" {
				target = filepath.ToSlash(filepath.Join(filepath.Dir(p.path), file))
				_, err := os.Stat(filepath.Join("..", "..", target))
				assert.NoError(t, err, "%s: %s", p.path, to)
			}
			if section != "" {
				assert.Contains(t, sections[target], section, "%s: %s", p.path, to)
			}
			links[p.path] = append(links[p.path], target)
		})
	}
	reached := []string{"docs/index.md"}
	for i := 0; i < len(reached); i++ {
		for _, to := range links[reached[i]] {
			if !slices.Contains(reached, to) {
				reached = append(reached, to)
			}
		}
	}
	for _, p := range pages {
		if strings.HasPrefix(p.path, "docs/") {
			assert.Contains(t, reached, p.path, "no way leads from docs/index.md to it")
		}
	}
}

// ours is a line of a block of code that runs the program.
var ours = regexp.MustCompile(`^(?:\$ )?(?:bin/)?plinth .*`)

// TestCommandsOfTheManual runs every command that the manual shows, page by page, each
// page in a folder of its own with the demo in it. A block with a path behind its
// language is a file of that folder.
func TestCommandsOfTheManual(t *testing.T) {
	if testing.Short() {
		t.Skip("screens the demo for every page that does")
	}
	ran := map[string]bool{}
	for _, p := range manualPages(t) {
		var commands []string
		files := map[string]string{}
		p.each(func(n ast.Node) {
			switch n := n.(type) {
			case *ast.FencedCodeBlock:
				if n.Info != nil {
					if _, path, ok := strings.Cut(string(n.Info.Value(p.source)), " "); ok {
						files[path] = p.lines(n)
					}
				}
			case *ast.CodeBlock:
			default:
				return
			}
			for _, line := range strings.Split(p.lines(n), "\n") {
				if ours.MatchString(line) && !strings.Contains(line, " > ") {
					commands = append(commands, line)
				}
			}
		})
		if len(commands) == 0 {
			continue
		}
		t.Run(p.path, func(t *testing.T) {
			t.Chdir(t.TempDir())
			for path, content := range files {
				require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o777))
				require.NoError(t, os.WriteFile(path, []byte(content), 0o666))
			}
			if !strings.Contains(commands[0], "sample") {
				require.Zero(t, Main([]string{"plinth", "sample", "--quiet", "demo"}, nil, new(bytes.Buffer), new(bytes.Buffer)))
			}
			for _, line := range commands {
				line, _, _ = strings.Cut(strings.TrimPrefix(line, "$ "), " #")
				words := strings.Fields(line)
				if words[1] == "confirm" && ran["confirm"] { // time histories: once is enough
					continue
				}
				ran[words[1]] = true
				var stdout, stderr bytes.Buffer
				code := Main(words, nil, &stdout, &stderr)
				assert.Contains(t, []int{exitDone, exitRejected}, code, "%s\n%s%s", line, stdout.String(), stderr.String())
			}
		})
	}
	for _, c := range app(nil, nil, nil).VisibleCommands() {
		assert.True(t, ran[c.Name], "the manual shows plinth %s nowhere", c.Name)
	}
}
