package measured

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
)

// Line is the comparison in one sentence, for the report and for docs/limits.md.
func (c *Comparison) Line() string {
	_, floors := c.buildings.summary(&kinds[0], true)
	_, periods := c.buildings.summary(&kinds[1], true)
	medians, dispersion, surveyed := c.damage.medians()
	return fmt.Sprintf("Held against %d measured structures and %s surveyed buildings of masonry. "+
		"Predicted over measured in the geometric mean: floor accelerations %s over %d structures, aim %s; "+
		"periods %s over %d, aim %s; medians of damage %s, aim %s. Dispersion of damage %s, surveyed %s.",
		c.buildings.counted(), thousands(c.damage.surveyed()), ratio(floors.mean), floors.n, floorAim,
		ratio(periods.mean), periods.n, periodAim,
		ratio(medians.mean), medianAim, ratio(dispersion.mean), ratio(surveyed.mean))
}

// counted returns how many structures have a value that counts.
func (b *buildings) counted() int {
	seen := map[string]bool{}
	for i := range b.values {
		if c := &b.values[i]; c.unused == "" && c.counts() {
			seen[c.structure.id] = true
		}
	}
	return len(seen)
}

// lineStart is how the paragraph of docs/limits.md begins that Line is written to.
const lineStart = "Held against "

// InLimits returns the text of docs/limits.md with the line in its place: the paragraph
// that begins as the line does. ok is false where there is none.
func (c *Comparison) InLimits(limits string) (text string, ok bool) {
	lines := strings.Split(limits, "\n")
	for i, l := range lines {
		if strings.HasPrefix(l, lineStart) {
			lines[i] = c.Line() + " [Where it is off and why](measured.md)."
			return strings.Join(lines, "\n"), true
		}
	}
	return limits, false
}

// The files that hold the line, from the root of the repository.
const (
	reportFile = "pipeline/report/measured.txt"
	limitsFile = "docs/limits.md"
)

// WriteLine writes the line to where the report and the manual have it.
func (c *Comparison) WriteLine(root string) error {
	if err := os.WriteFile(filepath.Join(root, reportFile), []byte(c.Line()+"\n"), 0o666); err != nil {
		return err
	}
	path := filepath.Join(root, limitsFile)
	limits, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	text, ok := c.InLimits(string(limits))
	if !ok {
		return fmt.Errorf("%s: no paragraph begins with %q; write one where it shall stand", limitsFile, lineStart)
	}
	return os.WriteFile(path, []byte(text), 0o666)
}
