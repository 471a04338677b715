package sheet

import (
	"fmt"
	"math"

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
		Formula: "as the register has it, or value_per_m2 x floor area x value_ratio of the use"})
	s.fact("Share of structure, drift-sensitive fit-out, acceleration-sensitive fit-out; contents on top",
		fmt.Sprintf("%s, %s, %s; %s", figure(e.Split.Structure), figure(e.Split.DriftFitOut),
			figure(e.Split.AccelFitOut), figure(e.Split.Contents)), "", consequenceMethod, "")
	s.line("Dispersion of drift against a limit state", e.Spread.Drift, "",
		"root of the sum of squares of capacity, record, method and knowledge, each once", consequenceMethod,
		fmt.Sprintf("of demand alone %s, of floor acceleration %s", figure(e.Spread.FitOut),
			figure(e.Spread.Accel)))
	if !math.IsInf(e.Irreparable, 1) {
		s.line("Irreparable drift", 100*e.Irreparable, "%",
			"largest drift that leaves a median residual drift of 1 %", "FEMA P-58-1, from memory", "")
	}
	s.fact("Share of volume lost in a collapse; of the people in it who die; frontage",
		fmt.Sprintf("%s; %s; %s m", figure(e.Volume), figure(e.Fatality), figure(e.Frontage)), "",
		consequenceMethod, "")
	t := s.table("yr", "drift %", "floor g", "P(IO)", "P(LS)", "P(CP)", "P(fall)", "loss")
	levels := make([]consequence.Level, len(m.a.AsIs))
	for i := range m.a.AsIs {
		m.a.Level(&m.a.AsIs[i], &levels[i])
	}
	var l consequence.Loss
	for _, i := range m.study.Asked() {
		p := &m.a.AsIs[i]
		m.study.Model().At(e, &levels[i], &l)
		drift := cell(100 * p.DriftRatio)
		if p.Status&demand.CollapseCounted != 0 {
			drift = "collapse" // counted; the lines are no longer than this
		}
		t.row(cell(m.a.Site.ReturnPeriod[i]), drift, cell(p.PeakAccel/hazard.Gravity),
			cell(l.LimitState[0]), cell(l.LimitState[1]), cell(l.LimitState[2]), cell(l.Collapse), cell(l.Total))
	}
	m.annual(&s, levels)
	b := &m.a.Before
	s.line("Expected deaths", b.Dead, "a year", "", consequenceMethod,
		fmt.Sprintf("and on the street %s a year, in no score", figure(b.Street)))
	s.line("Exceedance of life safety", b.LimitState[consequence.LifeSafety], "a year", "",
		"ASCE 41 2.3.1 (limit state), FEMA 356 Table C1-3 (drift)", "")
	return s
}

// annual adds the annual loss and what it is summed from.
func (m *maker) annual(s *Section, levels []consequence.Level) {
	rule, b, currency := m.study.Rule(), &m.a.Before, m.study.Plan().Measures.Currency
	t := s.table("at yr", "weight 1/yr", "drift there %", "loss there")
	var between consequence.Level
	var l consequence.Loss
	for i := range rule.Nodes() {
		level, years, weight := rule.Node(i, levels, &between)
		m.study.Model().At(&m.a.Exposure, level, &l)
		t.row(cell(years), cell(weight), cell(100*level.DriftRatio), cell(l.Total))
	}
	s.line("Annual loss", b.Total, currency+" a year",
		"sum of weight x loss: the integral of loss over annual frequency, loss a cubic in ln yr between the rows, "+
			"held beyond the last", consequenceMethod,
		fmt.Sprintf("structure %s, fit-out %s, contents %s, downtime %s; %s %% from shaking more frequent than "+
			"the plan's first return period, %s %% from rarer than its last", figure(b.Structure),
			figure(b.DriftFitOut+b.AccelFitOut), figure(b.Contents), figure(b.Downtime),
			figure(100*b.FrequentShare), figure(100*b.RareShare)))
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
	for i := range m.a.Options {
		if o := &m.a.Options[i]; o.Short {
			s.note("With " + o.Measure.Slug() + " the building falls short of the target of the plan: it is the best " +
				"only where no measure reaches it.")
		}
	}
	if now := m.a.LookNow(); now != "" {
		s.note("Whatever the rank, " + now + ".")
	}
	if missed := m.a.Shortfall(); missed != "" {
		s.note("As it stands the building exceeds the target of the plan: " + missed + ".")
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
