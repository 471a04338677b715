package measured

import "slices"

// unused names every row of the folder that no number stands beside.
func (p *page) unused(c *Comparison) {
	p.f(unusedWords)
	p.table("file", "row", "value", "why nothing is predicted")
	for i := range c.buildings.values {
		if v := &c.buildings.values[i]; v.unused != "" {
			p.row("measured.csv", v.structure.id, v.name()+" "+figure(v.measured), v.unused)
		}
	}
	for _, s := range c.buildings.silent() {
		p.row("structures.csv", s.id, "", "no measured value")
	}
	for i := range c.damage.curves {
		if v := &c.damage.curves[i]; v.unused != "" {
			of := v.text("set") + " " + v.text("class") + ", " + v.text("storeys") + " storeys"
			p.row("damage/fragilities.csv", of, v.text("grade"), v.unused)
		}
	}
	for i := range c.astray {
		e := &c.astray[i]
		p.row("elements.csv", e.text("id"), figure(e.median)+" "+e.text("unit"), e.unused())
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

// silent returns the structures of which nothing was measured.
func (b *buildings) silent() []*structure {
	var out []*structure
	for i := range b.structures {
		s := &b.structures[i]
		if !slices.ContainsFunc(b.values, func(v compared) bool { return v.structure.id == s.id }) {
			out = append(out, s)
		}
	}
	return out
}

// unused says why an element stands beside no limit.
func (e *element) unused() string {
	if e.text("quantity") == "floor_velocity" {
		return "the program's step is in floor acceleration, the published one in floor velocity"
	}
	return "names no limit of the program"
}
