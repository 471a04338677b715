package plan

// A Plan is everything a run needs to know. Paths in it are relative to the
// folder of the plan file; Load resolves them.
type Plan struct {
	Name        string      `toml:"name"`
	Inventory   Inventory   `toml:"inventory"`
	Hazard      Hazard      `toml:"hazard"`
	Archetypes  Archetypes  `toml:"archetypes"`
	Measures    Measures    `toml:"measures"`
	Consequence Consequence `toml:"consequence"`
	Objective   Objective   `toml:"objective"`
	Output      Output      `toml:"output"`
}

// Inventory says how to read the register.
type Inventory struct {
	Path      string                       `toml:"path"`
	Format    string                       `toml:"format"`    // csv
	CRS       string                       `toml:"crs"`       // EPSG:4326, the only one read so far
	Delimiter string                       `toml:"delimiter"` // one character, default comma
	Null      []string                     `toml:"null"`      // words that mean no value, any case
	Swap      bool                         `toml:"swap"`      // exchange longitude and latitude
	Columns   map[string]string            `toml:"columns"`   // our field -> their column
	Units     map[string]string            `toml:"units"`     // our field -> unit of their column
	Values    map[string]map[string]string `toml:"values"`    // our field -> their value -> ours
	Assume    map[string]string            `toml:"assume"`    // our field -> value where the register has none
}

// Hazard says where the site's spectra come from.
type Hazard struct {
	Kind          string    `toml:"kind"` // grid, points, constant, asce7-16
	Path          string    `toml:"path"`
	Unit          string    `toml:"unit"` // of the accelerations: g, m/s2, cm/s2
	CRS           string    `toml:"crs"`
	SoilIncluded  *bool     `toml:"soil_included"`           // must be said
	SiteClass     string    `toml:"site_class"`              // where the register gives none
	ReturnPeriods []float64 `toml:"return_periods_yr"`       // the levels of the run
	Design        float64   `toml:"design_return_period_yr"` // level of the demand columns and of sizing
	MaxDistanceKM float64   `toml:"max_distance_km"`         // farther from every node is outside

	// One level only (constant, asce7-16): the return period it holds for and
	// the exponent of H ~ a^-k that carries it to the others.
	ReferenceReturnPeriod float64   `toml:"reference_return_period_yr"`
	K                     float64   `toml:"k"`
	Periods               []float64 `toml:"periods_s"` // constant
	Sa                    []float64 `toml:"sa"`        // constant
	PGA                   float64   `toml:"pga"`       // constant
	SS                    float64   `toml:"ss"`        // asce7-16, g
	S1                    float64   `toml:"s1"`        // asce7-16, g
	TL                    float64   `toml:"tl_s"`      // asce7-16
}

// Archetypes says which tables give period and strength.
type Archetypes struct {
	Region          string  `toml:"region"`           // slug of an era table
	Zone            string  `toml:"zone"`             // seismic zone within the region's tables
	KnowledgeFactor float64 `toml:"knowledge_factor"` // on strength where no report gives it, 0.75 to 1
}

// Measures says what to try, within which ranges, at what price.
type Measures struct {
	Use        []string   `toml:"use"`
	Currency   string     `toml:"currency"`
	PriceDate  string     `toml:"price_date"`
	LeadRubber Isolation  `toml:"lead-rubber"`
	Viscous    Viscous    `toml:"viscous"`
	Strengthen Strengthen `toml:"strengthen"`
}

// Price is a cost as a person estimates it: so much once, so much a square
// metre of gross floor, so much a device, and the band around the sum.
type Price struct {
	Fixed     float64 `toml:"fixed"`
	PerArea   float64 `toml:"per_m2"`
	PerDevice float64 `toml:"per_device"`
	LowRatio  float64 `toml:"low_ratio"`  // low estimate over likely
	HighRatio float64 `toml:"high_ratio"` // high estimate over likely
}

// Isolation is the design range of an isolation measure.
type Isolation struct {
	PeriodRange     [2]float64 `toml:"period_s"`    // of the isolators past yield
	YieldRatioRange [2]float64 `toml:"yield_ratio"` // characteristic strength over weight
	Price           Price      `toml:"price"`
}

// Viscous is the design range of added viscous dampers.
type Viscous struct {
	TargetDriftRatio float64 `toml:"target_drift_ratio"`
	MaxDamping       float64 `toml:"max_damping"` // added, fraction of critical
	Alpha            float64 `toml:"alpha"`       // velocity exponent
	Price            Price   `toml:"price"`
}

// Strengthen is the design range of added walls or braces.
type Strengthen struct {
	TargetStrengthRatio float64 `toml:"target_strength_ratio"` // elastic demand over strength to reach
	MaxFactor           float64 `toml:"max_factor"`            // strength after over before
	Price               Price   `toml:"price"`
}

// Consequence says what shaking costs.
type Consequence struct {
	LifeYears    float64 `toml:"life_yr"`
	DiscountRate float64 `toml:"discount_rate"`
	ValuePerArea float64 `toml:"value_per_m2"` // replacement, where the register gives none
}

// Objective says what the rank serves.
type Objective struct {
	RankBy string `toml:"rank_by"` // net-benefit, benefit-cost, life-safety, contents, continuity
}

// Output says where to write what.
type Output struct {
	Folder  string   `toml:"folder"`
	Formats []string `toml:"formats"` // parquet, csv
}
