package output

import "github.com/paulmach/orb"

// An Area is the row of one group of the register or one cell of a grid.
type Area struct {
	Name, Kind                               string
	Joined                                   int64 // areas in the row
	Buildings, LookNow, Paying               int64
	AnnualLoss, Fatalities, Cost, NetBenefit float64
	MedianDrift                              float64
	Grades                                   [4]float64 // shares of A to D
	FirstMeasure                             string
	FirstMeasureShare, ReplacementValue      float64
	Currency                                 string
	Lon, Lat                                 float64
	Outline                                  orb.Polygon // nil for none
}

// The kinds of areas.
const (
	AreaGroup  = "group"
	AreaCell   = "cell"
	AreaJoined = "joined"
)

func areaWords() []Word {
	return []Word{{AreaGroup, "buildings with one value in the register's column of groups"},
		{AreaCell, "buildings in one cell of the grid"},
		{AreaJoined, "areas of few buildings, joined so that none can be read off, and buildings without an area"}}
}

// Areas is the table of Area.
var Areas = Table[Area]{
	Name:  "areas",
	Title: "Groups of buildings or cells of a grid",
	Doc: "One row for each area that has buildings enough, by name; the last row joins the others and the " +
		"buildings without an area, and is left out where there are none.",
	ID:    "area",
	Key:   []string{"area"},
	Shape: func(r *Area) orb.Polygon { return r.Outline },
	Columns: []Column[Area]{
		{Name: "area", Required: true, Text: func(r *Area) *string { return &r.Name },
			Doc: "group of the register, or middle of the cell as latitude and longitude; joins to area of buildings"},
		{Name: "kind", Required: true, Text: func(r *Area) *string { return &r.Kind },
			Doc: "group, cell, or joined for areas of few buildings"},
		{Name: "areas", Required: true, Int: func(r *Area) *int64 { return &r.Joined },
			Doc: "areas in the row: 1, or the number of those joined"},
		{Name: "buildings", Required: true, Int: func(r *Area) *int64 { return &r.Buildings },
			Doc: "buildings in the row"},
		{Name: "look_now", Int: func(r *Area) *int64 { return &r.LookNow },
			Doc: "buildings an engineer should look at now; 0 does not say that the others are safe"},
		{Name: "replacement_value", Unit: "currency", Float: func(r *Area) *float64 { return &r.ReplacementValue },
			Doc: "cost of building all of them anew, where it is known"},
		{Name: "annual_loss", Unit: "currency/yr", Float: func(r *Area) *float64 { return &r.AnnualLoss },
			Doc: "expected annual loss of all of them as they stand, where it is known"},
		{Name: "fatalities_per_yr", Unit: "1/yr", Float: func(r *Area) *float64 { return &r.Fatalities },
			Doc: "expected fatalities per year as they stand"},
		{Name: "paying", Int: func(r *Area) *int64 { return &r.Paying },
			Doc: "buildings whose best measure has a net benefit above 0"},
		{Name: "paying_cost_likely", Unit: "currency", Float: func(r *Area) *float64 { return &r.Cost },
			Doc: "likely cost of the best measures of those"},
		{Name: "paying_net_benefit", Unit: "currency", Float: func(r *Area) *float64 { return &r.NetBenefit },
			Doc: "net benefit of the best measures of those"},
		{Name: "median_drift_pct", Unit: "%", Float: func(r *Area) *float64 { return &r.MedianDrift },
			Doc: "median of the largest storey drifts as they stand, each to three digits; of an even number the mean of " +
				"the middle two"},
		{Name: "grade_a_share", Float: func(r *Area) *float64 { return &r.Grades[0] }, Doc: "share of data grade A"},
		{Name: "grade_b_share", Float: func(r *Area) *float64 { return &r.Grades[1] }, Doc: "share of data grade B"},
		{Name: "grade_c_share", Float: func(r *Area) *float64 { return &r.Grades[2] }, Doc: "share of data grade C"},
		{Name: "grade_d_share", Float: func(r *Area) *float64 { return &r.Grades[3] }, Doc: "share of data grade D"},
		{Name: "first_measure", Text: func(r *Area) *string { return &r.FirstMeasure },
			Doc: "slug of the best measure that most buildings have, none where doing nothing; of equals the first by " +
				"alphabet"},
		{Name: "first_measure_share", Float: func(r *Area) *float64 { return &r.FirstMeasureShare },
			Doc: "share of the buildings that have it"},
		{Name: "currency", Text: func(r *Area) *string { return &r.Currency },
			Doc: "currency of every money column of the row; the price date is in the manifest"},
		{Name: "lon", Unit: "degrees", Digits: coordinateDigits, Float: func(r *Area) *float64 { return &r.Lon },
			Doc: "longitude of the middle of the outline, WGS 84; missing for joined areas"},
		{Name: "lat", Unit: "degrees", Digits: coordinateDigits, Float: func(r *Area) *float64 { return &r.Lat },
			Doc: "latitude of the middle of the outline, WGS 84"},
	},
}
