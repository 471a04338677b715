package measured

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

func (p *page) elements(c *Comparison) {
	p.f(`## Element tests beside the limits

Every drift limit of the table of systems, and every step of the components of the loss model, with what was published of such an element. The 16 to 84 %% band is counted where the source counts it,
median exp(-ln sd) to median exp(ln sd) elsewhere. Below: the program's limit is stricter than 84 of 100 tests. The pairing of an element with a limit is ours.

`)
	p.table("system or component", "limit", "program", "element", "state", "published median, ln sd", "tests", "16 to 84 %", "", "basis")
	for i := range c.limits {
		l := &c.limits[i]
		what := figure(l.value) + " " + l.unit
		found := slices.DeleteFunc(slices.Clone(l.elements), func(e element) bool { return e.none })
		if len(found) == 0 {
			p.row(l.of, l.name, what, "no published value found", "", "", "", "", "", "")
		}
		for j := range found {
			e := &found[j]
			of, name, value := l.of, l.name, what
			if j > 0 {
				of, name, value = "", "", ""
			}
			spread := "-"
			if !math.IsNaN(e.low) {
				spread = figure(e.low) + " to " + figure(e.high)
			}
			p.row(of, name, value, strings.TrimSuffix(e.text("element")+", "+e.text("detail"), ", "), or(e.text("state_words"), e.text("state")),
				strings.TrimSuffix(figure(e.median)+", "+or(e.text("dispersion"), ""), ", "), or(e.text("n"), "-"), spread, l.inside(e), e.text("basis"))
		}
	}
	p.f("\n")
}

// codeRatios returns the mean of all printed forces and of those that were read.
func (c *Comparison) codeRatios() (all, readOnes mean) {
	var a, r []float64
	for i := range c.codes {
		if k := &c.codes[i]; k.force() {
			a = append(a, k.ratio())
			if read(k.text("basis")) {
				r = append(r, k.ratio())
			}
		}
	}
	return meanOf(a), meanOf(r)
}

// force reports whether the row is a printed force that enters means.
func (p *printed) force() bool {
	return p.unused == "" && !p.band() && p.text("quantity") != "period, s"
}

func (p *page) codes(c *Comparison) {
	p.f(`## Codes in time

The design coefficient that the program gives a building of the year, at the level of the printed one (allowable or strength). A printed band has no ratio: the program lies inside it or not. Most
rows are from memory, so that the last columns of the means say what those that were read come to. Where a value is computed from
the rule itself, the row checks how the program reads the rule, and not the rule.

`)
	p.table("case", "code", "building", "printed", "program", "ratio", "basis", "why it is off")
	for i := range c.codes {
		k := &c.codes[i]
		if k.unused != "" {
			continue
		}
		printed, r, why := k.text("quantity")+" "+k.text("printed")+" "+k.text("level"), ratio(k.ratio()), ""
		if k.band() {
			printed, r = fmt.Sprintf("%s, %s to %s %s", k.text("quantity"), figure(k.low), figure(k.high), k.text("level")), "inside"
			if k.missed() {
				r = "outside"
			}
		}
		if k.missed() {
			r, why = "**"+r+"**", or(k.off, "not known")
		}
		p.row(k.text("id"), k.text("code")+" "+k.text("edition"), k.text("system")+" "+k.text("year")+storeys(", ", k.whole("storeys")), strings.TrimSpace(printed), figure(k.predicted), r, k.text("basis"), why)
	}
	p.f("\n")
	p.codeMeans(c)
}

// codeMeans are the means by country and code.
func (p *page) codeMeans(c *Comparison) {
	type group struct{ all, read []float64 }
	groups := map[string]*group{}
	var order []string
	for i := range c.codes {
		k := &c.codes[i]
		if !k.force() {
			continue
		}
		for _, name := range []string{k.text("country"), k.text("country") + ", " + k.text("code") + " " + k.text("edition")} {
			if groups[name] == nil {
				groups[name] = &group{}
				order = append(order, name)
			}
			g := groups[name]
			g.all = append(g.all, k.ratio())
			if read(k.text("basis")) {
				g.read = append(g.read, k.ratio())
			}
		}
	}
	slices.Sort(order)
	p.table("country, code and edition", "printed forces", "geometric mean", "ln-sd", "of them read", "geometric mean")
	for _, name := range order {
		all, read := meanOf(groups[name].all), meanOf(groups[name].read)
		p.row(name, fmt.Sprint(all.n), ratio(all.mean), scatter(all.sd), fmt.Sprint(read.n), ratio(read.mean))
	}
	p.f("\n")
}

func (p *page) laws(c *Comparison) {
	p.f("## Published laws of periods\n\nThe program's median period over the law, at heights of %s m. Laws of ambient and small vibration are expected to be the shorter: concrete lengthens to between 1.2 and 2 times in strong shaking, and the program's "+
		"periods are those of strong shaking.\n\n", floats(heights))
	p.table("law", "system", "form", "amplitude, place", "basis", "ratios")
	for i := range c.laws {
		r := &c.laws[i]
		if r.unused != "" {
			continue
		}
		form := strings.ReplaceAll(r.text("form"), "^x", "^"+r.text("x"))
		var list []string
		for _, v := range r.ratios {
			list = append(list, ratio(v))
		}
		p.row(r.text("id"), r.text("system"), form+", c "+r.text("c")+" ("+r.text("height_unit")+")", r.text("amplitude")+", "+r.text("place"), r.text("basis"), strings.Join(list, ", "))
	}
	p.f("\n")
}

// unused names every row of the folder that no number stands beside.
func (p *page) unused(c *Comparison) {
	p.f("## What is not used, and why\n\n")
	p.table("file", "row", "value", "why nothing is predicted")
	for i := range c.buildings.values {
		if v := &c.buildings.values[i]; v.unused != "" {
			p.row("measured.csv", v.structure.id, quantity(v)+" "+figure(v.measured), v.unused)
		}
	}
	for i := range c.buildings.structures {
		s := &c.buildings.structures[i]
		has := slices.ContainsFunc(c.buildings.values, func(v compared) bool { return v.structure.id == s.id })
		if !has {
			p.row("structures.csv", s.id, "", "no measured value")
		}
	}
	for i := range c.damage.curves {
		if v := &c.damage.curves[i]; v.unused != "" {
			p.row("damage/fragilities.csv", v.text("set")+" "+v.text("class")+" "+v.text("storeys"), v.text("grade"), v.unused)
		}
	}
	for i := range c.astray {
		e := &c.astray[i]
		p.row("elements.csv", e.text("id"), figure(e.median)+" "+e.text("unit"), or(c.why.of(key{"elements", e.text("id"), "", ""}, whyUnused), astrayWhy(e)))
	}
	for i := range c.codes {
		if k := &c.codes[i]; k.unused != "" {
			p.row("codes.csv", k.text("id"), k.text("quantity")+" "+k.text("printed"), k.unused)
		}
	}
	for i := range c.laws {
		if r := &c.laws[i]; r.unused != "" {
			p.row("periods.csv", r.text("id"), r.text("form"), r.unused)
		}
	}
}

// astrayWhy says why an element stands beside no limit where reasons.csv does not.
func astrayWhy(e *element) string {
	if e.text("quantity") == "floor_velocity" {
		return "the program's step is in floor acceleration, the published one in floor velocity"
	}
	return "not known"
}

// storeys returns a number of storeys behind a mark, nothing where it is not known.
func storeys(mark string, n int) string {
	switch n {
	case 0:
		return ""
	case 1:
		return mark + "1 storey"
	}
	return fmt.Sprintf("%s%d storeys", mark, n)
}
