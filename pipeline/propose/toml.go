package propose

import (
	"fmt"
	"path/filepath"
	"strings"

	"plinth/pipeline/inventory"
	"plinth/pipeline/page"
)

// mostWords is how many words of a column a plan lists.
const mostWords = 60

// TOML returns the plan. path is that of the register as the plan names it.
func (p *Proposal) TOML(path string) []byte {
	var b strings.Builder
	say := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	inv := &p.t.inv
	say("# Proposed by `plinth init` from the register alone. Nothing here was checked by anybody: read each")
	say("# line. docs/plan.md explains every key. A building that is not flagged is not thereby safe.")
	say("name = %s", quoted(strings.TrimSuffix(filepath.Base(path), filepath.Ext(path))))
	say("\n[inventory]\npath = %s", quoted(filepath.ToSlash(path)))
	for _, k := range [][2]string{{"delimiter", inv.Delimiter}, {"decimal", inv.Decimal}, {"sheet", inv.Sheet}} {
		if k[1] != "" && !(k[0] == "delimiter" && k[1] == ",") {
			say("%s = %s", k[0], quoted(k[1]))
		}
	}
	if p.swap {
		say("swap = true # the columns of longitude and latitude hold each other's values")
	}
	for _, note := range p.t.frame.Notes {
		say("# %s", page.Harmless(note))
	}
	say("\n[inventory.columns] # our field = the register's column")
	for _, c := range p.columns {
		say("%s = %s # filled in %d of %d rows%s", c.field, quoted(c.header), c.filled, p.looked(),
			also(c.why, c.unit == ""))
	}
	for _, f := range p.missing {
		say("# %s = \"\" # TO DO: no column was found for it (%s)", f, f.Spec().Doc)
	}
	if left := p.left(); len(left) > 0 {
		say("# not used: %s", page.Harmless(strings.Join(left, ", ")))
	}
	p.units(say)
	p.values(say)
	p.assume(say)
	b.WriteString(hazardToDo)
	return []byte(b.String())
}

// looked returns the rows that were looked at and could be split.
func (p *Proposal) looked() int { return p.t.rows - p.t.bad }

func also(why string, here bool) string {
	if why == "" || !here {
		return ""
	}
	return "; " + why
}

// left returns the columns that no field took.
func (p *Proposal) left() []string {
	var left []string
	for at, h := range p.t.header {
		taken := h == ""
		for _, c := range p.columns {
			taken = taken || c.fit.column == at
		}
		if !taken {
			left = append(left, h)
		}
	}
	return left
}

func (p *Proposal) units(say func(string, ...any)) {
	headed := false
	for _, c := range p.columns {
		if c.unit == "" {
			continue
		}
		if !headed {
			say("\n[inventory.units]")
			headed = true
		}
		why := ""
		if c.why != "" {
			why = " # " + c.why
		}
		say("%s = %s%s", c.field, quoted(c.unit), why)
	}
}

func (p *Proposal) values(say func(string, ...any)) {
	for _, c := range p.columns {
		if len(c.words) == 0 {
			continue
		}
		say("\n[inventory.values.%s] # CHECK each: the register's word = ours, and the rows that have it", c.field)
		if c.asIs > 0 {
			say("# %d other words of the column are read as they are", c.asIs)
		}
		open := false
		for i, w := range c.words {
			if i == mostWords {
				say("# and %d more words; `plinth check` lists them", len(c.words)-i)
				break
			}
			if w.ours != "" {
				say("%s = %s # %d", quoted(w.theirs), quoted(w.ours), w.cells)
				continue
			}
			open = true
			say("# %s = \"\" # %d, TO DO: which of ours is it?", quoted(w.theirs), w.cells)
		}
		if open {
			say("# ours: %s", strings.Join(c.field.Words(), ", "))
		}
	}
}

// assume writes what keeps a row usable whose system is not known, since one word that is not
// mapped would else reject it.
func (p *Proposal) assume(say func(string, ...any)) {
	say("\n[inventory.assume] # what is taken where the register is silent; it counts as assumed and lowers the grade")
	say("system = \"unknown-mix\" # TO DO: map the words above, or say what most buildings are")
	if p.column(inventory.UseField) == nil {
		say("# use = \"office\" # TO DO: no column of uses was found")
	}
}

// hazardToDo ends a plan: which hazard a place has is not in its register.
const hazardToDo = `
# TO DO: the shaking. Until this table is filled in, ` + "`plinth check`" + ` reads the register alone and every other
# command refuses the plan. Take the values from your hazard study or your code; the numbers below only show
# the form. docs/methods/hazard-by-location.md has grids, points, curves, zones and standards.
#
# [hazard]
# kind = "constant"           # one spectrum for every site
# pga = 0.0                   # g
# periods_s = [0.2, 0.5, 1, 2]
# sa = [0.0, 0.0, 0.0, 0.0]   # g, at those periods
# reference_return_period_yr = 475
# k = 3.0                     # carries it to other return periods (EN 1998-1 2.1(4))
# soil_included = false       # true if the values hold for the ground at each site, false for rock
# site_class = "C"            # where the register does not say; it counts as assumed

# TO DO: whose codes the buildings followed; generic is for none of them.
# [archetypes]
# region = "generic"
`

// quoted returns s as a basic string of TOML.
func quoted(s string) string { return inventory.QuoteTOML(s) }
