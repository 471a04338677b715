package output

import "plinth/retrofit/rating"

// A Building is the row of one building as it stands, with the measure that suits it best. Demand
// is at the design return period.
type Building struct {
	Rank, TieGroup, RankAsIs                  int64
	RankLow, RankMedian, RankHigh             int64
	AsIsLow, AsIsHigh                         int64
	TopFrequency, BestFrequency               float64
	Scores                                    [5]float64 // by each objective, in the order of ranking.Objectives
	Ranks                                     [5]int64   // the same
	Score, ScoreResolution                    float64
	ID, Name                                  string
	Lon, Lat                                  float64
	System                                    string
	Year, Storeys                             int64
	Height, FloorArea                         float64
	Use, SiteClass, SiteClassOrigin           string
	SitePeriod                                float64
	Resonant, NearFault                       bool
	Occupants, ReplacementValue               float64
	Period, StrengthRatio                     float64
	DesignReturnPeriod, DesignSa, DesignPGA   float64
	Drift, FloorAccel, BaseShear              float64
	EquipmentAccel, CabinetAccel              float64
	FragileAccel, ObjectsMoveAt               float64
	ObjectsFirst                              string
	VerticalAccel                             float64
	ImmediateOccupancy, LifeSafety            float64
	CollapsePrevention                        float64
	Replaced, Collapse                        float64
	AnnualLoss, AnnualFatalities              float64
	StreetFatalities                          float64
	AnnualLossLow, AnnualLossHigh             float64
	FrequentShare, RareShare                  float64
	FatalitiesBy                              [3]float64 // day, night, transit
	IndividualRisk                            float64
	LookNow, TargetMissed                     string
	Currency                                  string
	Best                                      string
	BestCostLow, BestCostLikely, BestCostHigh float64
	BestNetBenefit, BestBenefitCost           float64
	BestDrift, BestFloorAccel                 float64
	BestVerdict                               string
	BestFallsShort                            bool
	BestForLives, PaysMeasure                 string
	PaysBelow                                 float64
	RunnerUp                                  string
	Margin                                    float64
	Tied                                      bool
	WhyNot                                    string
	DataGrade, AssumedFields                  string
	HazardStatus, SolverStatus                string
	Ratings                                   [rating.NumScales]rating.Pair // of the scales the plan asks for
	Area, Label, Priority, Reason             string                        // for maps
}

// Buildings is the table of Building.
var Buildings = Table[Building]{
	Name:  "buildings",
	Title: "Buildings as they stand, each with its best measure",
	Doc:   "One row for each building of the register that could be read, in order of rank.",
	ID:    "building_id",
	Key:   []string{"building_id"},
	Order: "rank",
	Point: true,
	Columns: append([]Column[Building]{
		{Name: "rank", Required: true, Int: func(r *Building) *int64 { return &r.Rank },
			Doc: "place of the building by the objective of the plan, 1 first"},
		{Name: "tie_group", Int: func(r *Building) *int64 { return &r.TieGroup },
			Doc: "buildings of one group cannot be told apart from its first: it does not come before them in 90 % " +
				"of draws, or, without draws, their scores are within the resolution; 1 first"},
		{Name: "rank_low", Int: func(r *Building) *int64 { return &r.RankLow },
			Doc: "rank that 5 % of draws do not exceed; missing where none were drawn"},
		{Name: "rank_median", Int: func(r *Building) *int64 { return &r.RankMedian },
			Doc: "rank that half of the draws do not exceed"},
		{Name: "rank_high", Int: func(r *Building) *int64 { return &r.RankHigh },
			Doc: "rank that 95 % of draws do not exceed"},
		{Name: "top_k_frequency", Float: func(r *Building) *float64 { return &r.TopFrequency },
			Doc: "share of draws in which the building is among the first k; k is uncertainty.top of the plan"},
		{Name: "best_measure_frequency", Float: func(r *Building) *float64 { return &r.BestFrequency },
			Doc: "share of draws in which its best measure, or doing nothing, stays best"},
		{Name: "rank_as_is", Int: func(r *Building) *int64 { return &r.RankAsIs },
			Doc: "place of the building by annual loss as it stands, 1 first: which building is worst off, whatever " +
				"can be done for it"},
		{Name: "rank_as_is_low", Int: func(r *Building) *int64 { return &r.AsIsLow },
			Doc: "rank as it stands that 5 % of draws do not exceed"},
		{Name: "rank_as_is_high", Int: func(r *Building) *int64 { return &r.AsIsHigh },
			Doc: "rank as it stands that 95 % of draws do not exceed"},
		{Name: "score", Float: func(r *Building) *float64 { return &r.Score },
			Doc: "score of the best measure by the objective of the plan, in the unit of the objective"},
		{Name: "score_resolution", Float: func(r *Building) *float64 { return &r.ScoreResolution },
			Doc: "scores closer than this are not told apart"},
		{Name: "rank_net_benefit", Int: func(r *Building) *int64 { return &r.Ranks[0] },
			Doc: "place of the building were the objective net-benefit, 1 first; its measure is then chosen by that " +
				"objective too"},
		{Name: "rank_benefit_cost", Int: func(r *Building) *int64 { return &r.Ranks[1] },
			Doc: "the same for benefit-cost"},
		{Name: "rank_life_safety", Int: func(r *Building) *int64 { return &r.Ranks[2] },
			Doc: "the same for life-safety"},
		{Name: "rank_contents", Int: func(r *Building) *int64 { return &r.Ranks[3] },
			Doc: "the same for contents"},
		{Name: "rank_continuity", Int: func(r *Building) *int64 { return &r.Ranks[4] },
			Doc: "the same for continuity"},
		{Name: "score_net_benefit", Unit: "currency", Float: func(r *Building) *float64 { return &r.Scores[0] },
			Doc: "largest net benefit of a measure, 0 where doing nothing is best"},
		{Name: "score_benefit_cost", Float: func(r *Building) *float64 { return &r.Scores[1] },
			Doc: "largest benefit over cost of a measure, 1 where doing nothing is best"},
		{Name: "score_life_safety", Float: func(r *Building) *float64 { return &r.Scores[2] },
			Doc: "most deaths avoided over the life by a measure, persons"},
		{Name: "score_contents", Unit: "currency", Float: func(r *Building) *float64 { return &r.Scores[3] },
			Doc: "most present value of contents loss avoided by a measure"},
		{Name: "score_continuity", Unit: "d", Float: func(r *Building) *float64 { return &r.Scores[4] },
			Doc: "most days closed avoided over the life by a measure"},
		{Name: "building_id", Required: true, Text: func(r *Building) *string { return &r.ID },
			Doc: "the owner's id, as text"},
		{Name: "building_name", Text: func(r *Building) *string { return &r.Name },
			Doc: "the owner's name of the building"},
		{Name: "lon", Unit: "degrees", Digits: coordinateDigits,
			Float: func(r *Building) *float64 { return &r.Lon },
			Doc:   "longitude, WGS 84, east positive"},
		{Name: "lat", Unit: "degrees", Digits: coordinateDigits,
			Float: func(r *Building) *float64 { return &r.Lat },
			Doc:   "latitude, WGS 84, north positive"},
		{Name: "system", Text: func(r *Building) *string { return &r.System },
			Doc: "slug of the structural system"},
		{Name: "year", Int: func(r *Building) *int64 { return &r.Year },
			Doc: "year the building was built"},
		{Name: "storeys", Int: func(r *Building) *int64 { return &r.Storeys },
			Doc: "storeys above ground"},
		{Name: "height_m", Unit: "m", Float: func(r *Building) *float64 { return &r.Height },
			Doc: "height above ground"},
		{Name: "floor_area_m2", Unit: "m2", Float: func(r *Building) *float64 { return &r.FloorArea },
			Doc: "gross floor area above ground"},
		{Name: "use", Text: func(r *Building) *string { return &r.Use },
			Doc: "slug of what the building is used for"},
		{Name: "site_class", Text: func(r *Building) *string { return &r.SiteClass },
			Doc: "ground class, a letter of the standard named in the plan"},
		{Name: "site_class_origin", Text: func(r *Building) *string { return &r.SiteClassOrigin },
			Doc: "where the site class is from: given by the register, derived from a shear wave velocity, the zone " +
				"of a map, assumed, or in the hazard where the spectra hold for the ground already"},
		{Name: "site_period_s", Unit: "s", Float: func(r *Building) *float64 { return &r.SitePeriod },
			Doc: "natural period of the ground: the register's, else a usual one of the site class; missing on rock " +
				"and unknown ground"},
		{Name: "resonant", Bool: func(r *Building) *bool { return &r.Resonant },
			Doc: "true where the first period is 0.7 to 1.3 times the site period"},
		{Name: "near_fault", Bool: func(r *Building) *bool { return &r.NearFault },
			Doc: "true where the register's distance to a fault counts as near for the magnitude of the plan (ASCE " +
				"7-16 11.4.1): spectra that know no fault then fall short at long periods; false too where no distance " +
				"is given"},
		{Name: "occupants", Float: func(r *Building) *float64 { return &r.Occupants },
			Doc: "people inside, averaged over the week"},
		{Name: "replacement_value", Unit: "currency",
			Float: func(r *Building) *float64 { return &r.ReplacementValue },
			Doc:   "cost of building it anew"},
		{Name: "period_s", Unit: "s", Float: func(r *Building) *float64 { return &r.Period },
			Doc: "first period"},
		{Name: "strength_ratio", Float: func(r *Building) *float64 { return &r.StrengthRatio },
			Doc: "yield base shear over weight"},
		{Name: "design_return_period_yr", Unit: "yr",
			Float: func(r *Building) *float64 { return &r.DesignReturnPeriod },
			Doc:   "return period of the shaking that the demand columns hold for"},
		{Name: "design_sa_g", Unit: "g", Float: func(r *Building) *float64 { return &r.DesignSa },
			Doc: "5 % damped spectral acceleration at the first period and the design return period"},
		{Name: "design_pga_g", Unit: "g", Float: func(r *Building) *float64 { return &r.DesignPGA },
			Doc: "peak ground acceleration at the site and the design return period"},
		{Name: "drift_pct", Unit: "%", Float: func(r *Building) *float64 { return &r.Drift },
			Doc: "largest storey drift over storey height"},
		{Name: "floor_accel_g", Unit: "g", Float: func(r *Building) *float64 { return &r.FloorAccel },
			Doc: "largest floor acceleration"},
		{Name: "base_shear_ratio", Float: func(r *Building) *float64 { return &r.BaseShear },
			Doc: "base shear over weight"},
		{Name: "equipment_accel_g", Unit: "g", Float: func(r *Building) *float64 { return &r.EquipmentAccel },
			Doc: "largest acceleration of sensitive equipment on its feet (0.1 s) on any floor"},
		{Name: "cabinet_accel_g", Unit: "g", Float: func(r *Building) *float64 { return &r.CabinetAccel },
			Doc: "largest acceleration of racks and cabinets (0.15 s) on any floor"},
		{Name: "fragile_accel_g", Unit: "g", Float: func(r *Building) *float64 { return &r.FragileAccel },
			Doc: "largest acceleration of fragile objects in slender cases (0.5 s) on any floor"},
		{Name: "objects_move_at_yr", Unit: "yr", Float: func(r *Building) *float64 { return &r.ObjectsMoveAt },
			Doc: "return period of the shaking that first moves the free-standing object of the plan; missing if " +
				"none of the run does"},
		{Name: "objects_first", Text: func(r *Building) *string { return &r.ObjectsFirst },
			Doc: "what the free-standing object does first: slides or rocks"},
		{Name: "vertical_accel_g", Unit: "g", Float: func(r *Building) *float64 { return &r.VerticalAccel },
			Doc: "vertical spectral acceleration at a vertical period of 0.1 s by the coefficient Cv of ASCE 7-16 " +
				"11.9, for contents and floors; isolation and dampers leave it as it is"},
		{Name: "immediate_occupancy_per_yr", Unit: "1/yr",
			Float: func(r *Building) *float64 { return &r.ImmediateOccupancy },
			Doc:   "annual frequency of exceeding the limit state immediate occupancy (ASCE 41)"},
		{Name: "life_safety_per_yr", Unit: "1/yr", Float: func(r *Building) *float64 { return &r.LifeSafety },
			Doc: "annual frequency of exceeding the limit state life safety (ASCE 41)"},
		{Name: "collapse_prevention_per_yr", Unit: "1/yr",
			Float: func(r *Building) *float64 { return &r.CollapsePrevention },
			Doc:   "annual frequency of exceeding the limit state collapse prevention (ASCE 41)"},
		{Name: "replaced_per_yr", Unit: "1/yr", Float: func(r *Building) *float64 { return &r.Replaced },
			Doc: "annual frequency of collapse or of damage beyond repair: the building is lost whole"},
		{Name: "collapse_per_yr", Unit: "1/yr", Float: func(r *Building) *float64 { return &r.Collapse },
			Doc: "annual frequency of collapse, in part or whole"},
		{Name: "individual_risk_per_yr", Unit: "1/yr", Float: func(r *Building) *float64 { return &r.IndividualRisk },
			Doc: "annual probability that a person who is always inside dies"},
		{Name: "annual_loss", Unit: "currency/yr", Float: func(r *Building) *float64 { return &r.AnnualLoss },
			Doc: "expected annual loss"},
		{Name: "annual_loss_low", Unit: "currency/yr",
			Float: func(r *Building) *float64 { return &r.AnnualLossLow },
			Doc: "expected annual loss times value_low_ratio of the plan: were values and loss tables at the low " +
				"end " +
				"of their band"},
		{Name: "annual_loss_high", Unit: "currency/yr",
			Float: func(r *Building) *float64 { return &r.AnnualLossHigh },
			Doc:   "expected annual loss times value_high_ratio of the plan"},
		{Name: "fatalities_per_yr", Unit: "1/yr", Float: func(r *Building) *float64 { return &r.AnnualFatalities },
			Doc: "expected fatalities per year"},
		{Name: "fatalities_street_per_yr", Unit: "1/yr",
			Float: func(r *Building) *float64 { return &r.StreetFatalities },
			Doc: "expected fatalities per year on the street under walls of unreinforced masonry, apart from " +
				"those inside; in no score"},
		{Name: "fatalities_day_per_yr", Unit: "1/yr",
			Float: func(r *Building) *float64 { return &r.FatalitiesBy[0] },
			Doc:   "expected fatalities per year were every earthquake by day"},
		{Name: "fatalities_night_per_yr", Unit: "1/yr",
			Float: func(r *Building) *float64 { return &r.FatalitiesBy[1] },
			Doc:   "expected fatalities per year were every earthquake by night"},
		{Name: "fatalities_transit_per_yr", Unit: "1/yr",
			Float: func(r *Building) *float64 { return &r.FatalitiesBy[2] },
			Doc:   "expected fatalities per year were every earthquake in the hours between"},
		{Name: "frequent_share", Float: func(r *Building) *float64 { return &r.FrequentShare },
			Doc: "share of the annual loss from shaking more frequent than the shortest return period"},
		{Name: "rare_share", Float: func(r *Building) *float64 { return &r.RareShare },
			Doc: "share of the annual loss from shaking rarer than the longest return period"},
		{Name: "look_now", Text: func(r *Building) *string { return &r.LookNow },
			Doc: "why an engineer should look at the building now, whatever its rank; missing where the criterion " +
				"is " +
				"not met, which does not say that the building is safe"},
		{Name: "target_missed", Text: func(r *Building) *string { return &r.TargetMissed },
			Doc: "limit state of the target of the plan that the building exceeds as it stands, and at which return " +
				"period; missing where it meets the target by this method, which does not say that it is safe"},
		{Name: "currency", Text: func(r *Building) *string { return &r.Currency },
			Doc: "currency of every money column of the row; the price date is in the manifest"},
		{Name: "best_measure", Text: func(r *Building) *string { return &r.Best },
			Doc: "slug of the measure first by the objective; none where doing nothing is first; missing where no " +
				"measure could be judged"},
		{Name: "best_cost_low", Unit: "currency", Float: func(r *Building) *float64 { return &r.BestCostLow },
			Doc: "low estimate of the cost of the best measure"},
		{Name: "best_cost_likely", Unit: "currency", Float: func(r *Building) *float64 { return &r.BestCostLikely },
			Doc: "likely cost of the best measure"},
		{Name: "best_cost_high", Unit: "currency", Float: func(r *Building) *float64 { return &r.BestCostHigh },
			Doc: "high estimate of the cost of the best measure"},
		{Name: "best_net_benefit", Unit: "currency", Float: func(r *Building) *float64 { return &r.BestNetBenefit },
			Doc: "present value of the benefit of the best measure less its likely cost"},
		{Name: "best_benefit_cost_ratio", Float: func(r *Building) *float64 { return &r.BestBenefitCost },
			Doc: "present value of the benefit of the best measure over its likely cost"},
		{Name: "best_drift_pct", Unit: "%", Float: func(r *Building) *float64 { return &r.BestDrift },
			Doc: "largest storey drift over storey height with the best measure"},
		{Name: "best_floor_accel_g", Unit: "g", Float: func(r *Building) *float64 { return &r.BestFloorAccel },
			Doc: "largest floor acceleration with the best measure"},
		{Name: "best_verdict", Text: func(r *Building) *string { return &r.BestVerdict },
			Doc: "gravest feasibility verdict of the best measure: clear, note (for the design to settle), " +
				"missing or doubt"},
		{Name: "best_falls_short", Bool: func(r *Building) *bool { return &r.BestFallsShort },
			Doc: "true where the building does not meet the target of the plan with the best measure, since none reaches " +
				"it; false where doing nothing is best"},
		{Name: "best_by_life_safety", Text: func(r *Building) *string { return &r.BestForLives },
			Doc: "slug of the measure that avoids most deaths, whatever it costs; none where none avoids any"},
		{Name: "pays_measure", Text: func(r *Building) *string { return &r.PaysMeasure },
			Doc: "where nothing pays: slug of the measure nearest to paying"},
		{Name: "pays_below", Unit: "currency", Float: func(r *Building) *float64 { return &r.PaysBelow },
			Doc: "where nothing pays: cost below which the measure nearest to paying would, the present value of what it " +
				"saves"},
		{Name: "runner_up", Text: func(r *Building) *string { return &r.RunnerUp },
			Doc: "slug of the measure second by the objective"},
		{Name: "margin_pct", Unit: "%", Float: func(r *Building) *float64 { return &r.Margin },
			Doc: "score of the best measure above that of the runner-up, over the score of the best"},
		{Name: "tied", Bool: func(r *Building) *bool { return &r.Tied },
			Doc: "true where best measure and runner-up are too close to tell apart"},
		{Name: "why_not", Text: func(r *Building) *string { return &r.WhyNot },
			Doc: "why the other measures are out or doubtful, in one line"},
		{Name: "data_grade", Text: func(r *Building) *string { return &r.DataGrade },
			Doc: "grade of the data of the building, A (best) to D"},
		{Name: "assumed_fields", Text: func(r *Building) *string { return &r.AssumedFields },
			Doc: "names of the fields filled by a rule of imputation, separated by semicolons, and of those whose " +
				"cell could not be used and was replaced by a computed or an assumed value, which say so in brackets"},
		{Name: "hazard_status", Text: func(r *Building) *string { return &r.HazardStatus },
			Doc: "what must be said of the hazard at the site, in words; missing where nothing must"},
		{Name: "solver_status", Text: func(r *Building) *string { return &r.SolverStatus },
			Doc: "what must be said of the numbers, in words; missing where they converged inside the domain of the " +
				"method"},
	}, append(ratingColumns(), mapColumns()...)...),
}
