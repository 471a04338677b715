package budget

import (
	"context"
	"errors"
	"fmt"

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
	Money    []float64     // of each year
	Unit     string        // of gain
	Life     float64       // years that benefits are counted over
	Next     float64       // gain of the next unit of money
	Waiting  []output.Work // the first that are next in line
	Fronts   []Front
	About    output.About
	Counts   output.Counts
}

// A Front is the frontier of spend against one benefit.
type Front struct {
	Objective *ranking.Objective
	Points    []ranking.Point
}

// Choose finds the programme of the plan's budget among the buildings that the last screening has
// left, and writes it to the folder budget within the plan's output folder. The error is an
// *assessed.NotCurrentError if there is no such screening of the plan and its inputs.
func Choose(ctx context.Context, study *assess.Study, s assess.Settings) (*Spending, error) {
	money := Money(study)
	if money == nil {
		return nil, study.InPlan("budget", ErrNoBudget)
	}
	all, err := openStock(study, s)
	if err != nil {
		return nil, err
	}
	set, hash, err := study.OpenFolder("budget", s, termsFiles(study)...)
	if err != nil {
		return nil, err
	}
	defer set.Abort() // does nothing after Commit
	list, err := all.underTerms(ctx)
	if err != nil {
		return nil, err
	}
	b := &study.Plan().Budget
	out := &Spending{Money: money, Unit: study.Objective().Unit, Counts: all.Counts,
		About: study.About(s.Version), Life: study.Plan().Consequence.LifeYears}
	if study.Objective() == ranking.BenefitCost {
		out.Unit = "currency"
	}
	out.Schedule, err = ranking.Arrange(list,
		ranking.Years{Money: money, CarryOver: b.CarryOver, PerGroup: b.PerGroup, Load: b.Decant})
	if err != nil {
		return nil, fmt.Errorf("budget: %w", err)
	}
	out.Next = out.Schedule.Next
	if err := all.works(ctx, out, list); err != nil {
		return nil, err
	}
	list = nil // the frontiers have prospects of their own
	if out.Fronts, err = all.frontiers(ctx); err != nil {
		return nil, err
	}
	return out, write(study, set, hash, out)
}

// frontiers returns the frontier of each benefit, without terms.
func (s *stock) frontiers(ctx context.Context) ([]Front, error) {
	var fronts []Front
	for _, o := range []*ranking.Objective{ranking.NetBenefit, ranking.LifeSafety, ranking.ContentsKept,
		ranking.Continuity} {
		list, err := s.prospects(ctx, o, &terms{})
		if err != nil {
			return nil, err
		}
		points, err := ranking.Frontier(list, 200)
		if err != nil {
			return nil, fmt.Errorf("budget: %w", err)
		}
		fronts = append(fronts, Front{o, points})
	}
	return fronts, nil
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
