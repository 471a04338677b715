package fidelity

import (
	"fmt"
	"io"
	"math"
	"strings"

	"plinth/hazard/motion"
	"plinth/retrofit/history"
)

// Write writes docs/fidelity.md from measurements of Fit, Validation and Irregular, and of one
// building in n of Validation under short and under long records. kept is the handwritten part of
// the page.
func Write(dst io.Writer, kept string, fit, validation, irregular, short, long *Measured) error {
	p := &page{}
	p.head()
	all := []*Measured{validation, irregular, fit}
	for _, m := range all {
		p.grid(m)
	}
	p.verdict(validation)
	p.WriteString(kept + "\n")
	for _, m := range all {
		p.lines(m)
		p.periods(m)
		p.ranks(m)
	}
	p.duration(short, long)
	_, err := io.WriteString(dst, strings.TrimRight(p.String(), "\n")+"\n")
	return err
}

// page is the text of the page as it is written.
type page struct{ strings.Builder }

func (p *page) f(format string, args ...any) { fmt.Fprintf(p, format, args...) }

func (p *page) head() {
	p.f(`# Fidelity: spectral demand beside time histories

Written by %[1]smake fidelity%[1]s; do not edit but its history. The spectral demand of
[methods/demand.md](methods/demand.md) is compared with the nonlinear time histories of
[methods/time-history.md](methods/time-history.md) on the same sticks with the same devices.

**Agreement with a shear-stick model under artificial records, not accuracy against reality.**
Screening is not an evaluation; local codes and a licensed engineer decide, and a building that is
not flagged is not thereby safe.

A ratio is spectral over time history: above 1 the spectral value is the larger. The spectral method
reads the mean spectrum of the suite and its ground acceleration, so that both methods are given the
same shaking; the records were made for the spectrum of the ground, and what they miss of it is in
the tables of records. The time-history value is the geometric mean of the suite, for the storey and
the floor where that is largest. Scatter is the standard deviation of ln ratio over buildings; it
holds the record scatter of the time histories, whose median standard error stands in the last
column. "Strength ratio" is elastic demand over strength as the building stands. Left out of the
tables of ratios, and counted: isolators that do not move, frames that yield above isolators
(ranking only), isolated periods below twice the fixed-base period, and buildings that collapse.

`, "`")
}

func (p *page) grid(m *Measured) {
	g := m.Grid
	p.f("## The %s grid\n\n", g.Name)
	p.f("%d buildings x %d models x %d records.\n\n", len(m.Rows), history.Kinds, g.Motion.Records)
	p.f("| value | on the grid |\n| --- | --- |\n")
	p.f("| storeys N | %s |\n", list(g.Storeys))
	var stiff []string
	for _, s := range g.Stiff {
		h := "bilinear"
		if s.Degrading > 0 {
			h = "stiffness-degrading"
		}
		if s.Hardened > 0 {
			h += fmt.Sprintf(" up to %g V", s.Hardened)
		}
		stiff = append(stiff, fmt.Sprintf("%g (3.2 N)^0.8 s, %s, %s", s.C, h, s.Profile))
	}
	p.f("| first period, hysteresis (3 %% post-yield), profile | %s |\n", strings.Join(stiff, "; "))
	p.f("| damping, by height | %s |\n", list(g.dampings()))
	p.f("| strength ratio as it stands | %s |\n", list(g.StrengthRatios))
	p.f("| ground (EN 1998-1 type 1) | %s |\n", list(g.Grounds))
	p.f("| ag, in turn with the strength ratios | %s g |\n", list(g.Intensities))
	for _, row := range []struct {
		name string
		of   func(*Design) string
	}{
		{"strengthening, strength by, stiffness by its 0.7th power",
			func(d *Design) string { return fmt.Sprint(d.Strengthen) }},
		{"yielding devices, stiffness and force over those of the storey",
			func(d *Design) string { return fmt.Sprintf("%g and %g", d.Yielding[0], d.Yielding[1]) }},
		{"viscous dampers, added damping; exponent of the nonlinear",
			func(d *Design) string { return fmt.Sprintf("%g; %g", d.Viscous, d.Alpha) }},
		{"tuned mass, over that of the first mode",
			func(d *Design) string { return fmt.Sprint(d.TunedMass) }},
		{"lead-rubber, Qd/W, period past yield, K1/K2", func(d *Design) string {
			return fmt.Sprintf("%g, %g s, %g", d.LeadRubber[0], d.LeadRubber[1], d.LeadRubber[2])
		}},
		{"slider, friction, period, way before sliding",
			func(d *Design) string {
				return fmt.Sprintf("%g, %g s, %g m", d.Slider[0], d.Slider[1], d.Slider[2])
			}},
	} {
		var designs []string
		for i := range g.Designs {
			designs = append(designs, row.of(&g.Designs[i]))
		}
		p.f("| %s | %s |\n", row.name, strings.Join(designs, "; in turn "))
	}
	p.f("\n")
	p.f("Records: seed %d, %g s rise, level to %g s, 5 %% left at %g s, matched %d times.\n\n", g.Motion.Seed,
		g.Motion.Envelope.Rise, g.Motion.Envelope.Level, g.Motion.Envelope.Decay, g.Motion.Iterations)
	p.suites(m.Suites)
}

func (p *page) suites(s []Suite) {
	p.f("| ground | largest misfit of the mean, 0.05 to 5 s | rms misfit of records | own B(20 %%) | own " +
		"B(30 %%) | D5-75 s | D5-95 s | Arias m/s | PGA over target |\n")
	p.f("| --- | --- | --- | --- | --- | --- | --- | --- | --- |\n")
	for _, x := range s {
		p.f("| %s | %.1f %% at %.2f s | %.1f %% | %.2f | %.2f | %.1f | %.1f | %.2f | %.2f |\n",
			x.Ground, 100*x.Misfit, x.MisfitPeriod, 100*x.RecordMisfit, x.B20, x.B30, x.D575, x.D595, x.Arias,
			x.PGA)
	}
	p.f("\n")
}

// verdict lists the lines of the validation grid that disagree with the stated values.
func (p *page) verdict(m *Measured) {
	lines := m.Lines()
	medians, scatters := 0, 0
	var bad []string
	for i := range lines {
		l := &lines[i]
		if l.MedianHolds() {
			medians++
		} else {
			bad = append(bad, fmt.Sprintf("- %s: median %.2f", l.name(), l.Median))
		}
		if l.ScatterHolds() {
			scatters++
		} else {
			bad = append(bad, fmt.Sprintf("- %s: scatter %.0f %%, stated %.0f %%", l.name(), 100*l.Scatter,
				100*l.Band))
		}
	}
	p.f("## Where what is stated does not hold\n\n")
	p.f("On the validation grid %d of %d medians lie from 0.9 to 1.1 and %d of %d scatters are no larger "+
		"than the band stated in\nmethods/demand.md.", medians, len(lines), scatters, len(lines))
	if len(bad) > 0 {
		p.f(" Those that do not:\n\n%s", strings.Join(bad, "\n"))
	}
	p.f("\n\n")
}

func (l *Line) name() string {
	return fmt.Sprintf("%s, %s, strength ratio %s", l.Kind, l.Quantity, l.Class)
}

func (p *page) lines(m *Measured) {
	p.f("## Ratios, %s grid\n\n", m.Grid.Name)
	p.f("| measure | quantity | strength ratio | buildings | median ratio | scatter %% | band stated %% | " +
		"flagged | record error %% |\n")
	p.f("| --- | --- | --- | --- | --- | --- | --- | --- | --- |\n")
	for _, l := range m.Lines() {
		p.f("| %s | %s | %s | %d | %.2f | %.0f | %.0f | %d | %.0f |\n", l.Kind, l.Quantity, l.Class, l.Count,
			l.Median, 100*l.Scatter, 100*l.Band, l.Outside, 100*l.Record)
	}
	p.f("\n%s\n", m.left())
}

// periods writes the ratios by the period of the building over the corner period of its ground.
func (p *page) periods(m *Measured) {
	edges := []float64{0, 0.4, 0.8, 1.6, math.Inf(1)}
	words := []string{"to 0.4", "0.4 to 0.8", "0.8 to 1.6", "above 1.6"}
	p.f("### By period, %s grid\n\nMedian ratio and scatter by T1/TC, all strength ratios above 1 "+
		"together.\n\n| measure | quantity |", m.Grid.Name)
	for _, w := range words {
		p.f(" %s |", w)
	}
	p.f("\n| --- | --- |%s\n", strings.Repeat(" --- |", len(words)))
	for k := range history.Kinds {
		for _, q := range []history.Quantity{history.StoreyDrift, history.FloorAccel} {
			p.f("| %s | %s |", k, q)
			for i := range words {
				ratios := m.ratios(k, q, func(c *Case) bool {
					x := c.Stick.Modes.Period[0] / c.Spectrum.TC
					return c.StrengthRatio > 1 && x > edges[i] && x <= edges[i+1]
				})
				if len(ratios) < 3 {
					p.f(" |")
					continue
				}
				_, scatter := meanAndDeviation(ratios)
				p.f(" %.2f, %.0f %% (%d) |", math.Exp(median(ratios)), 100*scatter, len(ratios))
			}
			p.f("\n")
		}
	}
	p.f("\n")
}

// left counts the checks that are not in the ratios, by reason.
func (m *Measured) left() string {
	var collapsed, flawed, others, all int
	for i := range m.Rows {
		for k := range m.Rows[i].Checks {
			c := &m.Rows[i].Checks[k]
			all++
			switch {
			case c.History.Collapsed > 0:
				collapsed++
			case !usable(c):
				others++
			case c.History.Flawed > 0:
				flawed++
			}
		}
	}
	return fmt.Sprintf("Of %d models %d collapsed under a record or more and %d are outside what the bands "+
		"are stated for; %d of the rest\nhave a run whose time step, equilibrium or energy balance did not "+
		"pass.\n", all, collapsed, others, flawed)
}

func (p *page) ranks(m *Measured) {
	p.f("## Ranking, %s grid\n\n", m.Grid.Name)
	p.f("Of all measures that apply, and of those inside what the bands are stated for: the rest, frames " +
		"that yield above isolators and\nisolation of less than twice the period of the frame, the " +
		"feasibility rules bar. \"Half\" is time histories under every second\nrecord judged by those " +
		"under the others: what record scatter leaves to be known.\n\n")
	p.f("| by | measures | named by | Spearman, benefit of a measure | Spearman, demand as it stands | " +
		"best measure named | named or within 10 %% of it | best among the first two | among the first " +
		"three | pairs | buildings |\n")
	p.f("| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |\n")
	for _, q := range []history.Quantity{history.StoreyDrift, history.FloorAccel} {
		for _, inside := range []bool{false, true} {
			which := "all"
			if inside {
				which = "inside"
			}
			for _, by := range []struct {
				name      string
				by, truth Source
			}{{"spectral demand", Spectral, Timed}, {"half", FirstHalf, SecondHalf}} {
				r := m.Rank(q, by.by, by.truth, inside)
				p.f("| %s | %s | %s | %.3f | %.3f | %.0f %% | %.0f %% | %.0f %% | %.0f %% | %d | %d |\n", q,
					which, by.name, r.Benefit, r.Buildings, 100*r.Best, 100*r.Tied, 100*r.Second, 100*r.Third,
					r.Pairs, r.Judged)
			}
		}
	}
	p.f("\n")
}

func (p *page) duration(short, long *Measured) {
	e := long.Grid.Motion.Envelope
	p.f("## What the length of shaking changes\n\n")
	p.f("One building in %d of the validation grid again, under records of %g s rise, level to %g s, 5 %% "+
		"left at %g s. Factors: demand with\nthe measure over demand as it stands, under long records over "+
		"short ones; below 1 the measure looks better when it shakes longer.\n\n", long.Grid.Every, e.Rise,
		e.Level, e.Decay)
	p.suites(long.Suites)
	p.f("Beside them the spectral method, told how long they are, over time histories under the long records.\n\n")
	p.f("| measure | buildings | storey drift | floor acceleration | spectral: storey drift | floor acceleration | " +
		"isolator displacement |\n| --- | --- | --- | --- | --- | --- | --- |\n")
	for _, d := range Durations(short, long) {
		p.f("| %s | %d | %.2f | %.2f | %.2f | %.2f | %s |\n", d.Kind, d.Count, d.Drift, d.Accel,
			d.Spectral[history.StoreyDrift], d.Spectral[history.FloorAccel], orDash(d.Spectral[history.Displacement]))
	}
	p.f("\nSpearman correlation of the benefit of measures, short against long: storey drift %.3f, floor "+
		"acceleration %.3f. No spectral\nmethod that is given a spectrum alone can do better than the two "+
		"agree with each other.\n", Agreement(short, long, history.StoreyDrift),
		Agreement(short, long, history.FloorAccel))
}

// orDash returns x to two places, or a dash for one that is not a number.
func orDash(x float64) string {
	if math.IsNaN(x) {
		return "-"
	}
	return fmt.Sprintf("%.2f", x)
}

func list[T any](x []T) string {
	var s []string
	for _, v := range x {
		s = append(s, fmt.Sprint(v))
	}
	return strings.Join(s, ", ")
}

// LongOf returns two grids of the same buildings, one in every n of g: under the records of g and
// under long ones.
func LongOf(g Grid, n int) (short, long Grid) {
	short = g
	short.Every = n
	long = short
	long.Motion.Envelope = motion.Long
	return short, long
}
