package ranking

import "plinth/retrofit/consequence"

// Parts are what a measure does for one building over the life of the plan,
// against the building as it stands. They stay columns of the output; a score is
// a view of them.
type Parts struct {
	Benefit         float64 // currency, present value of the annual loss avoided
	Cost            float64 // currency, likely
	DeathsAvoided   float64 // persons over the life
	ContentsAvoided float64 // currency, present value of the annual contents loss avoided
	DaysAvoided     float64 // d closed avoided over the life, not discounted
}

// PartsOf returns the parts of a measure that costs so much and leaves the annual
// values with where there were asIs, over a life in years at a discount rate.
// Money is discounted; persons and days are added up.
func PartsOf(asIs, with *consequence.Annual, cost, life, rate float64) Parts {
	f := consequence.PresentFactor(rate, life)
	return Parts{
		Benefit:         f * (asIs.Total - with.Total),
		Cost:            cost,
		DeathsAvoided:   life * (asIs.Dead - with.Dead),
		ContentsAvoided: f * (asIs.Contents - with.Contents),
		DaysAvoided:     life * (asIs.Days - with.Days),
	}
}
