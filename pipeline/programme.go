package pipeline

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"sync"

	"plinth/pipeline/inventory"
	"plinth/pipeline/output"
	"plinth/pipeline/ranking"
	"plinth/retrofit"
)

// ErrNoBudget is returned for a plan that names no money.
var ErrNoBudget = errors.New("the plan names no money; write total or yearly under [budget]")

// A Spending is what a budget buys.
type Spending struct {
	Schedule ranking.Schedule
	Works    []output.Work
	Money    []float64 // of each year
	Unit     string    // of gain
	Next     float64   // gain of the next unit of money
	Waiting  []output.Work
	Fronts   []Front
	About    output.About
	Counts   output.Counts
}

// A Front is the frontier of spend against one benefit.
type Front struct {
	Objective *ranking.Objective
	Points    []ranking.Point
}

// A candidate is one building with its offers.
type candidate struct {
	id, name  string
	lon, lat  float64
	occupants float64
	offers    []bid
}

// A bid is one measure of a building.
type bid struct {
	measure string
	cost    retrofit.Cost
	weeks   float64
	verdict string
	net     float64
	parts   ranking.Parts
}

// gainOf returns what a programme counts of a measure: the score above doing
// nothing, and for benefit:cost the benefit itself, since ratios do not add up.
func gainOf(o *ranking.Objective, p *ranking.Parts) float64 {
	if o == ranking.BenefitCost {
		return p.Benefit
	}
	return o.Score(p) - o.None
}

// A bidder gathers the candidates of one worker.
type bidder struct {
	a     *Assessment
	all   *[]candidate
	tally *output.Counts
	lock  *sync.Mutex
}

func (b *bidder) reject(*inventory.Reject) {
	b.lock.Lock()
	defer b.lock.Unlock()
	b.tally.In++
	b.tally.Rejected++
}

func (b *bidder) visit(h *inventory.Building) error {
	err := b.a.Assess(h)
	b.lock.Lock()
	defer b.lock.Unlock()
	b.tally.In++
	if err != nil {
		b.tally.Rejected++
		return nil
	}
	b.tally.Out++
	c := candidate{id: h.ID, name: h.Name, lon: h.Lon, lat: h.Lat, occupants: max(h.OccupantsDay, h.OccupantsNight)}
	for i := range b.a.Options {
		if o := &b.a.Options[i]; b.a.choosable(o) && !math.IsNaN(o.Cost.Likely) {
			c.offers = append(c.offers, bid{o.Measure.Slug(), o.Cost, o.Weeks, o.Verdict.String(), o.Benefits[0].Net, o.Parts})
		}
	}
	*b.all = append(*b.all, c)
	return nil
}

// candidates assesses the register and returns every building with its offers, in
// the order of ids.
func (r *Run) candidates(ctx context.Context, s Settings) ([]candidate, output.Counts, error) {
	var all []candidate
	var counts output.Counts
	var lock sync.Mutex
	reader, err := r.Register(ctx)
	if err != nil {
		return nil, counts, err
	}
	defer reader.Close()
	visit := func() visitor { return &bidder{r.NewAssessment(), &all, &counts, &lock} }
	err = r.flow(ctx, reader, s.workers(), visit, s.Progress.watch("buildings"))
	slices.SortFunc(all, func(x, y candidate) int { return cmp.Compare(x.id, y.id) })
	return all, counts, err
}

// prospects returns the offers of candidates under an objective and the terms.
func prospects(all []candidate, o *ranking.Objective, t *terms) []ranking.Prospect {
	out := make([]ranking.Prospect, len(all))
	for i := range all {
		c := &all[i]
		out[i] = ranking.Prospect{ID: c.id, Must: t.must[c.id], Latest: t.latest[c.id], Group: t.group[c.id]}
		for k := range c.offers {
			b := &c.offers[k]
			g := gainOf(o, &b.parts)
			if t.cannot[c.id] || math.IsNaN(g) {
				continue
			}
			out[i].Offers = append(out[i].Offers, ranking.Offer{Measure: b.measure, Cost: b.cost.Likely, Gain: g, Load: c.displaced(b)})
		}
	}
	return out
}

// displaced returns the people to be housed elsewhere times the years of works.
func (c *candidate) displaced(b *bid) float64 {
	v := c.occupants * b.weeks / 52
	if math.IsNaN(v) {
		return 0
	}
	return v
}

// bid returns the offer of a measure.
func (c *candidate) bid(measure string) *bid {
	i := slices.IndexFunc(c.offers, func(b bid) bool { return b.measure == measure })
	return &c.offers[i]
}

// Budget chooses what to do under the plan's budget and writes the programme to the
// folder budget within the plan's output folder.
func (r *Run) Budget(ctx context.Context, s Settings) (*Spending, error) {
	money := r.money()
	if money == nil {
		return nil, r.inPlan("budget", ErrNoBudget)
	}
	set, hash, err := r.aside("budget", s, r.termsFiles()...)
	if err != nil {
		return nil, err
	}
	defer set.Abort() // does nothing after Commit
	all, counts, err := r.candidates(ctx, s)
	if err != nil {
		return nil, err
	}
	t, err := r.terms(all)
	if err != nil {
		return nil, err
	}
	list := prospects(all, r.objective, t)
	b := &r.plan.Budget
	out := &Spending{Money: money, Unit: r.objective.Unit, Counts: counts,
		About: output.About{Version: s.Version, Currency: r.plan.Measures.Currency, PriceDate: r.plan.Measures.PriceDate}}
	if r.objective == ranking.BenefitCost {
		out.Unit = "currency"
	}
	out.Schedule, err = ranking.Arrange(list, ranking.Years{Money: money, CarryOver: b.CarryOver, PerGroup: b.PerGroup, Load: b.Decant})
	if err != nil {
		return nil, fmt.Errorf("budget: %w", err)
	}
	out.Next = out.Schedule.Next
	r.works(out, all, list)
	free := &terms{}
	for _, o := range []*ranking.Objective{ranking.NetBenefit, ranking.LifeSafety, ranking.ContentsKept, ranking.Continuity} {
		points, err := ranking.Frontier(prospects(all, o, free), 200)
		if err != nil {
			return nil, fmt.Errorf("budget: %w", err)
		}
		out.Fronts = append(out.Fronts, Front{o, points})
	}
	return out, r.writeBudget(set, hash, out)
}

// money returns the money of each year, nil where the plan names none.
func (r *Run) money() []float64 {
	b := &r.plan.Budget
	if b.Total == 0 && b.Yearly == 0 {
		return nil
	}
	out := make([]float64, b.Years)
	left := b.Total
	for y := range out {
		switch {
		case b.Yearly == 0:
			out[y], left = left, 0
		case b.Total == 0:
			out[y] = b.Yearly
		default:
			out[y] = min(left, b.Yearly)
			left -= out[y]
		}
	}
	return out
}

// works fills the rows of what is done and of what is next in line.
func (r *Run) works(out *Spending, all []candidate, list []ranking.Prospect) {
	b := &r.plan.Budget
	row := func(i int, o *ranking.Offer) output.Work {
		var w output.Work
		output.Programme.Blank(&w)
		c, p := &all[i], &list[i]
		d := c.bid(o.Measure)
		w.ID, w.Name, w.Measure, w.Lon, w.Lat = c.id, c.name, o.Measure, c.lon, c.lat
		w.CostLow, w.CostLikely, w.CostHigh, w.Currency = d.cost.Low, d.cost.Likely, d.cost.High, r.plan.Measures.Currency
		w.Gain, w.NetBenefit = o.Gain, d.net
		w.DeathsAvoided, w.ContentsAvoided, w.DaysSaved = d.parts.DeathsAvoided, d.parts.ContentsAvoided, d.parts.DaysAvoided
		w.Weeks, w.Displaced, w.Must, w.Group, w.Verdict = d.weeks, o.Load, p.Must, p.Group, d.verdict
		if p.Latest > 0 {
			w.Latest = int64(b.FirstYear + p.Latest - 1)
		}
		return w
	}
	for i, j := range out.Schedule.Chosen {
		if j >= 0 {
			w := row(i, &list[i].Offers[j])
			w.Year = int64(b.FirstYear + out.Schedule.Year[i] - 1)
			out.Works = append(out.Works, w)
			continue
		}
		if k := bestWorth(list[i].Offers); k >= 0 {
			out.Waiting = append(out.Waiting, row(i, &list[i].Offers[k]))
		}
	}
	byWorth := func(x, y output.Work) int {
		return cmp.Or(cmp.Compare(x.Year, y.Year), cmp.Compare(y.Gain/y.CostLikely, x.Gain/x.CostLikely), cmp.Compare(x.ID, y.ID))
	}
	slices.SortFunc(out.Works, byWorth)
	slices.SortFunc(out.Waiting, byWorth)
	var spent float64
	for i := range out.Works {
		spent += out.Works[i].CostLikely
		out.Works[i].Order, out.Works[i].Cumulative = int64(i+1), spent
	}
}

// bestWorth returns the offer that gains most for its cost, -1 where none gains.
func bestWorth(offers []ranking.Offer) int {
	best, most := -1, 0.0
	for i, o := range offers {
		if v := o.Gain / o.Cost; v > most {
			best, most = i, v
		}
	}
	return best
}

// writeBudget writes programme.csv, the picture of the frontiers and a manifest.
func (r *Run) writeBudget(set *output.Set, hash string, out *Spending) error {
	err := output.WriteTable(set, &output.Programme, out.About, out.Works, output.FormatCSV)
	if err != nil {
		return err
	}
	if err := out.picture(set); err != nil {
		return err
	}
	m := &output.Manifest{About: out.About, Counts: out.Counts, PlanSHA256: hash, Plan: r.plan.Effective(), Notes: []string{
		fmt.Sprintf("Gain is counted by %s. The programme gains %.6g; none under the same money gains more than %.6g (gap %.3g %%).",
			r.plan.Objective.RankBy, out.Schedule.Gain, out.Schedule.Bound, 100*out.Schedule.Gap),
		"Gains and costs are medians; a gap of zero says that the sum was done well, not that the money is.",
	}}
	if m.Inputs, err = r.inputs(r.termsFiles()...); err != nil {
		return err
	}
	return set.Commit(m)
}

// aside opens a folder of its own within the output folder, and the plan's name in
// its manifest.
// More are paths that its command reads beside those of every run.
func (r *Run) aside(name string, s Settings, more ...string) (*output.Set, string, error) {
	hash, err := output.HashPlan(r.plan.Effective())
	if err != nil {
		return nil, "", err
	}
	set, err := r.openSet(name, hash, s, more...)
	return set, hash, err
}

// openSet opens a folder within the output folder for the files of a run.
func (r *Run) openSet(name, hash string, s Settings, more ...string) (*output.Set, error) {
	if err := r.mayHold(s); err != nil {
		return nil, err
	}
	return output.NewSet(filepath.Join(r.plan.Output.Folder, name), r.claim(hash, s, more...))
}

// termsFiles returns the path of the file of terms, if the plan names one.
func (r *Run) termsFiles() []string {
	if r.plan.Budget.Terms == "" {
		return nil
	}
	return []string{r.plan.Budget.Terms}
}
