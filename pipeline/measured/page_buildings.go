package measured

import (
	"fmt"
	"math"
	"strings"
)

func (p *page) buildings(b *buildings) {
	p.f(buildingWords, unknownFloor)
	p.values(b, true)
	p.timed(b)
	p.f(apartWords)
	p.values(b, false)
	p.means(b, false)
}

// values is the table of the values that count, or of the others.
func (p *page) values(b *buildings, counting bool) {
	p.table("structure", "what was known", "foot motion", "quantity", "measured", "predicted", "ratio",
		"why it is off")
	last := ""
	for i := range b.values {
		c := &b.values[i]
		if c.unused != "" || c.counts() != counting {
			continue
		}
		name, known, shaking := "", "", ""
		if s := c.structure; s.id != last {
			name, known, shaking, last = s.id+": "+s.text("name"), b.known(s), s.shaking(), s.id
		}
		mark := ratio(c.ratio())
		if c.off() {
			mark = strong(mark)
		}
		p.row(name, known, shaking, c.name(), figure(c.measured), c.words(), mark, c.reason())
	}
	p.f("\n")
}

// words is the prediction with what must be said of it.
func (c *compared) words() string {
	out := figure(c.predicted)
	if c.largest > 1.05*c.predicted {
		out += fmt.Sprintf(" (largest over the height %s)", figure(c.largest))
	}
	for _, w := range c.status.Words() {
		out += "; " + w
	}
	return out
}

// reason says why a value is off and why it stands apart.
func (c *compared) reason() string {
	var out []string
	if c.off() {
		out = append(out, or(c.why.of(c.key(), whyOff), "not known"))
	}
	if apart := c.why.of(c.key(), whyApart); apart != "" {
		out = append(out, "apart: "+apart)
	}
	return strings.Join(out, "; ")
}

// quantities are the names of measured.csv in words, with units.
var quantities = map[string]string{
	"period_s":                "period, small vibration, s",
	"period_strong_s":         "period, strong shaking, s",
	"roof_accel_g":            "roof acceleration, g",
	"floor_accel_g":           "floor acceleration, g",
	"storey_drift_pct":        "storey drift, %",
	"roof_drift_pct":          "roof drift, %",
	"isolator_displacement_m": "isolator displacement, m",
	"damping_pct":             "damping, %",
	"weight_kpa":              "weight over floors, kPa",
}

// name names a value with its unit and level.
func (c *compared) name() string {
	name := or(quantities[c.quantity], c.quantity)
	if c.level != "" {
		name += " (" + c.level + ")"
	}
	return name
}

// known is what the register said of a structure and the strength the program gave it.
func (b *buildings) known(s *structure) string {
	words := []string{s.text("system"), s.text("year"), storeys("", s.storeys)}
	if h := s.text("height_m"); h != "" {
		words = append(words, h+" m")
	}
	words = append(words, s.text("region")+" "+s.text("zone"))
	if p := s.text("profile"); p != "" && p != "regular" {
		words = append(words, p)
	}
	if s.device != "none" {
		words = append(words, s.device)
	}
	return strings.Join(words, ", ") + "; Vy/W " + figure(b.predictions[s.id].strength)
}

// shaking is the foot motion in words.
func (s *structure) shaking() string {
	switch {
	case s.record != "":
		return fmt.Sprintf("%s, record, PGA %s g", s.text("event"), figure(s.pga))
	case math.IsNaN(s.pga):
		return s.text("event") + ", none"
	}
	return fmt.Sprintf("%s, PGA %s g", s.text("event"), figure(s.pga))
}

// timed is the table of time histories under records of the structures themselves.
func (p *page) timed(b *buildings) {
	p.f(timedWords)
	p.table("structure", "quantity", "measured", "spectral", "time history",
		"ratio of spectral", "ratio of time history", "aim "+timedAim.String(), "why it is off")
	for i := range b.values {
		c := &b.values[i]
		if math.IsNaN(c.timed) {
			continue
		}
		r, why := c.timed/c.measured, ""
		if !timedAim.has(r) {
			why = or(c.why.of(key{"timed", c.structure.id, c.quantity, c.level}, whyOff), "not known")
		}
		p.row(c.structure.id, c.name(), figure(c.measured), figure(c.predicted), figure(c.timed),
			ratio(c.ratio()), ratio(r), timedAim.verdict(r), why)
	}
	for i := range b.structures {
		s := &b.structures[i]
		if q := b.predictions[s.id]; q != nil && q.timed != nil {
			p.f("\n%s: factor on the record %s; largest storey drift %s %% by time history, %s %% spectral, "+
				"not measured.\n", s.id, ratio(q.timed.factor), figure(q.timed.drift), figure(100*q.response.DriftRatio))
		}
	}
	p.f("\n")
}
