package plan

import "plinth/retrofit"

// Default returns the plan over which a file is read. Every key has a sensible value, except those
// that only the owner can know (paths, columns, soil_included).
func Default() *Plan {
	return &Plan{
		Inventory: Inventory{
			Delimiter: ",", Encoding: "auto", Separator: ";", Impute: "defaults", Tolerate: "0",
			Null: []string{"<null>", "null", "n/a", "na", "none", "unknown", "tbd", "-"},
		},
		Hazard: Hazard{
			CRS: "EPSG:4326", Unit: "g", Layout: "points",
			// They cover the frequencies that carry annual loss: 50 % in 17 years to 1 % in 50 years. Common
			// practice, no source.
			ReturnPeriods: []float64{25, 50, 100, 225, 475, 975, 2475, 4975},
			// EN 1998-1 2.1(1)P: 10 % in 50 years, the usual design level.
			Design:        475,
			MaxDistanceKM: 10,                              // judgement: half the spacing of a coarse national grid
			FaultSize:     7,                               // judgement, on the safe side: 15 km count as near a fault
			SpectrumType:  1, Importance: 2, Topography: 1, // no effect
			Moderate: 50, // common practice, no source
			TL:       8,  // s, ASCE 7-16 Figure 22-14: the value of much of the western coast
		},
		Archetypes: Archetypes{Region: "generic"},
		Measures:   defaultMeasures(),
		Consequence: Consequence{
			LifeYears:    50,   // common practice, no source
			DiscountRate: 0.04, // judgement, between the 3 % and 7 % shown beside it
			ValuePerArea: 2500, // judgement

			ValueLow: 0.6, ValueHigh: 1.6, // judgement: values and loss tables together

			DowntimeShare: 0.10, // a year's rent over replacement value, judgement
			FreeStanding:  retrofit.DefaultFreeStanding(),
		},
		Objective: Objective{RankBy: "net-benefit"},
		Rating: Rating{
			KnowledgeFactor:   0.75,            // ASCE 41-17 6.2.4: default material values
			JapanTime:         0.8,             // first level, a building of thirty years or more (from memory)
			JapanIrregularity: 1, JapanZone: 1, // regular; the highest zone
		},
		Budget: Budget{FirstYear: 1, Years: 1, CarryOver: true},
		Uncertainty: Uncertainty{
			Seed: 1, Top: 10, Shortlist: 50_000,
			// Judgement: of the order of the spread between hazard studies of one region.
			HazardCommon: 0.25, HazardLocal: 0.15,
			StrengthCommon: 0.20, // judgement: how far a region's builders lie from a table
			CostCommon:     0.5,  // judgement
		},
		// 11 records: ASCE 7-16 16.2.2. Three measures: the time-history best is
		// among the spectral first three in 97 to 100 % (shear-stick models under
		// artificial records).
		Confirm: Confirm{Shortlist: 20, Measures: 3, Records: 11, Seed: 1, PDelta: true, Fitting: "scaled",
			Pictures: 5},
		Output: Output{Folder: "out", Formats: []string{"parquet", "csv", "gpkg", "html"},
			Areas: Areas{By: "none", Cell: 1000, Least: 5}},
	}
}

// defaultMeasures returns options that try every measure but combinations, each with its own
// defaults.
func defaultMeasures() Measures {
	m := Measures{Currency: "money", Options: retrofit.Defaults()}
	for _, k := range retrofit.Kinds() {
		if k.Options != nil && len(k.Parts) == 0 {
			m.Use = append(m.Use, k.Slug)
		}
	}
	return m
}
