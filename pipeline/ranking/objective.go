package ranking

import (
	"errors"
	"fmt"
	"math"
	"strings"
)

// An Objective is what a rank serves: a slug, a unit, the score of doing nothing, and a formula.
type Objective struct {
	Slug string
	Unit string  // of the score
	None float64 // score of doing nothing
	Text string  // the formula in words

	score func(*Parts) float64
	scale func(*Parts) float64 // what a tie is measured against
}

// The objectives.
var (
	// NetBenefit is Benefit - Cost. Doing nothing scores 0. Its scale is the benefit, since that is
	// the number that the methods know to 10 %.
	NetBenefit = &Objective{"net-benefit", "currency", 0, "present value of annual loss avoided, less cost",
		func(p *Parts) float64 { return p.Benefit - p.Cost },
		func(p *Parts) float64 { return math.Abs(p.Benefit) }}

	// BenefitCost is Benefit/Cost. Doing nothing scores 1, the worth of money that is not spent. A
	// measure without a positive cost has no score (NaN).
	BenefitCost = &Objective{"benefit-cost", "1", 1, "present value of annual loss avoided, over cost",
		func(p *Parts) float64 { return ratio(p.Benefit, p.Cost) },
		func(p *Parts) float64 { return math.Abs(ratio(p.Benefit, p.Cost)) }}

	// LifeSafety is DeathsAvoided, whatever the cost. Doing nothing scores 0.
	LifeSafety = same("life-safety", "persons", "deaths avoided over the life, whatever the cost",
		func(p *Parts) float64 { return p.DeathsAvoided })

	// ContentsKept is ContentsAvoided, whatever the cost. Doing nothing scores 0.
	ContentsKept = same("contents", "currency",
		"present value of annual contents loss avoided, whatever the cost",
		func(p *Parts) float64 { return p.ContentsAvoided })

	// Continuity is DaysAvoided, whatever the cost. Doing nothing scores 0.
	Continuity = same("continuity", "d", "days closed avoided over the life, whatever the cost",
		func(p *Parts) float64 { return p.DaysAvoided })
)

// Objectives lists the objectives in the order they are shown.
func Objectives() []*Objective {
	return []*Objective{NetBenefit, BenefitCost, LifeSafety, ContentsKept, Continuity}
}

// Weighted returns the sum of objectives, each times a declared weight: the points for one unit of
// it. weights has one entry for each of Objectives, 0 for those left out.
//
//	score = sum of weight x score
//
// Weights carry the units: points for a unit of currency, for a death avoided, for a day. Nothing
// is normalised by the stock. Otherwise the score of a building would depend on its neighbours, and
// the order of two buildings on a third. If a weighted objective has no score, the sum has none.
func Weighted(weights []float64) (*Objective, error) {
	list := Objectives()
	if len(weights) != len(list) {
		panic("ranking: one weight for each objective")
	}
	var none float64
	any := false
	for i, w := range weights {
		if !(w >= 0) || math.IsInf(w, 0) {
			return nil, fmt.Errorf("weight %g of %s must be a number of 0 or more", w, list[i].Slug)
		}
		none += w * list[i].None
		any = any || w > 0
	}
	if !any {
		return nil, errors.New("weighted: no objective has a weight above 0")
	}
	sum := func(of func(*Objective, *Parts) float64) func(*Parts) float64 {
		return func(p *Parts) (v float64) {
			for i, w := range weights {
				if w > 0 {
					v += w * of(list[i], p)
				}
			}
			return v
		}
	}
	return &Objective{WeightedSlug, "points", none, "sum of the objectives, each times its declared weight",
		sum((*Objective).Score), sum((*Objective).Scale)}, nil
}

// WeightedSlug names the declared weighting of the objectives.
const WeightedSlug = "weighted"

// same returns an objective in which doing nothing scores 0 and the score is its own scale.
func same(slug, unit, text string, score func(*Parts) float64) *Objective {
	return &Objective{slug, unit, 0, text, score, func(p *Parts) float64 { return math.Abs(score(p)) }}
}

// ratio returns benefit over cost, and NaN without a positive cost.
func ratio(benefit, cost float64) float64 {
	if !(cost > 0) {
		return math.NaN()
	}
	return benefit / cost
}

// ParseObjective returns the objective with the given slug.
func ParseObjective(slug string) (*Objective, error) {
	var known []string
	for _, o := range Objectives() {
		if o.Slug == slug {
			return o, nil
		}
		known = append(known, o.Slug)
	}
	return nil, fmt.Errorf("objective %q is not known: want one of %s", slug, strings.Join(known, ", "))
}

// Score returns the score of a measure, the larger the better. It is NaN if a part that it needs is
// unknown.
func (o *Objective) Score(p *Parts) float64 { return o.score(p) }

// Scale returns the magnitude, in the unit of the score, that the methods know to within
// Resolution. Ties are measured against it.
func (o *Objective) Scale(p *Parts) float64 { return o.scale(p) }
