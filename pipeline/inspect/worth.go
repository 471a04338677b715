package inspect

import (
	"math"
	"slices"
	"strings"
	"sync"

	"plinth/pipeline/assess"
	"plinth/pipeline/budget"
	"plinth/pipeline/inventory"
	"plinth/pipeline/output"
	"plinth/pipeline/ranking"
)

// A worthFinder finds the worth of the unknown fields of one worker's buildings.
type worthFinder struct {
	study      *assess.Study
	base, then *assess.Assessment
	price      float64
	budget     bool
	out        *Search
	failed     *assess.FailedBuildings
	lock       *sync.Mutex
	altered    inventory.Building
	rows       []output.Inspection
}

func (s *worthFinder) Reject(*inventory.Reject) {}

func (s *worthFinder) Visit(b *inventory.Building) error {
	if s.base.Assess(b) != nil {
		return nil // among the rejects
	}
	if s.fields(b) != nil {
		s.then = s.study.NewAssessment()
		s.failed.Add(b.ID)
		return nil
	}
	s.lock.Lock()
	defer s.lock.Unlock()
	s.out.Rows = append(s.out.Rows, s.rows...)
	return nil
}

// fields fills the rows of the unknown fields of b. It returns only failures of the program.
func (s *worthFinder) fields(b *inventory.Building) (err error) {
	defer assess.CatchPanic(b, &err)
	s.rows = s.rows[:0]
	for _, u := range append(s.base.UnknownFields(b), measurable(s.base)...) {
		if err := s.field(b, &u); err != nil {
			return err
		}
	}
	return nil
}

// measurable returns period and strength as unknown fields if no report gives them. Each has
// three possible values: the three-point Gauss-Hermite rule over the part of its dispersion
// that a measurement would remove.
func measurable(a *assess.Assessment) []assess.UnknownField {
	b, t := a.Building, &a.Archetype
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
	rule(inventory.Period, t.Period, t.PeriodBeta, 0.15,
		func(b *inventory.Building, v float64) { b.Period = v })
	rule(inventory.StrengthRatio, t.StrengthRatio, t.StrengthBeta, 0.25,
		func(b *inventory.Building, v float64) { b.StrengthRatio = v })
	return list
}

// field adds the row of one unknown field of b if knowing it could change a decision. It
// returns only failures of the program.
func (s *worthFinder) field(b *inventory.Building, u *assess.UnknownField) error {
	n := len(s.base.Options)
	mean := make([]float64, n)
	now, fundedNow := s.decide(s.base, nil, 0)
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
			after += f.Probability * max(0, s.gain(&s.then.Options[m]))
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
func (s *worthFinder) gain(o *assess.Option) float64 {
	gain := budget.Gain(s.study.Objective(), &o.Parts)
	v := gain - s.price*o.Cost.Likely
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
		g := s.gain(o)
		if math.IsNaN(g) {
			continue
		}
		if mean != nil {
			mean[i] += p * g
		}
		if g > most {
			best, most = i, g
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
