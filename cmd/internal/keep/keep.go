// Package keep preserves the handwritten part of a generated page of the manual. The part stands
// between two marker lines, which belong to it:
//
//	<!-- history -->
//	## What a change was worth
//	...
//	<!-- end of history -->
//
// A command that rewrites the page reads the part first and writes it back unchanged.
package keep

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"
)

const begin, end = "<!-- history -->\n", "<!-- end of history -->\n"

// History returns the handwritten part of the page at path, markers included. It is empty if there
// is no page yet. A page without the two markers is an error, since its history would be lost.
func History(path string) (string, error) {
	page, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return begin + end, nil
	}
	if err != nil {
		return "", err
	}
	_, after, found := strings.Cut(string(page), begin)
	history, _, closed := strings.Cut(after, end)
	if !found || !closed {
		return "", fmt.Errorf("%s: the lines %q and %q are missing; put them around the text to keep",
			path, strings.TrimSpace(begin), strings.TrimSpace(end))
	}
	return begin + history + end, nil
}
