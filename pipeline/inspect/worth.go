package inspect

import (
	"math"
	"slices"
	"strings"

	"plinth/pipeline/assess"
	"plinth/pipeline/budget"
	"plinth/pipeline/inventory"
	"plinth/pipeline/output"
	"plinth/pipeline/ranking"
)

// A worthFinder finds the worth of the unknown fields of one worker's buildings.
type worthFinder struct {
	study   *assess.Study
	then    *assess.Assessment // of the building with another value of a field
	price   float64
	budget  bool
	to      *findings
	altered inventory.Building
	rows    []output.Inspection
}

// visit hands on the rows of the building of d.
func (s *worthFinder) visit(d *assess.Digest) error {
	if s.fields(d) != nil {
		s.then = s.study.NewAssessment()
		s.to.failed.Add(d.Building.ID)
		return nil
	}
	return s.to.add(s.rows)
}

// fields fills the rows of the unknown fields of the building of d. It returns only failures of
// the program.
func (s *worthFinder) fields(d *assess.Digest) (err error) {
	defer assess.CatchPanic(&d.Building, &err)
	s.rows = s.rows[:0]
	for _, u := range append(s.study.UnknownFields(d), measurable(d)...) {
		if err := s.field(d, &u); err != nil {
			return err
		}
	}
	return nil
}

// measurable returns period and strength as unknown fields if no report gives them. Each has
// three possible values: the three-point Gauss-Hermite rule over the part of its dispersion
// that a measurement would remove.
func measurable(d *assess.Digest) []assess.UnknownField {
	b := &d.Building
	var list []assess.UnknownField
	rule := func(f inventory.Field, median, sd, left float64, set func(*inventory.Building, float64)) {
		if b.Origin[f] == inventory.Given || sd <= left {
			return
		}
		spread := math.Sqrt(sd*sd - left*left)
		u := assess.UnknownField{Field: f}
		for _, q := range [...]struct {
			word string
			z, p float64
		}{{"lower", -math.Sqrt(3), 1. / 6}, {"as assumed", 0, 2. / 3}, {"higher", math.Sqrt(3), 1. / 6}} {
			v := median * math.Exp(q.z*spread)
			u.Values = append(u.Values, assess.PossibleValue{Word: q.word, Probability: q.p,
				Set: func(b *inventory.Building) { set(b, v) }})
		}
		list = append(list, u)
	}
	// 0.15 and 0.25: the dispersions that archetypes leaves to given values
	rule(inventory.Period, d.Period, d.PeriodBeta, 0.15,
		func(b *inventory.Building, v float64) { b.Period = v })
	rule(inventory.StrengthRatio, d.StrengthRatio, d.StrengthBeta, 0.25,
		func(b *inventory.Building, v float64) { b.StrengthRatio = v })
	return list
}

// field adds the row of one unknown field of the building of d if knowing it could change a
// decision. It returns only failures of the program.
func (s *worthFinder) field(d *assess.Digest, u *assess.UnknownField) error {
	b := &d.Building
	mean := make([]float64, len(s.study.Measures()))
	now, fundedNow := s.decided(d)
	row := output.Inspection{ID: b.ID, Name: b.Name, Field: u.Field.String(), BestNow: s.slug(now),
		Funded: s.budget && fundedNow, Lon: b.Lon, Lat: b.Lat, FundedChanges: math.NaN()}
	var after, best, funded float64
	var may []string
	for _, f := range u.Values {
		s.altered = *b
		if f.Set != nil {
			f.Set(&s.altered)
		}
		s.altered.Origin[u.Field] = inventory.Given
		if err := s.then.Assess(&s.altered); assess.FailureOf(err) != nil {
			return err
		} else if err != nil {
			return nil // a finding outside the method: nothing can be said of the others
		}
		m, above := s.decide(s.then, mean, f.Probability)
		if m >= 0 {
			o := &s.then.Options[m]
			after += f.Probability * max(0, s.gain(&o.Parts, o.Cost.Likely))
		}
		if m != now {
			best += f.Probability
			may = append(may, f.Word+": "+s.slug(m))
		}
		if above != fundedNow {
			funded += f.Probability
		}
	}
	row.Worth = worth(after, max(0, slices.Max(mean)))
	row.BestChanges, row.MayBecome = best, strings.Join(may, "; ")
	if s.budget {
		row.FundedChanges = funded
	}
	if best > 0 || s.budget && funded > 0 {
		s.rows = append(s.rows, row)
	}
	return nil
}

// sumRounding is the relative rounding of a sum, which depends on the processor.
const sumRounding = 1e-9

// worth returns the gain of choosing after a field is known less that of choosing before. If
// the same is chosen, both are one sum in different orders; their difference is rounding and
// counts as 0.
func worth(after, before float64) float64 {
	if w := after - before; w > sumRounding*before {
		return w
	}
	return 0
}

// gain returns the gain of a measure less its cost times the price of money. A difference
// within rounding is 0: the measure at the budget line gains nothing, on any processor.
func (s *worthFinder) gain(parts *ranking.Parts, cost float64) float64 {
	gain := budget.Gain(s.study.Objective(), parts)
	v := gain - s.price*cost
	if math.Abs(v) <= sumRounding*math.Abs(gain) {
		return 0
	}
	return v
}

// decide returns the best measure, -1 for doing nothing, and whether it is above the
// budget line. It adds the gain of each measure, times p, to mean.
func (s *worthFinder) decide(a *assess.Assessment, mean []float64, p float64) (best int, above bool) {
	best = -1
	most := 0.0
	for i := range a.Options {
		o := &a.Options[i]
		if !a.Choosable(o) {
			continue
		}
		g := s.gain(&o.Parts, o.Cost.Likely)
		if math.IsNaN(g) {
			continue
		}
		mean[i] += p * g
		if g > most {
			best, most = i, g
		}
	}
	return best, best >= 0
}

// decided returns what decide says of the building as it is assumed.
func (s *worthFinder) decided(d *assess.Digest) (best int, above bool) {
	best = -1
	most := 0.0
	for i := range d.Offers {
		o := &d.Offers[i]
		if g := s.gain(&o.Parts, o.Cost.Likely); g > most { // false for NaN
			best, most = o.Measure, g
		}
	}
	return best, best >= 0
}

func (s *worthFinder) slug(i int) string {
	if i < 0 {
		return ranking.NoMeasure
	}
	return s.study.Measures()[i].Slug()
}
