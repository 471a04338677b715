package assess

import (
	"math"

	"plinth/pipeline/extsort"
	"plinth/pipeline/ranking"
	"plinth/retrofit"
	"plinth/retrofit/consequence"
)

// An Option is one measure for the building of an Assessment.
type Option struct {
	retrofit.Outcome
	Exposure consequence.Exposure
	After    consequence.Annual
	Benefits [3]consequence.Benefit // at the plan's rate and two others
	Parts    ranking.Parts          // of the score
	Score    float64                // by the plan's objective; NaN where it has none
	Short    bool                   // the building would not meet the plan's target with it
}

// deathsTolerance is the relative rise of expected deaths that counts as none, since the
// numbers are no finer (judgement).
const deathsTolerance = 0.01

// Feasible reports whether the option may be chosen: not barred.
func (o *Option) Feasible() bool { return o.Verdict != retrofit.Bar && len(o.Levels) > 0 }

// CostsLives reports whether more deaths are expected with the option than as the building
// stands. Such an option is shown and never chosen, whatever money it saves.
func (o *Option) CostsLives(before *consequence.Annual) bool {
	return o.Feasible() && o.After.Dead > (1+deathsTolerance)*before.Dead
}

// Choosable reports whether an option may be chosen: it fits, costs no lives, and reaches the
// plan's target or leaves none behind that does; and the annual values that every objective rests on
// are known.
func (a *Assessment) Choosable(o *Option) bool {
	return a.SlopeKnown() && a.harmless(o) && !(o.Short && a.reached)
}

// harmless reports whether an option fits and costs no lives.
func (a *Assessment) harmless(o *Option) bool { return o.Feasible() && !o.CostsLives(&a.Before) }

// choose puts the options and doing nothing in order.
func (a *Assessment) choose() {
	a.judgeTarget()
	a.scores = a.scores[:0]
	for i := range a.Options {
		o := &a.Options[i]
		a.scores = append(a.scores, ranking.Option{
			Measure: o.Measure.Slug(), Score: o.Score, Scale: a.study.objective.Scale(&o.Parts),
			Barred: !a.Choosable(o),
		})
	}
	a.scores = append(a.scores, ranking.Option{Measure: ranking.NoMeasure, Score: a.study.objective.None})
	ranking.Choose(a.scores, &a.Choice)
}

// Best returns the best option by the plan's objective, or nil for doing nothing.
func (a *Assessment) Best() *Option { return a.OptionAt(a.Choice.Best) }

// RunnerUp returns the second option, or nil for doing nothing or none.
func (a *Assessment) RunnerUp() *Option { return a.OptionAt(a.Choice.RunnerUp) }

// Scored returns the score of option i of the choice. Doing nothing follows the measures.
func (a *Assessment) Scored(i int) *ranking.Option { return &a.scores[i] }

// OptionAt returns option i of the choice, nil for doing nothing.
func (a *Assessment) OptionAt(i int) *Option {
	if i < 0 || i >= len(a.Options) {
		return nil
	}
	return &a.Options[i]
}

// BestBy returns the best option by an objective with its score: nil and the score of doing nothing
// where none scores more.
func (a *Assessment) BestBy(objective *ranking.Objective) (best *Option, score float64) {
	score = objective.None
	for i := range a.Options {
		if o := &a.Options[i]; a.Choosable(o) {
			if v := objective.Score(&o.Parts); v > score { // false for NaN
				best, score = o, v
			}
		}
	}
	return best, score
}

// Gain returns the score of a measure less that of doing nothing; NaN where the measure
// costs lives.
func (study *Study) Gain(asIs, with *consequence.Annual, cost float64) float64 {
	if with.Dead > (1+deathsTolerance)*asIs.Dead {
		return math.NaN()
	}
	c := &study.plan.Consequence
	parts := ranking.PartsOf(asIs, with, cost, c.LifeYears, c.DiscountRate)
	return study.objective.Score(&parts) - study.objective.None
}

// AppendRankKey appends the sort key of a building: by score, by the deaths that a measure could
// avoid over the life, and by annual loss, the largest first, then by id. Buildings for which nothing
// pays have one score, and are so ordered by the lives that are at stake.
func AppendRankKey(key []byte, score, deathsAvoidable, annualLoss float64, id string) []byte {
	key = extsort.AppendDescending(key, score)
	key = extsort.AppendDescending(key, deathsAvoidable)
	key = extsort.AppendDescending(key, annualLoss)
	return extsort.AppendString(key, id)
}
