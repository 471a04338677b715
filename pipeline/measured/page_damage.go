package measured

import (
	"fmt"
	"strings"
)

func (p *page) damage(c *Comparison) {
	d := c.damage
	p.f(damageWords, thousands(d.surveyed()), figures(shakings))
	p.stocks(d)
	p.reasons(c.why, "dispersion", "medians")
	p.bands(d)
	p.collapse(d)
	p.curves(d)
	p.shares(d)
}

// stocks are the curves of the survey and of the program.
func (p *page) stocks(d *damage) {
	p.table("class, storeys", "the program's building", "limit state, grade",
		"median, program", "median, survey", "ratio", "aim "+medianAim.String(),
		"dispersion, program", "dispersion, survey", "aim "+dispersionAim.String())
	for i := range d.stocks {
		s := &d.stocks[i]
		for j, g := range s.grades {
			name, building := "", ""
			if j == 0 {
				name, building = s.name(), s.building.String()
			}
			r := g.program.median / g.survey.median
			p.row(name, building, fmt.Sprintf("%s, D%d", pairs[j].name, pairs[j].grade),
				figure(g.program.median), figure(g.survey.median), ratio(r), medianAim.verdict(r),
				ratio(g.program.beta), ratio(g.survey.beta), dispersionAim.verdict(g.program.beta))
		}
	}
	p.f("\nMedians in g of Sa(0.3 s). Those beyond 1.2 g lie outside the survey.\n\n")
}

// reasons are sentences of reasons.csv about the damage as a whole.
func (p *page) reasons(why reasons, ids ...string) {
	p.f("Why it is off:\n\n")
	for _, id := range ids {
		p.f("- %s: %s\n", id, or(why.of(key{"damage", id, "", ""}, whyOff), "not known"))
	}
	p.f("\n")
}

// bands are the shares at every band of shaking by both.
func (p *page) bands(d *damage) {
	p.f(shareWords, figure(shakings[quarter]), shareAim)
	columns := []string{"class, storeys", "Sa(0.3 s), g", "n"}
	for _, q := range pairs {
		columns = append(columns, fmt.Sprintf("D%d and graver", q.grade), "beyond "+q.name)
	}
	p.table(append(columns, "ratios", "")...)
	for i := range d.stocks {
		s := &d.stocks[i]
		for k := range len(edges) - 1 {
			name := ""
			if k == 0 {
				name = s.name()
			}
			p.row(s.band(name, k)...)
		}
	}
	p.f("\n")
}

// band returns the row of one band of shaking.
func (c *stockCompared) band(name string, k int) []string {
	var cells, ratios, verdicts []string
	_, n := c.share(0, edges[k], edges[k+1])
	for j, q := range pairs {
		share, _ := c.share(q.grade, edges[k], edges[k+1])
		cells = append(cells, percent(share), percent(c.states[k][q.state]))
		if k == quarter {
			r := c.quarterRatio(j)
			ratios, verdicts = append(ratios, ratio(r)), append(verdicts, shareAim.verdict(r))
		}
	}
	front := []string{name, fmt.Sprintf("%.2f to %.2f", edges[k], edges[k+1]), thousands(int(n))}
	return append(append(front, cells...), strings.Join(ratios, ", "), strings.Join(verdicts, ", "))
}

// collapse are the shares of what is beyond repair that fell down.
func (p *page) collapse(d *damage) {
	p.f(collapseWords)
	p.table("class, storeys", "grades 4 and 5", "survey", "program")
	for i := range d.stocks {
		s := &d.stocks[i]
		var grave, fallen float64
		for j := range s.rows {
			grave, fallen = grave+s.rows[j].beyond(4), fallen+s.rows[j].beyond(5)
		}
		p.row(s.name(), thousands(int(grave)), percent(fallen/grave), percent(s.fallen()))
	}
	p.f("\n")
}

// curves are the other fragilities beside the program's.
func (p *page) curves(d *damage) {
	p.f(curveWords)
	p.table("set, class", "grade", "published median, dispersion", "basis",
		"the program's system", "median, dispersion", "ratio of medians", "aim "+medianAim.String(),
		"of dispersions")
	for i := range d.curves {
		c := &d.curves[i]
		for j, t := range c.buildings {
			g := c.program[j]
			r := g.median / c.published.median
			p.row(c.text("set")+", "+c.text("class"), c.text("grade"), c.published.String(), c.text("basis"),
				t.system, g.String(), ratio(r), medianAim.verdict(r), ratio(g.beta/c.published.beta))
		}
	}
	p.f("\n")
}

// String returns median and dispersion.
func (f fragility) String() string { return scatter(f.median) + ", " + scatter(f.beta) }

// shares are the surveys whose shaking is known only roughly.
func (p *page) shares(d *damage) {
	p.f(stockWords)
	p.table("event, place", "stock", "years", "state", "per cent", "of", "shaking", "basis")
	for i := range d.shares {
		r := &d.shares[i]
		p.row(r.text("event")+", "+r.text("place"), r.text("class_words"), r.years(), r.text("state_words"),
			r.text("share_pct"), r.text("n"), or(r.text("shaking"), "not known"), r.text("basis"))
	}
	p.f("\n")
}

// years returns the years of a stock in words.
func (r *row) years() string {
	switch from, to := r.text("year_from"), r.text("year_to"); {
	case from == "" && to == "":
		return "all"
	case from == "":
		return "to " + to
	default:
		return from + " to " + to
	}
}
