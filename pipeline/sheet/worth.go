package sheet

import (
	"fmt"

	"plinth/hazard"
	"plinth/pipeline/assess"
	"plinth/retrofit/consequence"
	"plinth/retrofit/demand"
)

const consequenceMethod = "docs/methods/consequence.md"

// loss returns the expected cost of a mean year as the building stands.
func (m *maker) loss() Section {
	s := Section{Title: "Consequence as it stands"}
	e, currency := &m.a.Exposure, m.study.Plan().Measures.Currency
	s.Lines = append(s.Lines, Line{Name: "Replacement value", Value: e.Value, Unit: currency, Origin: "computed",
		Formula: "as the register has it, or value_per_m2 x floor area"})
	s.fact("Share of structure, drift-sensitive fit-out, acceleration-sensitive fit-out; contents on top",
		fmt.Sprintf("%s, %s, %s; %s", figure(e.Split.Structure), figure(e.Split.DriftFitOut),
			figure(e.Split.AccelFitOut), figure(e.Split.Contents)), "", consequenceMethod, "")
	s.line("Dispersion of drift against a limit state", e.Spread.Drift, "",
		"root of the sum of squares of capacity, record, method, damping model and knowledge",
		"FEMA P-695 7.3.4 (form)", "")
	t := s.table("yr", "drift %", "floor g", "P(IO)", "P(LS)", "P(CP)", "loss", "contents")
	var level consequence.Level
	var l consequence.Loss
	for i, tr := range m.a.Site.ReturnPeriod {
		p := &m.a.AsIs[i]
		level.Read(p.Drift, m.a.Stick.Height, p.BaseAccel, p.Accel, 0)
		m.study.Model().At(e, &level, &l)
		drift := cell(100 * p.DriftRatio)
		if p.Status&demand.CollapseCounted != 0 {
			drift = "collapse" // counted; the lines are no longer than this
		}
		t.row(cell(tr), drift, cell(p.PeakAccel/hazard.Gravity),
			cell(l.LimitState[0]), cell(l.LimitState[1]), cell(l.LimitState[2]), cell(l.Total), cell(l.Contents))
	}
	b := &m.a.Before
	s.line("Annual loss", b.Total, currency+" a year",
		"integral of loss over annual frequency, loss a straight line in ln frequency between levels, with stated "+
			"tails", consequenceMethod,
		fmt.Sprintf("structure %s, fit-out %s, contents %s, downtime %s; %s %% from shaking more frequent than "+
			"the first level, %s %% from rarer than the last",
			figure(b.Structure), figure(b.DriftFitOut+b.AccelFitOut), figure(b.Contents), figure(b.Downtime),
			figure(100*b.FrequentShare), figure(100*b.RareShare)))
	s.line("Expected deaths", b.Dead, "a year", "", consequenceMethod, "")
	s.line("Exceedance of life safety", b.LimitState[consequence.LifeSafety], "a year", "",
		"ASCE 41 2.3.1 (limit state), FEMA 356 Table C1-3 (drift)", "")
	return s
}

// choice returns the worth of each measure, and which is best.
func (m *maker) choice() Section {
	c := &m.study.Plan().Consequence
	s := Section{Title: "Worth and choice"}
	s.line("Present value of 1 a year", consequence.PresentFactor(c.DiscountRate, c.LifeYears), "",
		"(1 - (1 + r)^-n)/r", "common practice of engineering economy",
		fmt.Sprintf("r %s, n %s yr", figure(c.DiscountRate), figure(c.LifeYears)))
	for i := range m.a.Options {
		o := &m.a.Options[i]
		if !o.Feasible() {
			continue
		}
		b := &o.Benefits
		s.line("Score of "+o.Measure.Slug(), o.Score, "", "", consequenceMethod,
			fmt.Sprintf("annual loss %s (before %s), avoided over the life %s, likely cost %s, net %s (at 3 %% %s, "+
				"at 7 %% %s), benefit over cost %s",
				figure(o.After.Total), figure(m.a.Before.Total), figure(b[0].Present), figure(o.Cost.Likely),
				figure(b[0].Net), figure(b[1].Net), figure(b[2].Net), figure(b[0].Ratio)))
	}
	for i := range m.a.Options {
		if o := &m.a.Options[i]; o.CostsLives(&m.a.Before) {
			s.note(fmt.Sprintf("By these numbers more people would die with %s than as the building stands (%s a "+
				"year before, %s after): it is not chosen, whatever money it saves.", o.Measure.Slug(),
				figure(m.a.Before.Dead), figure(o.After.Dead)))
		}
	}
	obj := m.study.Objective()
	s.note("Score by " + obj.Slug + ": " + obj.Text + "; doing nothing scores " + figure(obj.None) + ".")
	s.fact("Best", m.best(), "", "docs/methods/ranking.md", "")
	return s
}

func (m *maker) best() string {
	name := func(o *assess.Option) string {
		if o == nil {
			return "none"
		}
		return o.Measure.Slug()
	}
	text := name(m.a.Best())
	if m.a.Choice.RunnerUp >= 0 {
		text += ", then " + name(m.a.RunnerUp())
	}
	if m.a.Choice.Tied() {
		text += " (too close to tell apart)"
	}
	return text
}
