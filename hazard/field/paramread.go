package field

import (
	"io"
	"math"

	"github.com/paulmach/orb"

	"plinth/hazard"
)

// ReadParameters reads the parameters at nodes from r: a CSV file with the columns
//
//	lon, lat    degrees
//	ss, s1      MCER accelerations at 0.2 s and 1 s on rock
//	tl          long-period transition in s (optional, DefaultTL)
//	site_class  class of the ground, A to E, used where a building has none (optional)
//
// for the return period reference in yr. TL and the class are those of the nearest node.
func ReadParameters(r io.Reader, file string, layout Layout, reference float64, o Options) (*Parameters,
	error) {
	var ps Problems
	o.check(file, &ps)
	checkReference(file, reference, &ps)
	if err := ps.err(); err != nil {
		return nil, err
	}
	t, all := readParameters(r, file, reference, o, &ps)
	if err := ps.err(); err != nil {
		return nil, err
	}
	p := &Parameters{places: layout.places(t, o.MaxDistance, &ps)}
	if err := ps.err(); err != nil {
		return nil, err
	}
	for _, n := range t.node {
		p.values = append(p.values, all[n])
	}
	p.carry(reference, o)
	p.coverage = newCoverage(t, p.places)
	return p, nil
}

// readParameters reads the rows. The table holds PGA = 0.4 SS (11.4.6 at T = 0
// with SDS = SS), SS and S1.
func readParameters(r io.Reader, file string, reference float64, o Options, ps *Problems) (*table,
	map[orb.Point]values) {
	c := newCells(r, file, o, ps)
	if c == nil {
		return nil, nil
	}
	lon, lat := c.node()
	ss, s1 := c.find(true, "ss"), c.find(true, "s1")
	tl, class := c.find(false, "tl", "tl_s"), c.find(false, "site_class")
	if ps.err() != nil {
		return nil, nil
	}
	got := rows{file: file}
	all := map[orb.Point]values{}
	for c.next() {
		at, ok := c.place(lon, lat)
		v := values{tl: DefaultTL}
		ok = c.acceleration(ss, units[o.Unit], &v.lnSS) && ok
		ok = c.acceleration(s1, units[o.Unit], &v.lnS1) && ok
		if tl >= 0 {
			t, good := c.float(tl)
			if good && !isPeriod(t) {
				c.bad(tl, "no period from 0.001 to 100 s", "ASCE 7-16 Figures 22-14 to 22-17 give 4 to 16 s")
				good = false
			}
			v.tl, ok = t, ok && good
		}
		if class >= 0 && c.text(class) != "" {
			k, err := hazard.ParseSiteClass(c.text(class))
			if err == nil {
				_, _, err = hazard.ASCE7ClassOf(k, false)
			}
			if err != nil {
				c.bad(class, err.Error(), "write A to E, or nothing")
				ok = false
			}
			v.class = k
		}
		if !ok {
			continue
		}
		if old, twice := all[at]; twice && old != v {
			c.bad(lon, "the node stands above with other values", "keep one of the two")
		}
		all[at] = v
		got.add(at, reference, c.line, []float64{math.Log(0.4) + v.lnSS, v.lnSS, v.lnS1}, hazard.Shaking{})
	}
	ps.needNodes(file, len(got.node))
	if ps.err() != nil {
		return nil, nil
	}
	t := got.table([]float64{shortPeriod, longPeriod}, ps)
	t.notes.unread(c.header, lon, lat, ss, s1, tl, class)
	return t, all
}
