package field

import (
	"io"

	"plinth/hazard"
)

// ReadCode reads the parameters of a standard at nodes from r: a CSV file with the
// columns lon, lat, those of the standard and, for NTC2018, return_period_yr, in any
// order.
func ReadCode(r io.Reader, file string, layout Layout, s Standard, o Options) (*Code, error) {
	var ps Problems
	o.checkCode(file, &ps)
	if err := ps.err(); err != nil {
		return nil, err
	}
	c := newCells(r, file, o, &ps)
	if c == nil {
		return nil, ps.err()
	}
	east, north := c.node()
	known := []int{east, north, -1}
	if s.single() == 0 {
		known[2] = c.find(true, "return_period_yr", "return_period")
	}
	for _, p := range s.parameters() {
		known = append(known, c.find(true, p.name))
	}
	if err := ps.err(); err != nil {
		return nil, err
	}
	got := rows{file: file}
	for c.next() {
		at, ok := c.place(known[0], known[1])
		tr := s.single()
		if tr == 0 {
			var good bool
			tr, good = c.returnPeriod(known[2])
			ok = ok && good
		}
		var ln []float64
		for k, p := range s.parameters() {
			v, good := c.float(known[3+k])
			if good {
				var rule string
				if v, rule = p.read(v, o.Unit); rule != "" {
					c.bad(known[3+k], rule, p.remedy)
					good = false
				}
			}
			ln, ok = append(ln, v), ok && good
		}
		if ok {
			got.add(at, tr, c.line, ln, hazard.Shaking{})
		}
	}
	ps.needNodes(file, len(got.node))
	if err := ps.err(); err != nil {
		return nil, err
	}
	return newCode(s, &got, func(t *table, ps *Problems) places {
		t.notes.unread(c.header, known...)
		return layout.places(t, o.MaxDistance, ps)
	}, o, &ps)
}
