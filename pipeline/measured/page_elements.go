package measured

import "math"

func (p *page) elements(c *Comparison) {
	p.f(elementWords)
	p.table("system or component", "limit", "program", "element", "state", "published median, ln sd", "tests",
		"16 to 84 %", "program", "basis")
	for i := range c.limits {
		l := &c.limits[i]
		front := []string{l.of, l.name, figure(l.value) + " " + l.unit}
		found := 0
		for j := range l.elements {
			e := &l.elements[j]
			if e.none {
				continue
			}
			found++
			p.row(append(front, e.words(), or(e.text("state_words"), e.text("state")), e.centre(),
				or(e.text("n"), "-"), e.spread(), l.place(e), e.text("basis"))...)
			front = []string{"", "", ""}
		}
		if found == 0 {
			p.row(append(front, "no published value found", "", "", "", "", "", "")...)
		}
	}
	p.f("\n")
}

// words names an element with its detail.
func (e *element) words() string {
	if d := e.text("detail"); d != "" {
		return e.text("element") + ", " + d
	}
	return e.text("element")
}

// centre is the median and the dispersion, where there is one.
func (e *element) centre() string {
	if math.IsNaN(e.dispersion) {
		return figure(e.median)
	}
	return figure(e.median) + ", " + scatter(e.dispersion)
}

// spread is the band in words.
func (e *element) spread() string {
	if math.IsNaN(e.low) {
		return "-"
	}
	return figure(e.low) + " to " + figure(e.high)
}
