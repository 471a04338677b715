package measured

import (
	"fmt"
	"slices"
	"strings"
)

func (p *page) codes(c *Comparison) {
	p.f(codeWords)
	p.table("case", "code", "building", "printed", "program", "ratio", "basis", "why it is off")
	for i := range c.codes {
		k := &c.codes[i]
		if k.unused != "" {
			continue
		}
		value, r, why := k.text("printed"), ratio(k.ratio()), ""
		if k.band() {
			value, r = figure(k.low)+" to "+figure(k.high), "inside"
			if k.missed() {
				r = "outside"
			}
		}
		if k.missed() {
			r, why = strong(r), or(k.off, "not known")
		}
		p.row(k.text("id"), k.text("code")+", "+k.text("edition"),
			k.text("system")+" "+k.text("year")+storeys(", ", k.whole("storeys")),
			strings.TrimSpace(k.text("quantity")+" "+value+" "+k.text("level")), figure(k.predicted), r,
			k.text("basis"), why)
	}
	p.f("\n")
	p.codeMeans(c)
}

// codeMeans are the means by country and by code.
func (p *page) codeMeans(c *Comparison) {
	all, known := map[string][]float64{}, map[string][]float64{}
	var order []string
	for i := range c.codes {
		k := &c.codes[i]
		if !k.force() {
			continue
		}
		country := k.text("country")
		for _, name := range []string{country, country + ": " + k.text("code") + ", " + k.text("edition")} {
			if all[name] == nil {
				order = append(order, name)
			}
			all[name] = append(all[name], k.ratio())
			if read(k.text("basis")) {
				known[name] = append(known[name], k.ratio())
			}
		}
	}
	slices.Sort(order)
	p.table("country, code and edition", "printed forces", "geometric mean", "ln-sd", "of them read",
		"geometric mean")
	for _, name := range order {
		a, k := meanOf(all[name]), meanOf(known[name])
		p.row(name, fmt.Sprint(a.n), ratio(a.mean), scatter(a.sd), fmt.Sprint(k.n), ratio(k.mean))
	}
	p.f("\n")
}

func (p *page) laws(c *Comparison) {
	p.f(lawWords, figures(heights))
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
		form = fmt.Sprintf("%s, c %s (%s)", form, r.text("c"), r.text("height_unit"))
		p.row(r.text("id"), r.text("system"), form,
			r.text("amplitude")+", "+r.text("place"), r.text("basis"), strings.Join(list, ", "))
	}
	p.f("\n")
}
