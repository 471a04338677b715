package pipeline

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"plinth/pipeline/inventory"
	"plinth/pipeline/output"
	"plinth/pipeline/ranking"
)

// A Search is what to go and find out next.
type Search struct {
	Rows   []output.Inspection
	Fields []FieldWorth // over the stock, the most worth first
	Visits []Visit
	Unit   string
	Price  float64  // gain of one unit of money at the budget line; 0 without a budget
	Failed []string // buildings on which the program failed away from what is assumed
	About  output.About
	Counts output.Counts
}

// A FieldWorth is what knowing one field everywhere would be worth.
type FieldWorth struct {
	Field        string
	Buildings    int
	Worth        float64
	Best, Funded float64 // expected number of buildings whose best measure, or place across the budget line, changes
}

// Inspect finds what knowing each unknown field of each building would be worth
// and writes it to the folder inspect within the plan's output folder.
//
// A field is worth the gain of choosing a measure after it is known, less that of
// choosing before:
//
//	worth = sum over findings f of p_f max_m g_mf - max_m sum over f of p_f g_mf
//
// g is what the objective says of measure m above doing nothing, less its cost at
// the price of money: what one unit of it would gain elsewhere at the budget line, 0
// without a budget. One field is looked at at a time (Raiffa and Schlaifer 1961,
// expected value of perfect information).
func (r *Run) Inspect(ctx context.Context, s Settings) (*Search, error) {
	out := &Search{Unit: r.objective.Unit, About: output.About{Version: s.Version, Currency: r.plan.Measures.Currency, PriceDate: r.plan.Measures.PriceDate}}
	budget := r.money() != nil
	set, hash, err := r.aside("inspect", s)
	if err != nil {
		return nil, err
	}
	defer set.Abort() // does nothing after Commit
	all, counts, err := r.candidates(ctx, s)
	if err != nil {
		return nil, err
	}
	out.Counts = counts
	if budget {
		if out.Price, err = r.price(all); err != nil {
			return nil, err
		}
	}
	reader, err := r.Register(ctx)
	if err != nil {
		return nil, err
	}
	defer reader.Close()
	var lock sync.Mutex
	var failed failedList
	visit := func() visitor {
		return &seeker{run: r, base: r.NewAssessment(), then: r.NewAssessment(), price: out.Price, budget: budget, out: out, failed: &failed, lock: &lock}
	}
	if err := r.flow(ctx, reader, s.workers(), visit, s.Progress.watch("unknown fields of buildings")); err != nil {
		return nil, err
	}
	failed.sort()
	out.Failed = failed.ids
	out.arrange()
	return out, r.writeSearch(set, hash, out)
}

// price returns what one unit of money gains at the plan's budget line.
func (r *Run) price(all []candidate) (float64, error) {
	t, err := r.terms(all)
	if err != nil {
		return 0, err
	}
	var money float64
	for _, m := range r.money() {
		money += m
	}
	p, err := ranking.Fund(prospects(all, r.objective, t), money)
	if err != nil {
		return 0, fmt.Errorf("budget: %w", err)
	}
	return p.Next, nil
}

// A seeker looks at the unknown fields of one worker's buildings.
type seeker struct {
	run        *Run
	base, then *Assessment
	price      float64
	budget     bool
	out        *Search
	failed     *failedList
	lock       *sync.Mutex
	altered    inventory.Building
	rows       []output.Inspection
}

func (s *seeker) reject(*inventory.Reject) {}

func (s *seeker) visit(b *inventory.Building) error {
	if s.base.Assess(b) != nil {
		return nil // among the rejects
	}
	if s.seek(b) != nil {
		s.then = s.run.NewAssessment()
		s.failed.add(b.ID)
		return nil
	}
	s.lock.Lock()
	defer s.lock.Unlock()
	s.out.Rows = append(s.out.Rows, s.rows...)
	return nil
}

// seek looks at the unknown fields of b. The error is that of the program.
func (s *seeker) seek(b *inventory.Building) (err error) {
	defer recovered(b, &err)
	s.rows = s.rows[:0]
	for _, u := range append(s.base.unknowns(b), measurable(s.base)...) {
		if err := s.look(b, &u); err != nil {
			return err
		}
	}
	return nil
}

// measurable returns period and strength as unknown fields where no report gives
// them, each with three findings: the three-point Gauss-Hermite rule over what a
// measurement would take off its dispersion.
func measurable(a *Assessment) []unknown {
	b, t := a.Building, &a.Archetype
	var list []unknown
	rule := func(f inventory.Field, median, sd, left float64, set func(*inventory.Building, float64)) {
		if b.Origin[f] == inventory.Given || sd <= left {
			return
		}
		spread := math.Sqrt(sd*sd - left*left)
		u := unknown{field: f}
		for _, q := range [...]struct {
			word string
			z, p float64
		}{{"lower", -math.Sqrt(3), 1. / 6}, {"as assumed", 0, 2. / 3}, {"higher", math.Sqrt(3), 1. / 6}} {
			v := median * math.Exp(q.z*spread)
			u.values = append(u.values, finding{q.word, q.p, func(b *inventory.Building) { set(b, v) }})
		}
		list = append(list, u)
	}
	rule(inventory.Period, t.Period, t.PeriodBeta, 0.15, func(b *inventory.Building, v float64) { b.Period = v }) // what archetypes leaves to a given period
	rule(inventory.StrengthRatio, t.StrengthRatio, t.StrengthBeta, 0.25, func(b *inventory.Building, v float64) { b.StrengthRatio = v })
	return list
}

// look adds the row of one unknown field of b, if it could change anything. The error is
// that of the program.
func (s *seeker) look(b *inventory.Building, u *unknown) error {
	n := len(s.base.Options)
	mean := make([]float64, n)
	now, fundedNow := s.decide(s.base, nil, 0)
	row := output.Inspection{ID: b.ID, Name: b.Name, Field: u.field.String(), BestNow: s.slug(now), Funded: s.budget && fundedNow, Lon: b.Lon, Lat: b.Lat, FundedChanges: math.NaN()}
	var after, best, funded float64
	var may []string
	for _, f := range u.values {
		s.altered = *b
		if f.set != nil {
			f.set(&s.altered)
		}
		s.altered.Origin[u.field] = inventory.Given
		if err := s.then.Assess(&s.altered); failure(err) != nil {
			return err
		} else if err != nil {
			return nil // a finding outside the method: nothing can be said of the others
		}
		m, above := s.decide(s.then, mean, f.probability)
		if m >= 0 {
			after += f.probability * max(0, s.gain(&s.then.Options[m]))
		}
		if m != now {
			best += f.probability
			may = append(may, f.word+": "+s.slug(m))
		}
		if above != fundedNow {
			funded += f.probability
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

// sumRounding is how much of a sum its last digits may be, which depend on the processor.
const sumRounding = 1e-9

// worth returns what choosing after a finding gains over choosing before. Where the same
// is chosen the two are one sum in another order, and their difference is no worth.
func worth(after, before float64) float64 {
	if w := after - before; w > sumRounding*before {
		return w
	}
	return 0
}

// gain returns what a measure gains above doing nothing and the price of its cost. The
// measure that the price was found at gains nothing, whatever the last digits say.
func (s *seeker) gain(o *Option) float64 {
	gain := gainOf(s.run.objective, &o.Parts)
	v := gain - s.price*o.Cost.Likely
	if math.Abs(v) <= sumRounding*math.Abs(gain) {
		return 0
	}
	return v
}

// decide returns the best measure, -1 for doing nothing, and whether it is above the
// budget line. It adds the gain of each measure, times p, to mean.
func (s *seeker) decide(a *Assessment, mean []float64, p float64) (best int, above bool) {
	best = -1
	most := 0.0
	for i := range a.Options {
		o := &a.Options[i]
		if !a.choosable(o) {
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

func (s *seeker) slug(i int) string {
	if i < 0 {
		return ranking.NoMeasure
	}
	return s.run.measures[i].Slug()
}

// arrange puts the rows in order, adds up fields and groups visits.
func (s *Search) arrange() {
	slices.SortFunc(s.Rows, func(x, y output.Inspection) int {
		return cmp.Or(cmp.Compare(y.Worth, x.Worth), cmp.Compare(y.BestChanges, x.BestChanges), cmp.Compare(x.ID, y.ID), cmp.Compare(x.Field, y.Field))
	})
	at := map[string]int{}
	for i := range s.Rows {
		row := &s.Rows[i]
		row.Place = int64(i + 1)
		k, ok := at[row.Field]
		if !ok {
			k = len(s.Fields)
			at[row.Field] = k
			s.Fields = append(s.Fields, FieldWorth{Field: row.Field})
		}
		f := &s.Fields[k]
		f.Buildings++
		f.Worth += row.Worth
		f.Best += row.BestChanges
		if !math.IsNaN(row.FundedChanges) {
			f.Funded += row.FundedChanges
		}
	}
	slices.SortFunc(s.Fields, func(x, y FieldWorth) int {
		return cmp.Or(cmp.Compare(y.Worth, x.Worth), cmp.Compare(x.Field, y.Field))
	})
	s.visits()
}

// failedNote names the buildings on which the program failed.
func (s *Search) failedNote() []string {
	return failedNote(s.Failed, "nothing is said here")
}

// writeSearch writes inspect.csv and a manifest.
func (r *Run) writeSearch(set *output.Set, hash string, s *Search) error {
	err := output.WriteTable(set, &output.Inspections, s.About, s.Rows, output.FormatCSV)
	if err != nil {
		return err
	}
	m := &output.Manifest{About: s.About, Counts: s.Counts, PlanSHA256: hash, Plan: r.plan.Effective(), Notes: []string{
		"Worth of knowing one field at a time, over what may be found there (docs/methods/ranking.md); the probabilities are judgement.",
		fmt.Sprintf("One unit of money is priced at a gain of %.6g, that of the budget line.", s.Price),
	}}
	m.Notes = append(m.Notes, s.failedNote()...)
	if m.Inputs, err = r.inputs(); err != nil {
		return err
	}
	return set.Commit(m)
}
