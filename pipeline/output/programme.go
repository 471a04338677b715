package output

// A Work is the row of one building that a programme does something to.
type Work struct {
	Order, Year                                                 int64
	ID, Name, Measure                                           string
	CostLow, CostLikely, CostHigh, Cumulative                   float64
	Currency                                                    string
	Gain, NetBenefit, DeathsAvoided, ContentsAvoided, DaysSaved float64
	Weeks, Displaced                                            float64
	Must                                                        bool
	Group                                                       string
	Latest                                                      int64
	Verdict                                                     string
	Lon, Lat                                                    float64
}

// Programme is the table of Work.
var Programme = Table[Work]{
	Name:  "programme",
	Title: "Programme of works under the budget",
	Doc: "One row for each building the programme does something to, in order of year, then of gain for " +
		"cost; written by plinth budget.",
	ID:    "building_id",
	Key:   []string{"building_id"},
	Order: "order",
	Columns: []Column[Work]{
		{Name: "order", Required: true, Int: func(r *Work) *int64 { return &r.Order },
			Doc: "place in the programme, 1 first"},
		{Name: "year", Required: true, Int: func(r *Work) *int64 { return &r.Year }, Doc: "year of the works"},
		{Name: "building_id", Required: true, Text: func(r *Work) *string { return &r.ID },
			Doc: "the owner's id, as text"},
		{Name: "building_name", Text: func(r *Work) *string { return &r.Name },
			Doc: "the owner's name of the building"},
		{Name: "measure", Required: true, Text: func(r *Work) *string { return &r.Measure },
			Doc: "slug of the measure"},
		{Name: "cost_low", Unit: "currency", Float: func(r *Work) *float64 { return &r.CostLow },
			Doc: "low estimate of the cost of the measure"},
		{Name: "cost_likely", Unit: "currency", Float: func(r *Work) *float64 { return &r.CostLikely },
			Doc: "likely cost of the measure, which the budget counts"},
		{Name: "cost_high", Unit: "currency", Float: func(r *Work) *float64 { return &r.CostHigh },
			Doc: "high estimate of the cost of the measure"},
		{Name: "cumulative_cost", Unit: "currency", Float: func(r *Work) *float64 { return &r.Cumulative },
			Doc: "likely cost of this and all works before it"},
		{Name: "currency", Text: func(r *Work) *string { return &r.Currency },
			Doc: "currency of every money column of the row; the price date is in the manifest"},
		{Name: "gain", Float: func(r *Work) *float64 { return &r.Gain },
			Doc: "what the programme counts, in the unit of the objective of the plan"},
		{Name: "net_benefit", Unit: "currency", Float: func(r *Work) *float64 { return &r.NetBenefit },
			Doc: "present value of annual loss avoided less the likely cost"},
		{Name: "deaths_avoided", Float: func(r *Work) *float64 { return &r.DeathsAvoided },
			Doc: "expected deaths avoided over the life of the plan"},
		{Name: "contents_loss_avoided", Unit: "currency",
			Float: func(r *Work) *float64 { return &r.ContentsAvoided },
			Doc:   "present value of the annual loss of contents avoided"},
		{Name: "days_closed_avoided", Unit: "d", Float: func(r *Work) *float64 { return &r.DaysSaved },
			Doc: "expected days closed avoided over the life of the plan"},
		{Name: "disruption_weeks", Unit: "weeks", Float: func(r *Work) *float64 { return &r.Weeks },
			Doc: "time the use of the building is disturbed"},
		{Name: "displaced_person_years", Float: func(r *Work) *float64 { return &r.Displaced },
			Doc: "people to be housed elsewhere times the years of disruption"},
		{Name: "must", Bool: func(r *Work) *bool { return &r.Must },
			Doc: "true where the plan says it must be done"},
		{Name: "group", Text: func(r *Work) *string { return &r.Group }, Doc: "group of the terms file"},
		{Name: "latest_year", Int: func(r *Work) *int64 { return &r.Latest },
			Doc: "year of the terms file by which it must be done, if it is done"},
		{Name: "verdict", Text: func(r *Work) *string { return &r.Verdict },
			Doc: "gravest feasibility verdict of the measure: clear, note (for the design to settle), " +
				"missing or doubt"},
		{Name: "lon", Unit: "degrees", Digits: coordinateDigits, Float: func(r *Work) *float64 { return &r.Lon },
			Doc: "longitude, WGS 84, east positive"},
		{Name: "lat", Unit: "degrees", Digits: coordinateDigits, Float: func(r *Work) *float64 { return &r.Lat },
			Doc: "latitude, WGS 84, north positive"},
	},
}
