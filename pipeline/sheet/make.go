package sheet

import (
	"fmt"
	"math"
	"strings"

	"plinth/archetypes"
	"plinth/pipeline/assess"
	"plinth/pipeline/output"
	"plinth/retrofit"
	"plinth/retrofit/demand"
)

// Make returns the calculation sheet of an assessed building.
func Make(study *assess.Study, a *assess.Assessment) *Sheet {
	m := maker{study: study, a: a, design: study.Design()}
	s := &Sheet{Title: strings.TrimSpace(fmt.Sprintf("Calculation sheet: %s %s", a.Building.ID,
		a.Building.Name)), Run: study.Plan().Name, Caution: output.Caution}
	s.Sections = append(s.Sections, m.building(), m.site(), m.spectrum(), m.levels(), m.archetype(), m.stick())
	s.Sections = append(s.Sections, m.standing()...)
	for i := range a.Options {
		s.Sections = append(s.Sections, m.option(&a.Options[i])...)
	}
	s.Sections = append(s.Sections, m.loss(), m.choice())
	s.Sections = append(s.Sections, m.ratings()...)
	return s
}

// A maker makes the sheet of one assessment.
type maker struct {
	study  *assess.Study
	a      *assess.Assessment
	design int
}

func (m *maker) archetype() Section {
	a := &m.a.Archetype
	s := Section{Title: "Archetype"}
	add := func(name string, value float64, unit string, b archetypes.Basis) {
		s.Lines = append(s.Lines, Line{Name: name, Value: value, Unit: unit, Formula: b.Text, Source: b.Source,
			Origin: b.Origin.String()})
	}
	add("Height H", a.Height, "m", a.Basis[archetypes.HeightValue])
	add("Seismic weight W", a.Weight/1e3, "kN", a.Basis[archetypes.WeightValue])
	add("Period T1", a.Period, "s", a.Basis[archetypes.PeriodValue])
	s.Lines = append(s.Lines, Line{Name: "Bounds of the period", Value: math.NaN(), Text: figure(a.PeriodLower) +
		" to " + figure(a.PeriodUpper) + " s, ln-dispersion " + figure(a.PeriodBeta), Origin: "derived",
		Source: "docs/methods/archetypes.md"})
	add("Damping b0, without devices", a.Damping, "", a.Basis[archetypes.DampingValue])
	s.Lines[len(s.Lines)-1].Inputs = "ln-dispersion " + figure(a.DampingBeta)
	add("Design base-shear coefficient V/W at strength level", a.DesignCoefficient, "",
		a.Basis[archetypes.CoefficientValue])
	s.Lines[len(s.Lines)-1].Inputs = "importance " + m.a.Building.Use.Importance().String()
	add("Yield strength ratio Vy/W", a.StrengthRatio, "", a.Basis[archetypes.StrengthValue])
	s.Lines[len(s.Lines)-1].Inputs = "ln-dispersion " + figure(a.StrengthBeta)
	s.Lines = append(s.Lines, Line{Name: "Median drift limits (immediate occupancy, life safety, collapse " +
		"prevention, collapse)", Value: math.NaN(),
		Text: fmt.Sprintf("%s %%, %s %%, %s %%, %s %%; ln-dispersion among buildings of the class %s",
			figure(100*a.Limits.ImmediateOccupancy), figure(100*a.Limits.LifeSafety),
			figure(100*a.Limits.CollapsePrevention), figure(100*a.Limits.Collapse), figure(a.LimitsBeta)),
		Formula: a.Basis[archetypes.LimitsValue].Text, Source: a.Basis[archetypes.LimitsValue].Source,
		Origin: a.Basis[archetypes.LimitsValue].Origin.String()})
	return s
}

func (m *maker) stick() Section {
	st := &m.a.Stick
	s := Section{Title: "Stick model"}
	s.line("Post-yield stiffness ratio r", st.PostYield, "", "", "table of systems (docs/methods/archetypes.md)",
		"")
	s.line("Stiffness-degrading hysteresis cl", st.Degrading, "", "1 degrading, 0 not",
		"table of systems (docs/methods/archetypes.md)", "")
	if st.Hardened > 0 {
		s.line("Largest resistance of a storey over its strength h", st.Hardened, "", "by detailing",
			"docs/methods/archetypes.md", "")
	}
	s.line("Drift that counts as collapse", 100*demand.CollapseRatio(st), "%", "twice that of collapse prevention",
		method("storey-drift"), "")
	t := s.table("storey", "height m", "mass t", "k kN/m", "V kN", "mode 1", "mode 2", "mode 3")
	for i := range st.Mass {
		cells := []string{fmt.Sprint(i + 1), cell(st.Height[i]), cell(st.Mass[i] / 1e3),
			cell(st.Stiffness[i] / 1e3), cell(st.Strength[i] / 1e3)}
		for j := range archetypes.MaxModes {
			if j < st.Modes.Count {
				cells = append(cells, cell(st.Modes.Shape[j][i]))
			} else {
				cells = append(cells, "")
			}
		}
		t.row(cells...)
	}
	s.note("Floors of equal mass; strength follows the storey shears of ASCE 7-16 12.8.3 scaled to Vy at the " +
		"foot; stiffness is scaled to T1; modes by K phi = w2 M phi, 1 at the roof.")
	return s
}

// option returns the sections of one measure: its rules and, if it may be chosen, its design,
// demand and worth.
func (m *maker) option(o *assess.Option) []Section {
	d, _ := retrofit.KindOf(o.Measure.Slug())
	s := Section{Title: "Measure " + d.Slug}
	s.Lines = append(s.Lines, Line{Name: "What it is", Value: math.NaN(), Text: d.Name + ". " + d.Does})
	s.Lines = append(s.Lines, Line{Name: "Verdict", Value: math.NaN(), Text: o.Verdict.String() + ". " +
		o.Reason(), Origin: "computed"})
	for i := range o.Findings {
		f := &o.Findings[i]
		text := f.Rule.Name + ": " + string(f.AppendText(nil))
		if !math.IsNaN(f.Limit) && f.Verdict == retrofit.Clear {
			text += ", limit " + figure(f.Limit)
		}
		s.Items = append(s.Items, Item{f.Verdict.String(), text + " (" + f.Rule.Source + ")"})
	}
	if !o.Feasible() {
		return []Section{s}
	}
	return append([]Section{s, m.sized(o)}, m.with(o)...)
}

func (m *maker) sized(o *assess.Option) Section {
	s := Section{Title: "Design and cost of " + o.Measure.Slug()}
	for i := range o.Sized {
		q := &o.Sized[i]
		s.line(q.Name, q.Value, q.Unit, "", "docs/methods/measures.md", "")
	}
	p, a := &o.Price, &o.Amounts
	inputs := []string{"fixed " + figure(p.Fixed)}
	for _, part := range []struct {
		price float64
		per   string
		of    float64
		unit  string
	}{{p.PerArea, "per m2", a.Area, "m2"}, {p.PerDevice, "per device", a.Devices, "devices"},
		{p.PerMoat, "per m of moat", a.Moat, "m"}, {p.PerWall, "per m of wall", a.Wall, "m"}} {
		if part.price > 0 {
			inputs = append(inputs, fmt.Sprintf("%s %s x %s %s", part.per, figure(part.price), figure(part.of),
				part.unit))
		}
	}
	s.line("Cost, likely", o.Cost.Likely, m.study.Plan().Measures.Currency,
		"fixed + price x amount of each; low and high are fixed ratios of it",
		"docs/methods/measures.md#cost-and-disruption; prices of the plan",
		fmt.Sprintf("%s; low %s, high %s, price date %s", strings.Join(inputs, ", "), figure(o.Cost.Low),
			figure(o.Cost.High), m.study.Plan().Measures.PriceDate))
	s.line("Disruption", o.Weeks, "weeks", "", "judgement", "")
	s.note("Sizes are for comparing measures. They are not a design.")
	return s
}
