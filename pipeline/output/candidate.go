package output

// A Candidate is the row of one building with one feasible measure. "Before" is without the measure
// and "after" is with it. Values are at the design return period unless they are annual.
type Candidate struct {
	Rank                              int64
	BuildingID, BuildingName, Measure string
	Score                             float64
	NetBenefit, BenefitCostRatio      float64
	BenefitPresentValue               float64
	BenefitLowRate, BenefitHighRate   float64
	DeathsAvoided, ContentsAvoided    float64
	CostsLives, FallsShort            bool
	DaysAvoided                       float64
	CostLow, CostLikely, CostHigh     float64
	Currency                          string
	AnnualLossBefore, AnnualLossAfter float64
	FatalitiesBefore, FatalitiesAfter float64
	StreetAfter                       float64
	DesignReturnPeriod                float64
	DriftBefore, DriftAfter           float64
	FloorAccelBefore, FloorAccelAfter float64
	EquipmentAccelAfter               float64
	CabinetAccelAfter                 float64
	FragileAccelAfter                 float64
	ObjectsMoveBefore                 float64
	ObjectsMoveAfter                  float64
	BaseShearBefore, BaseShearAfter   float64
	IsolatorDisplacement              float64
	PeriodBefore, PeriodAfter         float64
	SitePeriod                        float64
	ResonantBefore, ResonantAfter     bool
	Design                            string
	DisruptionWeeks                   float64
	Verdict, VerdictReason            string
	SolverStatus, HazardStatus        string
	DataGrade                         string
	Lon, Lat                          float64
}

// Candidates is the table of Candidate.
var Candidates = Table[Candidate]{
	Name:  "candidates",
	Title: "Candidate retrofits",
	Doc:   "One row for each building and feasible measure, in order of rank.",
	ID:    "building_id",
	Key:   []string{"building_id", "measure"},
	Order: "rank",
	Point: true,
	Columns: []Column[Candidate]{
		{Name: "rank", Required: true, Int: func(r *Candidate) *int64 { return &r.Rank },
			Doc: "place of this row by the objective of the plan, 1 first"},
		{Name: "building_id", Required: true, Text: func(r *Candidate) *string { return &r.BuildingID },
			Doc: "the owner's id, as text"},
		{Name: "building_name", Text: func(r *Candidate) *string { return &r.BuildingName },
			Doc: "the owner's name of the building"},
		{Name: "measure", Required: true, Text: func(r *Candidate) *string { return &r.Measure },
			Doc: "slug of the measure"},
		{Name: "score", Float: func(r *Candidate) *float64 { return &r.Score },
			Doc: "value of the objective the rank serves, larger is better; its parts are the columns that follow"},
		{Name: "net_benefit", Unit: "currency", Float: func(r *Candidate) *float64 { return &r.NetBenefit },
			Doc: "present value of the benefit less the likely cost"},
		{Name: "benefit_cost_ratio", Float: func(r *Candidate) *float64 { return &r.BenefitCostRatio },
			Doc: "present value of the benefit over the likely cost; missing where nothing is spent"},
		{Name: "benefit_present_value", Unit: "currency",
			Float: func(r *Candidate) *float64 { return &r.BenefitPresentValue },
			Doc:   "present value of the annual loss avoided over the life of the plan at its discount rate"},
		{Name: "benefit_present_value_3pct", Unit: "currency",
			Float: func(r *Candidate) *float64 { return &r.BenefitLowRate },
			Doc:   "the same at a discount rate of 3 %"},
		{Name: "benefit_present_value_7pct", Unit: "currency",
			Float: func(r *Candidate) *float64 { return &r.BenefitHighRate },
			Doc:   "the same at a discount rate of 7 %"},
		{Name: "deaths_avoided", Unit: "persons", Float: func(r *Candidate) *float64 { return &r.DeathsAvoided },
			Doc: "expected deaths avoided over the life of the plan"},
		{Name: "costs_lives", Bool: func(r *Candidate) *bool { return &r.CostsLives },
			Doc: "true where by these numbers more people would die with the measure than as the building stands; " +
				"such a measure is never the best"},
		{Name: "falls_short", Bool: func(r *Candidate) *bool { return &r.FallsShort },
			Doc: "true where the building would not meet the target of the plan with the measure; such a measure is " +
				"the best only where none reaches the target"},
		{Name: "contents_loss_avoided", Unit: "currency",
			Float: func(r *Candidate) *float64 { return &r.ContentsAvoided },
			Doc:   "present value of the annual loss of contents avoided over the life of the plan"},
		{Name: "days_closed_avoided", Unit: "d", Float: func(r *Candidate) *float64 { return &r.DaysAvoided },
			Doc: "expected days closed avoided over the life of the plan, not discounted"},
		{Name: "cost_low", Unit: "currency", Float: func(r *Candidate) *float64 { return &r.CostLow },
			Doc: "low estimate of the cost of the measure"},
		{Name: "cost_likely", Unit: "currency", Float: func(r *Candidate) *float64 { return &r.CostLikely },
			Doc: "likely cost of the measure"},
		{Name: "cost_high", Unit: "currency", Float: func(r *Candidate) *float64 { return &r.CostHigh },
			Doc: "high estimate of the cost of the measure"},
		{Name: "currency", Text: func(r *Candidate) *string { return &r.Currency },
			Doc: "currency of every money column of the row; the price date is in the manifest"},
		{Name: "annual_loss_before", Unit: "currency/yr",
			Float: func(r *Candidate) *float64 { return &r.AnnualLossBefore },
			Doc:   "expected annual loss as the building stands"},
		{Name: "annual_loss_after", Unit: "currency/yr",
			Float: func(r *Candidate) *float64 { return &r.AnnualLossAfter },
			Doc:   "expected annual loss with the measure"},
		{Name: "fatalities_before_per_yr", Unit: "1/yr",
			Float: func(r *Candidate) *float64 { return &r.FatalitiesBefore },
			Doc:   "expected fatalities per year as the building stands"},
		{Name: "fatalities_after_per_yr", Unit: "1/yr",
			Float: func(r *Candidate) *float64 { return &r.FatalitiesAfter },
			Doc:   "expected fatalities per year with the measure"},
		{Name: "fatalities_street_after_per_yr", Unit: "1/yr",
			Float: func(r *Candidate) *float64 { return &r.StreetAfter },
			Doc: "expected fatalities per year on the street under walls of unreinforced masonry, with the " +
				"measure; in no score"},
		{Name: "design_return_period_yr", Unit: "yr",
			Float: func(r *Candidate) *float64 { return &r.DesignReturnPeriod },
			Doc:   "return period of the shaking that the demand columns hold for"},
		{Name: "drift_before_pct", Unit: "%", Float: func(r *Candidate) *float64 { return &r.DriftBefore },
			Doc: "largest storey drift over storey height as the building stands"},
		{Name: "drift_after_pct", Unit: "%", Float: func(r *Candidate) *float64 { return &r.DriftAfter },
			Doc: "largest storey drift over storey height with the measure"},
		{Name: "floor_accel_before_g", Unit: "g", Float: func(r *Candidate) *float64 { return &r.FloorAccelBefore },
			Doc: "largest floor acceleration as the building stands"},
		{Name: "floor_accel_after_g", Unit: "g", Float: func(r *Candidate) *float64 { return &r.FloorAccelAfter },
			Doc: "largest floor acceleration with the measure"},
		{Name: "equipment_accel_after_g", Unit: "g",
			Float: func(r *Candidate) *float64 { return &r.EquipmentAccelAfter },
			Doc:   "largest acceleration of sensitive equipment on its feet (0.1 s) on any floor, with the measure"},
		{Name: "cabinet_accel_after_g", Unit: "g",
			Float: func(r *Candidate) *float64 { return &r.CabinetAccelAfter },
			Doc:   "largest acceleration of racks and cabinets (0.15 s) on any floor, with the measure"},
		{Name: "fragile_accel_after_g", Unit: "g",
			Float: func(r *Candidate) *float64 { return &r.FragileAccelAfter },
			Doc:   "largest acceleration of fragile objects in slender cases (0.5 s) on any floor, with the measure"},
		{Name: "objects_move_before_yr", Unit: "yr",
			Float: func(r *Candidate) *float64 { return &r.ObjectsMoveBefore },
			Doc: "return period of the shaking that first moves the free-standing object of the plan, as the " +
				"building stands; missing if none of the run does"},
		{Name: "objects_move_after_yr", Unit: "yr",
			Float: func(r *Candidate) *float64 { return &r.ObjectsMoveAfter },
			Doc:   "the same with the measure"},
		{Name: "base_shear_before_ratio", Float: func(r *Candidate) *float64 { return &r.BaseShearBefore },
			Doc: "base shear over weight as the building stands"},
		{Name: "base_shear_after_ratio", Float: func(r *Candidate) *float64 { return &r.BaseShearAfter },
			Doc: "base shear over weight with the measure"},
		{Name: "isolator_displacement_m", Unit: "m",
			Float: func(r *Candidate) *float64 { return &r.IsolatorDisplacement },
			Doc:   "displacement across the isolators; missing for other measures"},
		{Name: "period_before_s", Unit: "s", Float: func(r *Candidate) *float64 { return &r.PeriodBefore },
			Doc: "first period as the building stands"},
		{Name: "period_after_s", Unit: "s", Float: func(r *Candidate) *float64 { return &r.PeriodAfter },
			Doc: "first period with the measure; effective where the building is isolated"},
		{Name: "site_period_s", Unit: "s", Float: func(r *Candidate) *float64 { return &r.SitePeriod },
			Doc: "natural period of the ground: the register's, else a usual one of the site class; missing on rock " +
				"and unknown ground"},
		{Name: "resonant_before", Bool: func(r *Candidate) *bool { return &r.ResonantBefore },
			Doc: "true where the first period as the building stands is 0.7 to 1.3 times the site period"},
		{Name: "resonant_after", Bool: func(r *Candidate) *bool { return &r.ResonantAfter },
			Doc: "true where the period with the measure, the effective one of isolators, is 0.7 to 1.3 times the " +
				"site period"},
		{Name: "design", Text: func(r *Candidate) *string { return &r.Design },
			Doc: "the sized measure in one line"},
		{Name: "disruption_weeks", Unit: "weeks", Float: func(r *Candidate) *float64 { return &r.DisruptionWeeks },
			Doc: "time the use of the building is disturbed"},
		{Name: "verdict", Text: func(r *Candidate) *string { return &r.Verdict },
			Doc: "gravest verdict of the feasibility rules: clear, note (for the design to settle), missing, " +
				"doubt or bar"},
		{Name: "verdict_reason", Text: func(r *Candidate) *string { return &r.VerdictReason },
			Doc: "the rule behind the verdict, in one line; missing where the verdict is clear"},
		{Name: "solver_status", Text: func(r *Candidate) *string { return &r.SolverStatus },
			Doc: "what must be said of the numbers, in words; missing where they converged inside the domain of the " +
				"method"},
		{Name: "hazard_status", Text: func(r *Candidate) *string { return &r.HazardStatus },
			Doc: "what must be said of the hazard at the site, in words; missing where nothing must"},
		{Name: "data_grade", Text: func(r *Candidate) *string { return &r.DataGrade },
			Doc: "grade of the data of the building, A (best) to D"},
		{Name: "lon", Unit: "degrees", Digits: coordinateDigits,
			Float: func(r *Candidate) *float64 { return &r.Lon },
			Doc:   "longitude, WGS 84, east positive"},
		{Name: "lat", Unit: "degrees", Digits: coordinateDigits,
			Float: func(r *Candidate) *float64 { return &r.Lat },
			Doc:   "latitude, WGS 84, north positive"},
	},
}

// coordinateDigits is the number of significant digits of a coordinate in degrees. It leaves seven
// decimals (about 1 cm) or more, with up to three digits before the point.
const coordinateDigits = 10
