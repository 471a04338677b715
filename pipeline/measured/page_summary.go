package measured

import "fmt"

// summary is what the page comes to.
func (p *page) summary(c *Comparison) {
	p.f("## Summary\n\n")
	p.means(c.buildings, true)
	medians, dispersion, _ := c.damage.medians()
	n, betas, shares, of, ofShares := c.damage.met()
	inside, outside := c.inBands()
	all, known := c.codeRatios()
	p.f(summaryWords, thousands(c.damage.surveyed()), ratio(medians.mean), scatter(medians.sd), n, of,
		ratio(dispersion.mean), betas, of, figure(shakings[quarter]), shares, ofShares,
		inside, outside,
		all.n, ratio(all.mean), scatter(all.sd), known.n, ratio(known.mean))
}

// means is the table of means of the values that count, or of those from memory.
func (p *page) means(b *buildings, counting bool) {
	p.table("quantity", "structures", "values", "geometric mean", "ln-sd", "aim", "")
	for i := range kinds {
		k := &kinds[i]
		values, m := b.summary(k, counting)
		goal, verdict := k.aim.String(), k.aim.verdict(m.mean)
		switch {
		case values == 0:
			goal, verdict = "-", "no value"
		case !counting:
			goal, verdict = "-", "does not count"
		}
		p.row(k.name, fmt.Sprint(m.n), fmt.Sprint(values), ratio(m.mean), scatter(m.sd), goal, verdict)
	}
	p.f("\nA structure counts once a row, by the geometric mean of its ratios.\n\n")
}

// inBands counts the published values whose band holds the program's limit, and those
// whose band does not.
func (c *Comparison) inBands() (inside, outside int) {
	for i := range c.limits {
		l := &c.limits[i]
		for j := range l.elements {
			switch l.place(&l.elements[j]) {
			case within:
				inside++
			case below, above:
				outside++
			}
		}
	}
	return inside, outside
}

// codeRatios returns the mean of all printed forces and of those that were read.
func (c *Comparison) codeRatios() (all, known mean) {
	var a, k []float64
	for i := range c.codes {
		if one := &c.codes[i]; one.force() {
			a = append(a, one.ratio())
			if read(one.text("basis")) {
				k = append(k, one.ratio())
			}
		}
	}
	return meanOf(a), meanOf(k)
}
