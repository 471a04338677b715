package main

import (
	"bytes"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// page writes the licences of a program as a page of the manual.
func page(w io.Writer, folder string, modules []module) error {
	name := filepath.Base(folder)
	var b bytes.Buffer
	fmt.Fprintf(&b, "# Licences of %s\n\n", name)
	fmt.Fprintf(&b, "What is linked into `%s` besides Plinth itself ([Apache-2.0](../LICENSE)): %d modules "+
		"and Go's library, over Linux, macOS and\nWindows. Written by `make licences` from the files that "+
		"the modules bring; identifiers are those of SPDX.\n", name, len(modules)-1)
	fmt.Fprintf(&b, "`make licences` fails where a licence is unknown or not among the accepted. `make "+
		"release` puts the texts beside the binary.\n\n")
	fmt.Fprintf(&b, "| module | version | licences, of all of it or of a part |\n| --- | --- | --- |\n")
	users := map[string]int{}
	for _, m := range modules {
		ids := m.licences()
		for _, id := range ids {
			users[id]++
		}
		fmt.Fprintf(&b, "| %s | %s | %s |\n", m.Path, m.Version, strings.Join(ids, ", "))
	}
	fmt.Fprintf(&b, "\n## What is accepted, and why\n\n| licence | in | what it asks |\n| --- | ---: | --- "+
		"|\n")
	for _, id := range slices.Sorted(maps.Keys(users)) {
		fmt.Fprintf(&b, "| %s | %d | %s |\n", id, users[id], accepted[id])
	}
	fmt.Fprintf(&b, "\n## Read by hand\n\nTexts that a recogniser cannot judge. Each is known by its sum "+
		"and is read again when it changes.\n\n| text | holds | why |\n| --- | --- | --- |\n")
	for _, m := range modules {
		for _, f := range m.Files {
			if r, ok := byHand[f.sum()]; ok {
				fmt.Fprintf(&b, "| %s %s | %s | %s |\n", m.Path, f.Name, strings.Join(r.Licences, ", "),
					r.Why)
			}
		}
	}
	_, err := w.Write(b.Bytes())
	return err
}

// carried writes the texts that accompany a binary, Plinth's own first. A text that several
// modules share is written once.
func carried(w io.Writer, folder string, modules []module) error {
	own, err := os.ReadFile("LICENSE")
	if err != nil {
		return fmt.Errorf("run it in the root of the repository: %w", err)
	}
	var texts []string
	users := map[string][]string{}
	add := func(of string, raw []byte) {
		text := string(tidy(raw))
		if users[text] == nil {
			texts = append(texts, text)
		}
		users[text] = append(users[text], of)
	}
	add("Plinth", own)
	for _, m := range modules {
		for _, f := range m.Files {
			add(m.Path+" "+m.Version+": "+f.Name, f.Text)
		}
	}
	var b bytes.Buffer
	fmt.Fprintf(&b, "Licences and notices of what is linked into %s.\n", filepath.Base(folder))
	for _, text := range texts {
		fmt.Fprintf(&b, "\n%s\n%s\n\n%s\n", strings.Repeat("=", 80), strings.Join(users[text], "\n"), text)
	}
	_, err = w.Write(b.Bytes())
	return err
}

// tidy returns the text without surrounding space and with Unix line endings.
func tidy(text []byte) []byte {
	return bytes.TrimSpace(bytes.ReplaceAll(text, []byte("\r\n"), []byte("\n")))
}
