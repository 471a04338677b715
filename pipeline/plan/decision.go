package plan

// Objective states what the rank serves.
type Objective struct {
	// objective of the rank; weighted is the sum of the others, each times its weight
	RankBy string `toml:"rank_by" choices:"net-benefit|benefit-cost|life-safety|contents|continuity|weighted"`
	// points for one unit of each objective, for rank_by = "weighted": what is said here of a death beside
	// money is said openly
	Weights Weights `toml:"weights"`
}

// Weights are the points for one unit of each objective.
type Weights struct {
	// points for one unit of currency of net benefit
	NetBenefit float64 `toml:"net-benefit" min:"0"`
	// points for a benefit:cost of 1
	BenefitCost float64 `toml:"benefit-cost" min:"0"`
	// points for one death avoided over the life
	LifeSafety float64 `toml:"life-safety" min:"0"`
	// points for one unit of currency of contents loss avoided; it is part of the net benefit already
	Contents float64 `toml:"contents" min:"0"`
	// points for one day closed avoided over the life
	Continuity float64 `toml:"continuity" min:"0"`
}

// List returns the weights in the order of the objectives.
func (w *Weights) List() []float64 {
	return []float64{w.NetBenefit, w.BenefitCost, w.LifeSafety, w.Contents, w.Continuity}
}

// Rating states on which published scales buildings are rated.
type Rating struct {
	// scales, none where the list is empty
	Scales []string `toml:"scales" choices:"asce-41|nzs-percent|dm-58-2017|japan-index"`
	// factor on capacity where no report gives the strength, for asce-41 and for is-v of dm-58-2017 (ASCE
	// 41-17 6.2.4: 0.75 to 1)
	KnowledgeFactor float64 `toml:"knowledge_factor" min:"0.5" max:"1"`
	// seismic hazard level of ASCE 41 2.4.1 for asce-41, from the hazard of each site; where it is silent the
	// design return period
	ASCE41Level string `toml:"asce41_level" choices:"BSE-1E|BSE-2E|BSE-1N|BSE-2N"`
	// index T of ageing of all buildings, for japan-index
	JapanTime float64 `toml:"japan_time_index" min:"0.7" max:"1"`
	// index SD of irregularity of all buildings, for japan-index
	JapanIrregularity float64 `toml:"japan_irregularity_index" min:"0.4" max:"1"`
	// zone index Z, for japan-index
	JapanZone float64 `toml:"japan_zone_index" min:"0.7" max:"1"`
}

// Budget states what may be spent when, and on what terms.
type Budget struct {
	// money in all years together; 0 where yearly says it
	Total float64 `toml:"total" min:"0"`
	// money of each year; 0 for the total at once or in any year
	Yearly float64 `toml:"yearly" min:"0"`
	// calendar year of the first works
	FirstYear int `toml:"first_year" min:"1" max:"9999"`
	// years the programme may take
	Years int `toml:"years" min:"1" max:"100"`
	// what a year leaves unspent may be spent later
	CarryOver bool `toml:"carry_over"`

	// ids of buildings that must be done
	Must []string `toml:"must"`
	// ids of buildings nothing may be done to
	Cannot []string `toml:"cannot"`
	// CSV file of terms by building: id, group, latest_year (docs/methods/ranking.md)
	Terms string `toml:"terms"`

	// buildings of one group of the terms file that may be worked on in one year; 0 for any number
	PerGroup int `toml:"per_group" min:"0"`
	// people who can be housed elsewhere at any one time; 0 for no limit
	Decant float64 `toml:"decant_persons" unit:"persons" min:"0"`
}

// Uncertainty states what is drawn to learn how sure a rank is.
type Uncertainty struct {
	// draws of everything uncertain; 0 for none; 199 make a 90 % interval of ranks exact
	Draws int `toml:"draws" min:"0" max:"1999"`
	// seed of the draws
	Seed int `toml:"seed" min:"0"`
	// how many places top_k_frequency counts as the first
	Top int `toml:"top" min:"1"`
	// of a stock of more buildings than this, only the first this many by rank are sampled
	Shortlist int `toml:"shortlist" min:"1"`

	// ln sd of the hazard, the same for all buildings of a draw
	HazardCommon float64 `toml:"hazard_common" min:"0" max:"2"`
	// ln sd of the hazard, each building's own
	HazardLocal float64 `toml:"hazard_local" min:"0" max:"2"`
	// ln sd of strength that all buildings share, part of each one's own
	StrengthCommon float64 `toml:"strength_common" min:"0" max:"2"`
	// share of the variance of a measure's cost that all buildings share
	CostCommon float64 `toml:"cost_common" min:"0" max:"1"`
}
