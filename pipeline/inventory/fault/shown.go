package fault

import (
	"strings"

	"plinth/pipeline/page"
)

// Clip shortens a cell for a message.
func Clip(s string) string {
	const most = 60
	if len(s) <= most {
		return s
	}
	return strings.ToValidUTF8(s[:most], "") + "..."
}

// Shown returns s shortened, with what a terminal would obey replaced.
func Shown(s string) string { return page.Harmless(Clip(s)) }

// Listed phrases names of an owner's, each harmless and clipped.
func Listed(names []string, between string) string {
	out := make([]string, len(names))
	for i, n := range names {
		out[i] = Shown(n)
	}
	return strings.Join(out, between)
}
