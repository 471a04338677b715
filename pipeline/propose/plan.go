package propose

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"plinth/pipeline/inventory"
	"plinth/pipeline/inventory/cell"
)

// A Proposal is what a plan would say of a register.
type Proposal struct {
	t       *table
	columns []column
	missing []inventory.Field // without which a screening does little
	swap    bool              // longitude and latitude stand the wrong way round
}

// A column of the register as a field.
type column struct {
	fit
	header string
	filled int
	unit   string
	why    string // of the unit or the choice, "" where it is plain
	words  []word
	asIs   int // distinct words that are read as they are
}

// A word of the owner's, and ours for it, "" where it must be filled in.
type word struct {
	theirs, ours string
	cells        int
}

// wanted are the fields that decide most, in the order of docs/methods/register.md.
var wanted = []inventory.Field{inventory.ID, inventory.Lon, inventory.Lat, inventory.System, inventory.Year,
	inventory.Storeys, inventory.FloorArea, inventory.UseField, inventory.SiteClass}

func (t *table) propose() *Proposal {
	p := &Proposal{t: t}
	for _, f := range t.columns() {
		c := column{fit: f, header: t.header[f.column]}
		for _, s := range t.cells[f.column] {
			if !t.null(s) {
				c.filled++
			}
		}
		if !f.named {
			c.why = "taken by its values, not by its name: look"
		}
		if f.field.Spec().Dimension.Declared() {
			c.unit, c.why = t.unit(f)
		}
		if f.field.Spec().Kind == inventory.Word {
			c.words, c.asIs = t.words(f)
		}
		p.columns = append(p.columns, c)
	}
	for _, f := range wanted {
		drawn := t.frame.Drawn && (f == inventory.Lon || f == inventory.Lat)
		if p.column(f) == nil && !drawn {
			p.missing = append(p.missing, f)
		}
	}
	p.swap = p.swapped()
	return p
}

// column returns the column of a field, nil for none.
func (p *Proposal) column(f inventory.Field) *column {
	i := slices.IndexFunc(p.columns, func(c column) bool { return c.field == f })
	if i < 0 {
		return nil
	}
	return &p.columns[i]
}

// swapped reports whether most latitudes are none and most longitudes could be.
func (p *Proposal) swapped() bool {
	lat, lon := p.column(inventory.Lat), p.column(inventory.Lon)
	if lat == nil || lon == nil {
		return false
	}
	beyond := func(c *column) (n int) {
		for _, s := range p.t.cells[c.fit.column] {
			if x, ok := p.t.figure(s); ok && (x > 90 || x < -90) {
				n++
			}
		}
		return n
	}
	return 2*beyond(lat) > lat.filled && beyond(lon) == 0
}

// unit returns the unit of a column: that of its name, else one by the size of its values.
func (t *table) unit(f fit) (unit, why string) {
	if _, unit = split(f.field, t.header[f.column]); unit != "" {
		return unit, ""
	}
	if f.field.Spec().Dimension == cell.Surface {
		inFeet := func(h string) bool { _, u := split(inventory.Height, h); return u == "ft" }
		if h := slices.IndexFunc(t.header, inFeet); h >= 0 {
			return "ft2", "CHECK: no unit in its name; ft2 because " + t.header[h] + " is in ft"
		}
	}
	if f.field == inventory.Height {
		if perStorey := t.perStorey(f.column); perStorey > 7 {
			return "ft", fmt.Sprintf("CHECK: no unit in its name; ft because a storey would be %.2g high", perStorey)
		} else if perStorey > 0 {
			return "m", fmt.Sprintf("CHECK: no unit in its name; m because a storey is %.2g high", perStorey)
		}
	}
	unit = f.field.Spec().Dimension.Units()[0]
	return unit, "CHECK: no unit in its name; " + unit + " was taken without a reason"
}

// perStorey returns the median height over storeys, 0 if that is not known.
func (t *table) perStorey(height int) float64 {
	for at, header := range t.header {
		if named(inventory.Storeys, header) < 1 {
			continue
		}
		var ratios []float64
		for i, c := range t.cells[height] {
			h, ok := t.figure(c)
			n, also := t.figure(t.cells[at][i])
			if ok && also && n > 0 && h > 0 {
				ratios = append(ratios, h/n)
			}
		}
		if slices.Sort(ratios); len(ratios) > 0 {
			return ratios[len(ratios)/2]
		}
	}
	return 0
}

// words returns the distinct words of a column that a plan must translate, the most frequent
// first, and the number of those that are read as they are.
func (t *table) words(f fit) (list []word, asIs int) {
	counts := map[string]int{}
	for _, c := range t.cells[f.column] {
		if !t.null(c) {
			counts[c]++
		}
	}
	for theirs, n := range counts {
		ours, plain := meaning(f.field, theirs)
		if plain {
			asIs++
			continue
		}
		list = append(list, word{theirs, ours, n})
	}
	slices.SortFunc(list, func(a, b word) int {
		return cmp.Or(cmp.Compare(b.cells, a.cells), strings.Compare(a.theirs, b.theirs))
	})
	return list, asIs
}
