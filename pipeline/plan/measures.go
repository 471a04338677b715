package plan

import "plinth/retrofit"

// Archetypes states which tables give period and strength.
type Archetypes struct {
	// region of the table of code eras
	Region string `toml:"region"`
	// seismic zone within the region's tables
	Zone string `toml:"zone"`
	// CSV whose rows (system, quantity, value, source, confidence) replace those of the table of systems, or
	// none
	Systems string `toml:"systems"`
	// CSV of code eras that replaces those of the regions it names, or adds regions, or none
	// (docs/methods/archetypes.md)
	Eras string `toml:"eras"`
}

// Measures states what to try, within which ranges, and at what price.
type Measures struct {
	// measures to try
	Use []string `toml:"use"`
	// currency of all money in the plan, a label only
	Currency string `toml:"currency"`
	// date the prices hold for, a label; with budget.first_year it also says which years of a register are
	// still to come (docs/methods/register.md)
	PriceDate string `toml:"price_date"`

	// Options are the tables of the measures. Each is declared in the file of its measure.
	Options retrofit.Set `toml:"-"`
}

// Consequence states what shaking costs.
type Consequence struct {
	// years the benefit is counted over
	LifeYears float64 `toml:"life_yr" unit:"yr" min:"1" max:"200"`
	// discount rate, a fraction a year
	DiscountRate float64 `toml:"discount_rate" min:"0" max:"0.2"`
	// replacement value a square metre of gross floor of an office, where the register gives no value; other
	// uses have a ratio to it in values.csv
	ValuePerArea float64 `toml:"value_per_m2" min:"0"`

	// folder with tables that replace the built-in ones: states.csv, components.csv, splits.csv, values.csv,
	// bands.csv, hours.csv, constants.csv, any of them; retrofit/consequence/tables holds the forms
	Tables string `toml:"tables"`

	// low end of the band of values and loss tables, over the best estimate: annual_loss_low
	ValueLow float64 `toml:"value_low_ratio" min:"0.05" max:"1"`
	// high end of the same band: annual_loss_high
	ValueHigh float64 `toml:"value_high_ratio" min:"1" max:"20"`

	// what a year's use of an office is worth, over its replacement value; other uses have a ratio to it in
	// values.csv
	DowntimeShare float64 `toml:"downtime_share" min:"0" max:"10"`

	// an object that stands free on a floor, for when contents first move
	FreeStanding retrofit.FreeStanding `toml:"free_standing"`
}
