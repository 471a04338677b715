package budget

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"

	"plinth/pipeline/assess"
	"plinth/pipeline/output"
	"plinth/pipeline/ranking"
)

// ErrNoBudget is returned for a plan without money.
var ErrNoBudget = errors.New("the plan names no money; write total or yearly under [budget]")

// A Spending holds the programme of a budget.
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

// Choose finds the programme of the plan's budget and writes it to the folder budget within the
// plan's output folder.
func Choose(ctx context.Context, study *assess.Study, s assess.Settings) (*Spending, error) {
	money := Money(study)
	if money == nil {
		return nil, study.InPlan("budget", ErrNoBudget)
	}
	set, hash, err := study.OpenFolder("budget", s, termsFiles(study)...)
	if err != nil {
		return nil, err
	}
	defer set.Abort() // does nothing after Commit
	all, counts, err := collect(ctx, study, s)
	if err != nil {
		return nil, err
	}
	t, err := readTerms(study, all)
	if err != nil {
		return nil, err
	}
	list := prospects(all, study.Objective(), t)
	b := &study.Plan().Budget
	out := &Spending{Money: money, Unit: study.Objective().Unit, Counts: counts,
		About: study.About(s.Version)}
	if study.Objective() == ranking.BenefitCost {
		out.Unit = "currency"
	}
	out.Schedule, err = ranking.Arrange(list,
		ranking.Years{Money: money, CarryOver: b.CarryOver, PerGroup: b.PerGroup, Load: b.Decant})
	if err != nil {
		return nil, fmt.Errorf("budget: %w", err)
	}
	out.Next = out.Schedule.Next
	works(study, out, all, list)
	free := &terms{}
	for _, o := range []*ranking.Objective{ranking.NetBenefit, ranking.LifeSafety, ranking.ContentsKept,
		ranking.Continuity} {
		points, err := ranking.Frontier(prospects(all, o, free), 200)
		if err != nil {
			return nil, fmt.Errorf("budget: %w", err)
		}
		out.Fronts = append(out.Fronts, Front{o, points})
	}
	return out, write(study, set, hash, out)
}

// works fills the rows of the works and of the buildings next in line.
func works(study *assess.Study, out *Spending, all []building, list []ranking.Prospect) {
	b := &study.Plan().Budget
	row := func(i int, o *ranking.Offer) output.Work {
		var w output.Work
		output.Programme.Blank(&w)
		c, p := &all[i], &list[i]
		d := c.offer(o.Measure)
		w.ID, w.Name, w.Measure, w.Lon, w.Lat = c.id, c.name, o.Measure, c.lon, c.lat
		w.CostLow, w.CostLikely, w.CostHigh, w.Currency = d.cost.Low, d.cost.Likely, d.cost.High,
			study.Plan().Measures.Currency
		w.Gain, w.NetBenefit = o.Gain, d.net
		w.DeathsAvoided, w.ContentsAvoided, w.DaysSaved = d.parts.DeathsAvoided, d.parts.ContentsAvoided,
			d.parts.DaysAvoided
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
		return cmp.Or(cmp.Compare(x.Year, y.Year), cmp.Compare(y.Gain/y.CostLikely, x.Gain/x.CostLikely),
			cmp.Compare(x.ID, y.ID))
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

// write writes programme.csv, the picture of the frontiers and a manifest.
func write(study *assess.Study, set *output.Set, hash string, out *Spending) error {
	err := output.WriteTable(set, &output.Programme, out.About, out.Works, output.FormatCSV)
	if err != nil {
		return err
	}
	if err := out.writeFrontier(set); err != nil {
		return err
	}
	m := &output.Manifest{About: out.About, Counts: out.Counts, PlanSHA256: hash,
		Plan: study.Plan().Effective(), Notes: []string{
			fmt.Sprintf("Gain is counted by %s. The programme gains %.6g; none under the same money "+
				"gains more than %.6g (gap %.3g %%).",
				study.Plan().Objective.RankBy, out.Schedule.Gain, out.Schedule.Bound, 100*out.Schedule.Gap),
			"Gains and costs are medians; a gap of zero says that the sum was done well, not that the " +
				"money is.",
		}}
	if m.Inputs, err = study.Inputs(termsFiles(study)...); err != nil {
		return err
	}
	return set.Commit(m)
}
