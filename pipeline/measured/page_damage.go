package measured

import (
	"fmt"
	"strings"
)

func (p *page) damage(c *Comparison) {
	d := c.damage
	p.f(`## Observed damage: masonry at L'Aquila in 2009

%s buildings by class, storeys, band of Sa(0.3 s) and grade ([source](../testdata/measured/damage/README.md)). The program is asked for the probabilities that a building is beyond its limit states at
eight levels of Sa(0.3 s), %s g, with the shape of the spectrum near the fault, by a register and a plan of Italy, zone 2. A lognormal curve is fitted to both by the same code: greatest likelihood
over median and dispersion, one curve a grade; in the survey each building counts once at the mean shaking of its band, in the program each level once. Grades 2, 3 and 4 of EMS-98 pair with immediate
occupancy, life safety and collapse prevention as in the table of losses. Of the survey's dispersion about 0.2 belongs to the map of shaking.

`, thousands(d.surveyed()), floats(shakings))
	p.table("class, storeys", "the program's building", "limit state, grade", "median, program", "median, survey", "ratio", fmt.Sprintf("aim %s", medianAim),
		"dispersion, program", "dispersion, survey", fmt.Sprintf("aim %s", dispersionAim))
	for i := range d.stocks {
		s := &d.stocks[i]
		for j, g := range s.grades {
			name, building := "", ""
			if j == 0 {
				name, building = s.class+", "+s.storeys, s.building.String()
			}
			r := g.program.median / g.survey.median
			p.row(name, building, fmt.Sprintf("%s, D%d", pairs[j].name, pairs[j].grade), figure(g.program.median), figure(g.survey.median), ratio(r), medianAim.verdict(r),
				ratio(g.program.beta), ratio(g.survey.beta), dispersionAim.verdict(g.program.beta))
		}
	}
	p.f("\nMedians in g. Medians beyond 1.2 g lie outside the survey.\n\n")
	p.reasons(c.why, "damage", "dispersion", "medians")
	p.shareTable(d)
	p.curves(d)
	p.shares(d)
}

// reasons are sentences of reasons.csv about a whole section.
func (p *page) reasons(why reasons, file string, ids ...string) {
	p.f("Why it is off:\n\n")
	for _, id := range ids {
		p.f("- %s: %s\n", id, or(why.of(key{file, id, "", ""}, whyOff), "not known"))
	}
	p.f("\n")
}

// shareTable are the shares at every band of shaking by both.
func (p *page) shareTable(d *damage) {
	p.f("### Shares at each band of shaking\n\nPer cent of the buildings that are in the grade or a graver one, survey and program; the ratio of the latter at %s g has the aim %s.\n\n", figure(shakings[quarter]), shareAim)
	p.table("class, storeys", "Sa(0.3 s), g", "n", "D2+", "beyond IO", "D3+", "beyond LS", "D4+", "beyond CP", "ratios", "")
	for i := range d.stocks {
		s := &d.stocks[i]
		for k := range len(edges) - 1 {
			name, verdict, ratios := "", "", []string{}
			if k == 0 {
				name = s.class + ", " + s.storeys
			}
			var cells []string
			count := 0.0
			for j := range pairs {
				share, n := s.share(pairs[j].grade, edges[k], edges[k+1])
				count = n
				cells = append(cells, percent(share), percent(s.states[k][pairs[j].state]))
				if k == quarter {
					r := s.quarterRatio(j)
					ratios, verdict = append(ratios, ratio(r)), verdict+", "+shareAim.verdict(r)
				}
			}
			row := append([]string{name, fmt.Sprintf("%.2f to %.2f", edges[k], edges[k+1]), thousands(int(count))}, cells...)
			p.row(append(row, strings.Join(ratios, ", "), strings.TrimPrefix(verdict, ", "))...)
		}
	}
	p.f("\n")
}

// curves are the other fragilities beside the program's.
func (p *page) curves(d *damage) {
	p.f("### Other published curves\n\nPeak ground acceleration, g; the program's building is two storeys of the year that stands for the class (%s), in the same plan. Curves that were fitted to a whole class of the standard, or to "+
		"several regions, hold more spread than one building has.\n\n", "A 1900, B 1940, C 1980, D 1990")
	p.table("set, class", "grade", "published median, dispersion", "basis", "the program's system", "median, dispersion", "ratio of medians", "of dispersions")
	for i := range d.curves {
		c := &d.curves[i]
		for j, t := range c.buildings {
			g := c.program[j]
			p.row(c.text("set")+", "+c.text("class"), c.text("grade"), ratio(c.published.median)+", "+ratio(c.published.beta), c.text("basis"), t.system, ratio(g.median)+", "+ratio(g.beta),
				ratio(g.median/c.published.median), ratio(g.beta/c.published.beta))
		}
	}
	p.f("\n")
}

// shares are the surveys whose shaking is known only roughly.
func (p *page) shares(d *damage) {
	p.f("### Shares of surveyed stocks\n\nA plain listing: the shaking of these surveys is known only as a range, or from memory, so nothing is predicted beside them.\n\n")
	p.table("event, place", "stock", "years", "state", "per cent", "of", "shaking", "basis")
	for i := range d.shares {
		r := &d.shares[i]
		p.row(r.text("event")+", "+r.text("place"), r.text("class_words"), yearsOf(r.text("year_from"), r.text("year_to")), r.text("state_words"), r.text("share_pct"), r.text("n"), or(r.text("shaking"), "not known"), r.text("basis"))
	}
	p.f("\n")
}

// floats returns numbers with commas between.
func floats(list []float64) string {
	var out []string
	for _, v := range list {
		out = append(out, figure(v))
	}
	return strings.Join(out, ", ")
}

// yearsOf returns the years of a stock in words.
func yearsOf(from, to string) string {
	switch {
	case from == "" && to == "":
		return "all"
	case from == "":
		return "to " + to
	}
	return from + " to " + to
}
