package measured

import (
	"fmt"
	"math"
	"strings"
)

// summary is what the page comes to.
func (p *page) summary(c *Comparison) {
	p.f("## Summary\n\n")
	p.means(c.buildings, true)
	medians, dispersion, _ := c.damage.medians()
	n, betas, shares, of, ofShares := c.damage.met()
	p.f("Damage: %s masonry buildings of one survey. Medians of the program over those of the survey %s in the geometric mean over "+
		"classes and grades (ln-sd %s), within their aim %d of %d; dispersion of the program %s, within its aim %d of %d; "+
		"shares at %s g within a factor of two %d of %d.\n\n", thousands(c.damage.surveyed()), ratio(medians.mean), scatter(medians.sd),
		n, of, ratio(dispersion.mean), betas, of, figure(shakings[quarter]), shares, ofShares)
	in, out := 0, 0
	for i := range c.limits {
		l := &c.limits[i]
		for j := range l.elements {
			switch l.inside(&l.elements[j]) {
			case "inside":
				in++
			case "**below**", "**above**":
				out++
			}
		}
	}
	p.f("Elements: %d published values have a 16 to 84 %% band that holds the program's limit, %d have not.\n\n", in, out)
	all, readOnes := c.codeRatios()
	p.f("Design forces: %d printed values, geometric mean %s (ln-sd %s); of them read in a source or computed from one %d, %s.\n\n",
		all.n, ratio(all.mean), scatter(all.sd), readOnes.n, ratio(readOnes.mean))
}

// means is the table of means of the buildings that count, or of those from memory.
func (p *page) means(b *buildings, counting bool) {
	p.table("quantity", "structures", "values", "geometric mean", "ln-sd", "aim", "")
	for i := range kinds {
		k := &kinds[i]
		values, m := b.summary(k, counting)
		if values == 0 {
			p.row(k.name, "0", "0", "-", "-", "-", "no value")
			continue
		}
		goal, verdict := k.aim.String(), k.aim.verdict(m.mean)
		if !counting {
			goal, verdict = "-", "does not count"
		}
		p.row(k.name, fmt.Sprint(m.n), fmt.Sprint(values), ratio(m.mean), scatter(m.sd), goal, verdict)
	}
	p.f("\nA structure counts once a row, by the geometric mean of its ratios.\n\n")
}

func (p *page) buildings(b *buildings) {
	p.f(`## Measured buildings and shake tables

Each case is a row of a register and a plan as an owner would write them, with what was known of the building and its foot
motion as the hazard, and is assessed as %[1]splinth screen%[1]s does: period, strength and limits from the tables of archetypes, spectral demand, defaults elsewhere.
Isolated buildings are compared with the measure on the program's own isolators, sized for the foot motion (the real ones are not known to the program).
Where only the peak of the foot motion is known the spectrum is the generic shape of firm ground: 2.5 PGA from 0.1 to 0.5 s, 1.25 PGA/T beyond. %[2]s
Buildings of eras that design by a map are designed for SDS 1.0 and SD1 0.6 g. A floor of unknown area is taken as %[3]d m2, which only weights feel.

`, "`", "A case that is asked for its period alone does not need one.", unknownFloor)
	p.values(b, true)
	p.timed(b)
	p.f("### From memory, or with a foot motion from memory: not counted\n\n")
	p.values(b, false)
	p.means(b, false)
}

// values is the table of the values that count, or of the others.
func (p *page) values(b *buildings, counting bool) {
	p.table("structure", "what was known", "foot motion", "quantity", "measured", "predicted", "ratio", "why it is off")
	last := ""
	for i := range b.values {
		c := &b.values[i]
		if c.unused != "" || c.counts() != counting {
			continue
		}
		name, known, shaking := "", "", ""
		if s := c.structure; s.id != last {
			name, known, shaking, last = fmt.Sprintf("%s: %s", s.id, s.text("name")), b.known(s), s.shaking(), s.id
		}
		predicted := figure(c.predicted)
		if c.largest > 1.05*c.predicted {
			predicted += fmt.Sprintf(" (largest over the height %s)", figure(c.largest))
		}
		why := ""
		if c.off() {
			why = or(c.why.of(c.key(), whyOff), "not known")
		}
		if apart := c.why.of(c.key(), whyApart); apart != "" {
			why = strings.TrimPrefix(why+"; apart: "+apart, "; ")
		}
		mark := ratio(c.ratio())
		if c.off() {
			mark = "**" + mark + "**"
		}
		p.row(name, known, shaking, quantity(c), figure(c.measured), predicted, mark, why)
	}
	p.f("\n")
}

// quantity names a value with its unit and level.
func quantity(c *compared) string {
	name := map[string]string{
		"period_s": "period, small vibration, s", "period_strong_s": "period, strong shaking, s", "roof_accel_g": "roof acceleration, g",
		"floor_accel_g": "floor acceleration, g", "storey_drift_pct": "storey drift, %", "roof_drift_pct": "roof drift, %",
		"isolator_displacement_m": "isolator displacement, m", "damping_pct": "damping, %", "weight_kpa": "weight over floors, kPa",
	}[c.quantity]
	name = or(name, c.quantity)
	if c.level != "" {
		name += " (" + c.level + ")"
	}
	return name
}

// known is what the register said of a structure and what the program made of it.
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
	p := b.predictions[s.id]
	return strings.Join(words, ", ") + fmt.Sprintf("; Vy/W %s", figure(p.strength))
}

// shaking is the foot motion in words.
func (s *structure) shaking() string {
	switch {
	case s.record != "":
		return s.text("event") + ", record, PGA " + figure(s.pga) + " g"
	case math.IsNaN(s.pga):
		return s.text("event") + ", none"
	}
	return s.text("event") + ", PGA " + figure(s.pga) + " g"
}

// timed is the table of time histories under records of the structures themselves.
func (p *page) timed(b *buildings) {
	p.f("### The same by time histories\n\nWhere the record at the foot is at hand the building is also taken through time histories as `plinth confirm` does with records of the owner.\n\n")
	p.table("structure", "quantity", "measured", "spectral", "time history", "ratio of spectral", "ratio of time history", fmt.Sprintf("aim %s", timedAim))
	for i := range b.values {
		c := &b.values[i]
		if math.IsNaN(c.timed) {
			continue
		}
		p.row(c.structure.id, quantity(c), figure(c.measured), figure(c.predicted), figure(c.timed), ratio(c.ratio()), ratio(c.timed/c.measured), timedAim.verdict(c.timed/c.measured))
	}
	for i := range b.structures {
		s := &b.structures[i]
		if q := b.predictions[s.id]; q != nil && q.timed != nil {
			p.f("\n%s: factor on the record %s; largest storey drift %s %% by time history, %s %% spectral; neither was measured.\n", s.id, ratio(q.timed.factor), figure(q.timed.drift), figure(100*q.response.DriftRatio))
		}
	}
	p.f("\n")
}
