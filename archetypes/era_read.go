package archetypes

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
)

var eraHeader = []string{"region", "zone", "from_year", "to_year", "rule", "parameters", "level",
	"to_strength", "overstrength", "detailing", "source", "confidence"}

// readEras reads a table of eras, a CSV with the columns
//
//	region, zone    slugs; the first zone of a region also serves for an unknown zone
//	from_year       year of design, inclusive
//	to_year         inclusive, empty for the last era of the zone
//	rule            name of a design rule
//	parameters      name=value of the rule, separated by spaces; beside them, where the code has
//	                them, the importance factors crowded and essential, and by-place=1 where
//	                it held only in places classified by then
//	level           allowable or strength, the level of the rule's coefficient
//	to_strength     factor from that level to strength level, 1 for strength
//	overstrength    of buildings of the era, empty for that of the system
//	detailing       non-ductile, limited or ductile
//	source, confidence
//
// The rows of a zone are consecutive, oldest first, without a gap in the years.
func readEras(r io.Reader, file string) ([]region, error) {
	t, err := openTable(r, file, eraHeader...)
	if err != nil {
		return nil, err
	}
	var out []region
	for {
		if err := t.next(); err == io.EOF {
			return out, closed(out, file)
		} else if err != nil {
			return nil, err
		}
		e, err := readEra(t)
		if err != nil {
			return nil, err
		}
		if out, err = place(t, out, e); err != nil {
			return nil, err
		}
	}
}

// place adds the era of the current row to its region and zone.
func place(t *table, out []region, e era) ([]region, error) {
	ri := slices.IndexFunc(out, func(g region) bool { return g.slug == t.row[0] })
	if ri < 0 {
		if t.row[0] == "" || len(out) == math.MaxUint8 {
			return nil, t.fail(0, "a region needs a name, and there may be 255")
		}
		ri, out = len(out), append(out, region{slug: t.row[0]})
	}
	g := &out[ri]
	zi := slices.IndexFunc(g.zones, func(z zone) bool { return z.slug == t.row[1] })
	if zi < 0 {
		if t.row[1] == "" || len(g.zones) == math.MaxUint8-1 {
			return nil, t.fail(1, "a zone needs a name, and there may be 254")
		}
		zi, g.zones = len(g.zones), append(g.zones, zone{slug: t.row[1]})
	}
	z := &g.zones[zi]
	if n := len(z.eras); n > 0 && e.from != z.eras[n-1].to+1 {
		return nil, t.fail(2, fmt.Sprintf("must follow the zone's previous era, which ends in %d",
			z.eras[n-1].to))
	}
	z.eras = append(z.eras, e)
	return out, nil
}

// closed checks that the last era of every zone has no last year.
func closed(regions []region, file string) error {
	for _, g := range regions {
		for _, z := range g.zones {
			if z.eras[len(z.eras)-1].to != lastYear {
				return &TableError{File: file,
					Rule: fmt.Sprintf("the last era of %s zone %s must have an empty to_year", g.slug,
						z.slug)}
			}
		}
	}
	return nil
}

func readEra(t *table) (e era, err error) {
	if e.from, err = t.year(2); err != nil {
		return e, err
	}
	e.to = lastYear
	if t.row[3] != "" {
		if e.to, err = t.year(3); err != nil {
			return e, err
		}
		if e.to < e.from {
			return e, t.fail(3, "must not be before from_year")
		}
	}
	if e.rule = ruleNamed(t.row[4]); e.rule == nil {
		return e, t.fail(4, "is no design rule; the rules are "+strings.Join(ruleNames(), ", "))
	}
	if err = readParams(t, 5, &e); err != nil {
		return e, err
	}
	level, err := t.word(6, []string{"allowable", "strength"})
	if err != nil {
		return e, err
	}
	if e.toStrength, err = t.number(7, 1, 3); err != nil {
		return e, err
	}
	if level == 1 && e.toStrength != 1 {
		return e, t.fail(7, "must be 1 where level is strength")
	}
	if t.row[8] != "" {
		if e.overstrength, err = t.number(8, 1, 6); err != nil {
			return e, err
		}
	}
	d, err := t.word(9, detailingWords[:])
	if err != nil {
		return e, err
	}
	e.detailing = Detailing(d)
	c, err := t.citation(10)
	if err != nil {
		return e, err
	}
	e.describe(c, strings.TrimSpace(t.row[5]+", "+t.row[6]+" level"))
	return e, nil
}

// describe writes the formulas of the era; here are its parameters in words.
func (e *era) describe(c citation, here string) {
	e.coefficient = Formula{
		ID:         e.rule.name,
		Text:       e.rule.text + e.importance.text() + "; here " + here,
		Source:     e.rule.source + "; parameters: " + c.source,
		Confidence: c.confidence,
	}
	if e.byPlace > 0 {
		e.coefficient.Text += "; it held where the place was classified by then, 0 elsewhere"
	}
	e.strengthened = e.coefficient
	e.strengthened.ID += "-strengthened"
	e.strengthened.Text = fmt.Sprintf("%g of that of the year of strengthening: %s", strengthenedShare,
		e.coefficient.Text)
	e.strengthened.Confidence = Low
}

func (t *table) year(column int) (int, error) {
	y, err := strconv.Atoi(t.row[column])
	if err != nil || y < 1 || y > 9999 {
		return 0, t.fail(column, "must be a year from 1 to 9999")
	}
	return y, nil
}
