package audit

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"plinth/pipeline/output"
)

func planHash(r *run, n *notes) error {
	n.saw("sha256 %.12s", r.manifest.PlanSHA256)
	hash, err := output.HashPlan(r.manifest.Plan)
	if err != nil {
		return err
	}
	if hash != r.manifest.PlanSHA256 {
		n.wrong("the plan in the manifest has sha256 %.12s, the manifest says %.12s", hash, r.manifest.PlanSHA256)
	}
	return nil
}

func filesWhole(r *run, n *notes) error {
	for _, f := range r.manifest.Files {
		if f.Name != filepath.Base(f.Name) {
			n.wrong("the manifest lists %q, which is not the name of a file of this folder", f.Name)
			continue
		}
		got, err := output.HashInput(r.path(f.Name), f.Name)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			n.wrong("%s is missing", f.Name)
		case err != nil:
			return err
		case got.Bytes != f.Bytes:
			n.wrong("%s has %d bytes, the manifest says %d", f.Name, got.Bytes, f.Bytes)
		case got.SHA256 != f.SHA256:
			n.wrong("%s has another content than the manifest says", f.Name)
		}
		if aside := output.PendingChanges(r.path(f.Name)); aside != "" {
			n.wrong("%s holds changes to %s that are not in it yet", filepath.Base(aside), f.Name)
		}
	}
	n.saw("%d files", len(r.manifest.Files))
	entries, err := os.ReadDir(r.dir)
	if err != nil {
		return err
	}
	for _, e := range entries {
		if e.Name() == output.WorkingName {
			n.wrong("%s was left aside by a run that did not end", e.Name())
		}
	}
	return nil
}

// partsSameRun checks the folders of other commands within the folder of the run.
func partsSameRun(r *run, n *notes) error {
	stale, looked, err := output.FindStale(r.dir)
	if err != nil {
		return err
	}
	for _, s := range stale {
		n.wrong("%s is %s", s.Folder, s.Problem)
	}
	n.saw("%d folders", looked)
	return nil
}

func countsBalance(r *run, n *notes) error {
	c := r.manifest.Counts
	n.saw("%d = %d + %d", c.In, c.Out, c.Rejected)
	if c.In != c.Out+c.Rejected {
		n.wrong("%d rows in, %d buildings out, %d rejected", c.In, c.Out, c.Rejected)
	}
	for _, f := range r.manifest.Files {
		table, _, _ := strings.Cut(f.Name, ".")
		want, known := map[string]int64{"buildings": c.Out, "rejects": c.Rejected}[table]
		read, isTable := rowReaders[formatOf(f.Name)]
		if f.Rows == 0 && !isTable {
			continue
		}
		if known && f.Rows != want {
			n.wrong("the manifest gives %s %d rows, %d expected", f.Name, f.Rows, want)
		}
		if !isTable {
			continue
		}
		var rows int64
		for _, err := range read(r.path(f.Name), f.Name) {
			if err != nil {
				return err
			}
			rows++
		}
		if rows != f.Rows {
			n.wrong("%s has %d rows, the manifest says %d", f.Name, rows, f.Rows)
		}
	}
	return nil
}

// formatOf returns the format of a file: the ending of its name.
func formatOf(name string) string { return strings.TrimPrefix(filepath.Ext(name), ".") }

// texts are the endings of files without rows in which the caution can be searched as text.
var texts = []string{"json", "html", "sld", "qml"}

// cautionsPresent looks for the caution where each format carries it.
func cautionsPresent(r *run, n *notes) error {
	if len(r.manifest.Cautions) == 0 || r.manifest.Cautions[0] != output.Caution {
		n.wrong("%s has no caution", output.ManifestName)
	}
	n.saw(output.ManifestName)
	for _, f := range r.manifest.Files {
		var found bool
		var err error
		switch format := formatOf(f.Name); {
		case format == output.FormatParquet:
			var said string
			said, err = footer(r.path(f.Name), "caution")
			found = said == output.Caution
		case format == output.FormatArchive:
			found, err = archiveSays(r.path(f.Name), output.Caution)
		case format == output.FormatCSV:
			found = r.has(f.Name + "-metadata.json")
		case slices.Contains(texts, format) || slices.Contains(output.FormatNames(), format):
			found, err = contains(r.path(f.Name), output.Caution)
		default:
			continue
		}
		if err != nil {
			return err
		}
		if !found {
			n.wrong("%s does not carry the caution", f.Name)
		}
		n.saw("%s", f.Name)
	}
	return nil
}

// contains reports whether the file holds text. It reads the file in pieces. An empty file has
// nothing to warn of, so it counts as holding the text.
func contains(path, text string) (bool, error) {
	f, err := os.Open(path)
	if err != nil {
		return false, err
	}
	defer f.Close()
	const piece = 64 << 10
	b := make([]byte, 0, piece+len(text))
	r := bufio.NewReader(f)
	for total := 0; ; {
		k, err := r.Read(b[len(b):min(cap(b), len(b)+piece)])
		total += k
		b = b[:len(b)+k]
		if bytes.Contains(b, []byte(text)) {
			return true, nil
		}
		if errors.Is(err, io.EOF) {
			return total == 0, nil
		}
		if err != nil {
			return false, err
		}
		if keep := len(text); len(b) > keep {
			b = b[:copy(b, b[len(b)-keep:])]
		}
	}
}

// fetches matches what makes a page load something: an element that names another file, an import
// of a style, or a picture in a style.
var fetches = regexp.MustCompile(`(?i)<(?:script|img|iframe|object|embed|video|audio|source)[^>]*\s(?:src|data)\s*=|<link\s|@import|url\(\s*['"]?(?:https?:)?//|\bfetch\(|XMLHttpRequest`)

// pagesAlone looks at every page of the run.
func pagesAlone(r *run, n *notes) error {
	for _, f := range r.manifest.Files {
		if filepath.Ext(f.Name) != ".html" {
			continue
		}
		b, err := os.ReadFile(r.path(f.Name))
		if err != nil {
			return err
		}
		n.saw("%s", f.Name)
		pageAlone(f.Name, b, n)
	}
	return nil
}

// pageAlone searches page b for anything that loads. It leaves out the element with the data, whose
// text is escaped and cannot load anything.
func pageAlone(name string, b []byte, n *notes) {
	before, rest, _ := bytes.Cut(b, []byte(`<script type="application/json"`))
	_, after, _ := bytes.Cut(rest, []byte("</script>"))
	for _, part := range [][]byte{before, after} {
		if m := fetches.Find(part); m != nil {
			n.wrong("%s loads something: %s", name, fmt.Sprintf("%.60q", m))
		}
	}
	if !bytes.Contains(before, []byte("default-src &#39;none&#39;")) &&
		!bytes.Contains(before, []byte("default-src 'none'")) {
		n.wrong("%s has no policy against loading", name)
	}
}
