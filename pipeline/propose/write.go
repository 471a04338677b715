package propose

import (
	"fmt"
	"io"
	"strings"

	"plinth/pipeline/page"
)

// Write tells the proposal in one screen of 80 columns.
func (p *Proposal) Write(to io.Writer) error {
	w := page.New(to)
	rows := fmt.Sprintf("%d rows", p.t.rows)
	if p.t.more {
		rows = "the first " + rows
	}
	w.Wrap("", fmt.Sprintf("Looked at %s and %d columns; %d of them became fields.", rows, len(p.t.header),
		len(p.columns)))
	for _, note := range p.t.frame.Notes {
		w.Wrap("- ", page.Harmless(note))
	}
	w.Line("")
	for _, c := range p.columns {
		text := page.Harmless(c.header)
		if c.unit != "" {
			text += ", " + c.unit
		}
		if todo := c.unmapped(); todo > 0 {
			text += fmt.Sprintf("; %d of %d words to map", todo, len(c.words)+c.asIs)
		}
		if c.why != "" {
			text += " (look)"
		}
		w.Wrap(fmt.Sprintf("  %-18s", c.field), text)
	}
	w.Line("")
	var missing []string
	for _, f := range p.missing {
		missing = append(missing, f.String())
	}
	if len(missing) > 0 {
		w.Wrap("- ", "No column was found for "+strings.Join(missing, ", ")+".")
	}
	if p.swap {
		w.Wrap("- ", "Longitude and latitude stand in each other's columns: swap = true.")
	}
	w.Wrap("- ", "A building without a known system is taken as unknown-mix, which counts as assumed.")
	w.Wrap("- ", "The hazard is left to do: only check runs until the plan has one.")
	return w.Flush()
}

// unmapped returns how many words have no word of ours.
func (c *column) unmapped() (n int) {
	for _, w := range c.words {
		if w.ours == "" {
			n++
		}
	}
	return n
}
