package ranking

import "plinth/retrofit/consequence"

// Parts are the effects of a measure on one building over the life of the plan, compared with the
// building as it stands. The output has a column for each. A score is computed from them.
type Parts struct {
	Benefit         float64 // currency, present value of the annual loss avoided
	Cost            float64 // currency, likely
	DeathsAvoided   float64 // persons over the life
	ContentsAvoided float64 // currency, present value of the annual contents loss avoided
	DaysAvoided     float64 // d closed avoided over the life, not discounted
}

// PartsOf returns the parts of a measure with the given cost. asIs and with are the annual values
// without and with it; life is in years, rate is the discount rate. Money is discounted. Persons
// and days are added up.
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
