package hazard

import (
	"math"

	"plinth/hazard/elementary"
)

// The dampings of a surface, evenly spaced in their logarithm: 5 to 2000 %.
const dampings = 28

var (
	dampingFirst = math.Log(usualDamping)
	dampingStep  = math.Log(1.25)
)

// usualDamping is the damping of a Spectrum.
const usualDamping = 0.05

// A surface is a table of ln B over damping and over one other number, evenly spaced in its
// logarithm, between which it is bilinear; the ends are held. ln B is 0 at 5 % and does not fall
// with damping.
type surface struct {
	first, step float64 // logarithms of the other number
	ln          [][dampings]float64
	top         [dampings]float64 // the largest of each damping
}

// A place is where a damping lies among those of a surface: after node i, by the part w of a step.
type place struct {
	i int
	w float64
}

// placeOf returns the place of a damping; the ends are held.
func placeOf(damping float64) place {
	p := min(max(0, (elementary.Log(damping)-dampingFirst)/dampingStep), dampings-1)
	i := min(int(p), dampings-2)
	return place{i, p - float64(i)}
}

// add appends the values at x from those of ln peak(damping, x).
func (s *surface) add(x float64, peak func(damping, x float64) float64) {
	var ln [dampings]float64
	usual := peak(usualDamping, x)
	for i := 1; i < dampings; i++ {
		ln[i] = usual - peak(math.Exp(dampingFirst+float64(i)*dampingStep), x)
		s.top[i] = max(s.top[i], ln[i])
	}
	s.ln = append(s.ln, ln)
}

// keepRising takes back what little a value loses against a smaller x: longer shaking makes damping
// worth more, never less.
func (s *surface) keepRising() {
	for k := 1; k < len(s.ln); k++ {
		for i := range s.ln[k] {
			s.ln[k][i] = max(s.ln[k][i], s.ln[k-1][i])
		}
	}
}

// A section is a surface at one x: two neighbouring rows and the weight of the second.
type section struct {
	a, b *[dampings]float64
	w    float64
}

// section returns the surface where the logarithm of the other number is ln.
func (s *surface) section(ln float64) section {
	p := min(max(0, (ln-s.first)/s.step), float64(len(s.ln)-1))
	i := min(int(p), len(s.ln)-2)
	return section{&s.ln[i], &s.ln[i+1], p - float64(i)}
}

// node returns ln B at damping i of the surface.
func (c *section) node(i int) float64 { return c.a[i] + c.w*(c.b[i]-c.a[i]) }

// at returns ln B at a damping.
func (c *section) at(p place) float64 {
	low := c.node(p.i)
	return low + p.w*(c.node(p.i+1)-low)
}

// damping returns the damping at which ln B is ln.
func (c *section) damping(ln float64) float64 {
	i, j := 0, dampings-1 // node(i) <= ln < node(j), within the ends
	for j-i > 1 {
		if m := (i + j) / 2; c.node(m) <= ln {
			i = m
		} else {
			j = m
		}
	}
	low := c.node(i)
	p := float64(i)
	if rise := c.node(j) - low; rise > 0 {
		p += min(max(0, (ln-low)/rise), 1)
	}
	return elementary.Exp(dampingFirst + p*dampingStep)
}
