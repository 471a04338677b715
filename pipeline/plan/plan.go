package plan

import (
	"io/fs"

	"plinth/retrofit"
)

// A Plan is everything a run needs to know. Each key is declared once, by a
// struct field with its tags: toml (name), unit, min, max, choices and doc.
// Paths are relative to the folder of the plan file; Load resolves them.
type Plan struct {
	Name        string      `toml:"name" doc:"title of the run, printed on its results"`
	Inventory   Inventory   `toml:"inventory" doc:"the register of buildings"`
	Hazard      Hazard      `toml:"hazard" doc:"the shaking at each site"`
	Archetypes  Archetypes  `toml:"archetypes" doc:"period and strength of a building nobody has measured"`
	Measures    Measures    `toml:"measures" doc:"what may be done to a building, within which ranges, at what price"`
	Consequence Consequence `toml:"consequence" doc:"what shaking costs"`
	Objective   Objective   `toml:"objective" doc:"what the rank serves"`
	Rating      Rating      `toml:"rating" doc:"published scales to rate buildings on (docs/methods/rating.md): screening estimates, not assessments by the rules"`
	Budget      Budget      `toml:"budget" doc:"what may be spent when, for plinth budget"`
	Uncertainty Uncertainty `toml:"uncertainty" doc:"how sure a rank is"`
	Confirm     Confirm     `toml:"confirm" doc:"time histories of the shortlist (plinth confirm)"`
	Output      Output      `toml:"output" doc:"where results go"`

	dir  string // folder of the plan file, "" if it was not loaded from one
	file string // as messages name it
	at   map[string]position
}

// Inventory says how to read the register.
type Inventory struct {
	Path      string                       `toml:"path" doc:"register file"`
	Format    string                       `toml:"format" choices:"csv|geojson|geojson-lines|geopackage|parquet" doc:"format of the register; where it is silent the ending of the file decides: .geojson or .json, .geojsonl or .ndjson, .gpkg, .parquet, and csv for .csv, .tsv, .txt and any other; geojson-lines is one feature a line, parquet is GeoParquet too"`
	Layer     string                       `toml:"layer" doc:"table of a geopackage, where it has several"`
	CRS       string                       `toml:"crs" doc:"coordinate reference system of the register's columns of coordinates, or of geometries whose file says none; where it is silent EPSG:4326. EPSG:4326, OGC:CRS84; a system within about 2 m of it, taken as it is (NAD83 4269, ETRS89 4258, JGD2011 6668, GDA2020 7844 and others); or, with eastings as lon and northings as lat in m, Web Mercator (EPSG:3857) or a UTM zone on WGS 84 (EPSG:326xx north, 327xx south), ETRS89 (258xx), NAD83 (269xx), GDA94 (283xx) or GDA2020 (78xx)"`
	Delimiter string                       `toml:"delimiter" doc:"the character between cells, or auto to find it by looking"`
	Encoding  string                       `toml:"encoding" choices:"auto|utf-8|windows-1252|latin-1" doc:"what the letters of a csv are; auto takes text that is not UTF-8 for windows-1252 and says so"`
	Decimal   string                       `toml:"decimal" choices:".|," doc:"the decimal mark in the register's numbers"`
	Null      []string                     `toml:"null" doc:"words that mean no value, in any case"`
	Swap      bool                         `toml:"swap" doc:"exchange longitude and latitude, where the register has them the wrong way round"`
	Explode   string                       `toml:"explode" doc:"column whose cells list the parts of a building: each part becomes a building, floor area and footprint divided"`
	Separator string                       `toml:"explode_separator" doc:"what stands between the parts in the cells of explode"`
	Effective bool                         `toml:"effective_year" doc:"the column of years holds effective years (of works, of occupancy), not of construction: they count as assumed"`
	Group     string                       `toml:"group" doc:"column that names groups of like buildings, such as a site or an owner, for impute"`
	Impute    string                       `toml:"impute" choices:"defaults|stock" doc:"what fills gaps: defaults is [inventory.assume] alone; stock looks first at like buildings of the register (same group, use, era, then all), which reads it twice"`
	Tolerate  string                       `toml:"tolerate_rejects" doc:"rejected rows that a run may have and still end with exit code 0 in place of 3: a number of rows such as 20, or a share of those read such as 2%; the flag --tolerate-rejects stands above it; changes no result"`
	Columns   map[string]string            `toml:"columns" doc:"our field = their column"`
	Units     map[string]string            `toml:"units" doc:"our field = unit of their column"`
	Values    map[string]map[string]string `toml:"values" doc:"for a field, their value = our word"`
	Assume    map[string]string            `toml:"assume" doc:"our field = value where the register has none"`
}

// Hazard says where the spectra of a site come from.
type Hazard struct {
	Kind          string    `toml:"kind" choices:"grid|points|curves|zones|rasters|constant|asce7-16|en1998-1|nzs1170.5|ntc2018|japan-1457" doc:"spectra on a regular grid or at scattered points (CSV), hazard curves by location (CSV), zones (GeoJSON), Esri ASCII rasters, one spectrum for all sites, or the spectrum of a standard from its parameters, the same for all sites or by location (docs/methods/hazard-by-location.md)"`
	Path          string    `toml:"path" doc:"hazard file; for rasters a pattern with {return_period} and {period} in it, the period 0 being the peak ground acceleration; for a standard a CSV of its parameters by location, or none"`
	Layout        string    `toml:"layout" choices:"grid|points" doc:"how the places of curves and of the file of a standard's parameters lie"`
	Unit          string    `toml:"unit" choices:"g|m/s2|cm/s2|%g" doc:"unit of the accelerations in the file"`
	CRS           string    `toml:"crs" doc:"coordinate reference system of the file: EPSG:4326, OGC:CRS84 or, for scattered points in CSV, Web Mercator (EPSG:3857) or a UTM zone on WGS 84 (EPSG:326xx north, 327xx south), ETRS89 (258xx), NAD83 (269xx), GDA94 (283xx) or GDA2020 (78xx)"`
	SoilIncluded  *bool     `toml:"soil_included" doc:"true if the spectra already hold for the ground at each site, false if they hold for rock (no default: it must be said)"`
	SiteClass     string    `toml:"site_class" choices:"A|B|C|D|E" doc:"site class where neither the register nor site_zones gives one: it counts as assumed"`
	SoilStandard  string    `toml:"soil_standard" choices:"asce7-16|en1998-1|nzs1170.5" doc:"standard whose letters the site classes are, and by which values on rock are amplified; where it is silent that of the kind, or asce7-16"`
	SiteZones     string    `toml:"site_zones" doc:"GeoJSON file of areas with the property site_class or vs30, for buildings whose register gives neither"`
	Direction     string    `toml:"direction" choices:"geometric-mean|maximum" doc:"what the horizontal values of the file are: the mean of two directions, which demand uses, or those of the direction of the largest response, which are divided by 1.1 to 1.5 (ASCE 7-16 21.2); where it is silent values are used as they are"`
	FaultSize     float64   `toml:"fault_magnitude" min:"5" max:"9" doc:"magnitude the faults of the register's fault_distance can produce, for the near-fault flag (ASCE 7-16 11.4.1)"`
	ReturnPeriods []float64 `toml:"return_periods_yr" unit:"yr" min:"1" max:"100000" doc:"return periods the run computes"`
	Design        float64   `toml:"design_return_period_yr" unit:"yr" min:"1" max:"100000" doc:"return period of sizing and of the demand columns; one of return_periods_yr"`
	MaxDistanceKM float64   `toml:"max_distance_km" unit:"km" min:"0" max:"500" doc:"a site off the grid or between points is read from nodes no farther than this, or is outside the hazard"`
	K             float64   `toml:"k" min:"0" max:"10" doc:"exponent of H ~ a^-k that carries a single spectrum, or the ends of a file's range, to other return periods (EN 1998-1 2.1(4): about 3); 0 holds the ends, and says so"`

	Reference float64   `toml:"reference_return_period_yr" unit:"yr" min:"0" max:"100000" doc:"return period of a single spectrum; 0 is 475 for constant and en1998-1, 2475 for asce7-16, whose mapped values are those of the MCER, and 500 for the severe level of japan-1457"`
	PGA       float64   `toml:"pga" min:"0" doc:"peak ground acceleration of the constant spectrum"`
	Periods   []float64 `toml:"periods_s" unit:"s" min:"0" max:"20" doc:"periods of the constant spectrum, or of the rasters"`
	Sa        []float64 `toml:"sa" min:"0" doc:"spectral accelerations of the constant spectrum"`
	Levels    []float64 `toml:"raster_return_periods_yr" unit:"yr" min:"1" max:"100000" doc:"return periods of the rasters"`
	SS        float64   `toml:"ss" unit:"g" min:"0" max:"5" doc:"ASCE 7-16 mapped short-period acceleration"`
	S1        float64   `toml:"s1" unit:"g" min:"0" max:"3" doc:"ASCE 7-16 mapped 1 s acceleration"`
	TL        float64   `toml:"tl_s" unit:"s" min:"1" max:"20" doc:"ASCE 7-16 long-period transition"`

	AG           float64   `toml:"ag" min:"0" doc:"EN 1998-1 ground acceleration on type A ground, agR, at the reference_return_period_yr"`
	SpectrumType int       `toml:"spectrum_type" min:"1" max:"2" doc:"EN 1998-1 spectrum: 1, or 2 where earthquakes beyond magnitude 5.5 do not govern (3.2.2.2(2)P)"`
	Importance   int       `toml:"importance_class" min:"1" max:"4" doc:"EN 1998-1 importance class, whose factor multiplies ag (4.2.5); 2 has the factor 1, right where buildings are compared at the same return periods"`
	Z            float64   `toml:"z" min:"0" max:"2" doc:"NZS 1170.5 hazard factor Z, or the zone factor of japan-1457"`
	Levels2018   []float64 `toml:"ntc_return_periods_yr" unit:"yr" min:"1" max:"100000" doc:"NTC 2018 return periods of the lists that follow"`
	AG2018       []float64 `toml:"ntc_ag" min:"0" doc:"NTC 2018 ag on rigid ground, one a return period"`
	F02018       []float64 `toml:"ntc_f0" min:"0" max:"10" doc:"NTC 2018 F0, one a return period"`
	TC2018       []float64 `toml:"ntc_tc_s" unit:"s" min:"0" max:"5" doc:"NTC 2018 TC*, one a return period"`
	Topography   float64   `toml:"topography" min:"1" max:"1.4" doc:"NTC 2018 topographic factor ST of Table 3.2.V"`
	Moderate     float64   `toml:"moderate_return_period_yr" unit:"yr" min:"1" max:"1000" doc:"return period the moderate level of japan-1457 is taken for"`
}

// SingleLevel returns the return period in yr that a single spectrum holds for:
// as given, or the design level of EN 1998-1 2.1(1)P for a constant spectrum and
// ag, the MCER, 2 % in 50 years before its adjustments (ASCE 7-16 C11.4), for mapped
// SS and S1, and 500 yr for the severe level of the Japanese law (common practice,
// no source).
func (h *Hazard) SingleLevel() float64 {
	switch {
	case h.Reference > 0:
		return h.Reference
	case h.Kind == "asce7-16":
		return 2475
	case h.Kind == "japan-1457":
		return 500
	}
	return 475
}

// OfStandard reports whether the spectra are made from the parameters of a standard
// on rock, for the ground of each site.
func (h *Hazard) OfStandard() bool {
	switch h.Kind {
	case "asce7-16", "en1998-1", "nzs1170.5", "ntc2018":
		return true
	}
	return false
}

// SoilSlug returns the standard whose letters the site classes are.
func (h *Hazard) SoilSlug() string {
	switch {
	case h.OfStandard():
		return h.Kind
	case h.SoilStandard == "":
		return "asce7-16"
	}
	return h.SoilStandard
}

// Archetypes says which tables give period and strength.
type Archetypes struct {
	Region          string  `toml:"region" doc:"region of the table of code eras"`
	Zone            string  `toml:"zone" doc:"seismic zone within the region's tables"`
	Systems         string  `toml:"systems" doc:"CSV whose rows (system, quantity, value, source, confidence) replace those of the table of systems, or none"`
	Eras            string  `toml:"eras" doc:"CSV of code eras that replaces those of the regions it names, or adds regions, or none (docs/methods/archetypes.md)"`
	KnowledgeFactor float64 `toml:"knowledge_factor" min:"0.5" max:"1" doc:"factor on strength where no report gives it (ASCE 41-17 6.2.4: 0.75 to 1)"`
}

// Measures says what to try, within which ranges, at what price.
type Measures struct {
	Use       []string `toml:"use" doc:"measures to try"`
	Currency  string   `toml:"currency" doc:"currency of all money in the plan, a label only"`
	PriceDate string   `toml:"price_date" doc:"date the prices hold for, a label; with budget.first_year it also says which years of a register are still to come (docs/methods/register.md)"`

	// Options are the tables of the measures. Each is declared in the file of its measure.
	Options retrofit.Set `toml:"-"`
}

// Consequence says what shaking costs.
type Consequence struct {
	LifeYears    float64 `toml:"life_yr" unit:"yr" min:"1" max:"200" doc:"years the benefit is counted over"`
	DiscountRate float64 `toml:"discount_rate" min:"0" max:"0.2" doc:"discount rate, a fraction a year"`
	ValuePerArea float64 `toml:"value_per_m2" min:"0" doc:"replacement value a square metre of gross floor, where the register gives no value"`

	Tables string `toml:"tables" doc:"folder with tables that replace the built-in ones: states.csv, components.csv, splits.csv, bands.csv, hours.csv, constants.csv, any of them; retrofit/consequence/tables holds the forms"`

	ValueLow  float64 `toml:"value_low_ratio" min:"0.05" max:"1" doc:"low end of the band of values and loss tables, over the best estimate: annual_loss_low"`
	ValueHigh float64 `toml:"value_high_ratio" min:"1" max:"20" doc:"high end of the same band: annual_loss_high"`

	DowntimeShare float64 `toml:"downtime_share" min:"0" max:"10" doc:"what a year's use of a building is worth, over its replacement value"`

	FreeStanding retrofit.FreeStanding `toml:"free_standing" doc:"an object that stands free on a floor, for when contents first move"`
}

// Objective says what the rank serves.
type Objective struct {
	RankBy  string  `toml:"rank_by" choices:"net-benefit|benefit-cost|life-safety|contents|continuity|weighted" doc:"objective of the rank; weighted is the sum of the others, each times its weight"`
	Weights Weights `toml:"weights" doc:"points for one unit of each objective, for rank_by = \"weighted\": what is said here of a death beside money is said openly"`
}

// Weights are the points of one unit of each objective.
type Weights struct {
	NetBenefit  float64 `toml:"net-benefit" min:"0" doc:"points for one unit of currency of net benefit"`
	BenefitCost float64 `toml:"benefit-cost" min:"0" doc:"points for a benefit:cost of 1"`
	LifeSafety  float64 `toml:"life-safety" min:"0" doc:"points for one death avoided over the life"`
	Contents    float64 `toml:"contents" min:"0" doc:"points for one unit of currency of contents loss avoided; it is part of the net benefit already"`
	Continuity  float64 `toml:"continuity" min:"0" doc:"points for one day closed avoided over the life"`
}

// List returns the weights in the order of the objectives.
func (w *Weights) List() []float64 {
	return []float64{w.NetBenefit, w.BenefitCost, w.LifeSafety, w.Contents, w.Continuity}
}

// Rating says on which published scales buildings are rated.
type Rating struct {
	Scales            []string `toml:"scales" choices:"asce-41|nzs-percent|dm-58-2017|japan-index" doc:"scales, none where the list is empty"`
	JapanTime         float64  `toml:"japan_time_index" min:"0.7" max:"1" doc:"index T of ageing of all buildings, for japan-index"`
	JapanIrregularity float64  `toml:"japan_irregularity_index" min:"0.4" max:"1" doc:"index SD of irregularity of all buildings, for japan-index"`
	JapanZone         float64  `toml:"japan_zone_index" min:"0.7" max:"1" doc:"zone index Z, for japan-index"`
}

// Budget says what may be spent when, and on what terms.
type Budget struct {
	Total     float64 `toml:"total" min:"0" doc:"money in all years together; 0 where yearly says it"`
	Yearly    float64 `toml:"yearly" min:"0" doc:"money of each year; 0 for the total at once or in any year"`
	FirstYear int     `toml:"first_year" min:"1" max:"9999" doc:"calendar year of the first works"`
	Years     int     `toml:"years" min:"1" max:"100" doc:"years the programme may take"`
	CarryOver bool    `toml:"carry_over" doc:"what a year leaves unspent may be spent later"`

	Must   []string `toml:"must" doc:"ids of buildings that must be done"`
	Cannot []string `toml:"cannot" doc:"ids of buildings nothing may be done to"`
	Terms  string   `toml:"terms" doc:"CSV file of terms by building: id, group, latest_year (docs/methods/ranking.md)"`

	PerGroup int     `toml:"per_group" min:"0" doc:"buildings of one group of the terms file that may be worked on in one year; 0 for any number"`
	Decant   float64 `toml:"decant_persons" unit:"persons" min:"0" doc:"people who can be housed elsewhere at any one time; 0 for no limit"`
}

// Uncertainty says what is drawn to learn how sure a rank is.
type Uncertainty struct {
	Draws     int `toml:"draws" min:"0" max:"1999" doc:"draws of everything uncertain; 0 for none; 199 make a 90 % interval of ranks exact"`
	Seed      int `toml:"seed" min:"0" doc:"seed of the draws"`
	Top       int `toml:"top" min:"1" doc:"how many places top_k_frequency counts as the first"`
	Shortlist int `toml:"shortlist" min:"1" doc:"a stock of more buildings than this is sampled in its first so many by rank only"`

	HazardCommon   float64 `toml:"hazard_common" min:"0" max:"2" doc:"ln sd of the hazard, the same for all buildings of a draw"`
	HazardLocal    float64 `toml:"hazard_local" min:"0" max:"2" doc:"ln sd of the hazard, each building's own"`
	StrengthCommon float64 `toml:"strength_common" min:"0" max:"2" doc:"ln sd of strength that all buildings share, part of each one's own"`
	CostCommon     float64 `toml:"cost_common" min:"0" max:"1" doc:"share of the variance of a measure's cost that all buildings share"`
}

// Confirm says how the shortlist is checked by time histories.
type Confirm struct {
	Shortlist   int      `toml:"shortlist" min:"1" max:"1000" doc:"how many of the foremost buildings"`
	Measures    int      `toml:"measures" min:"1" max:"8" doc:"how many of the best measures of each, beside the building as it stands"`
	Records     int      `toml:"records" min:"1" max:"100" doc:"artificial records for each site: 7 for a look, 11 for a decision on isolation"`
	Seed        int      `toml:"seed" min:"0" doc:"seed of the records: the same seed, the same records"`
	Duration    float64  `toml:"significant_duration_s" unit:"s" min:"0" max:"120" doc:"significant duration (5 to 95 %) of the artificial records; 0 for short ones. It moves the effect of damping and isolation by 25 to 40 %"`
	PDelta      bool     `toml:"p_delta" doc:"let the weight above a storey push it further"`
	RecordFiles []string `toml:"record_files" doc:"records of your own instead of artificial ones: files of time in s and acceleration in g"`
	Fitting     string   `toml:"fitting" choices:"scaled|matched" doc:"what is done to records of your own"`
	Pictures    int      `toml:"pictures" min:"0" max:"20" doc:"how many of the foremost buildings confirm.html shows in pictures, each with its two best measures; 0 for none"`
}

// Output says where to write what.
type Output struct {
	Folder  string   `toml:"folder" doc:"folder of the results"`
	Private bool     `toml:"private" doc:"let nobody but you read the results, where the system knows owners: a folder the run makes and every file in it; one that was there and is open to others is refused"`
	Formats []string `toml:"formats" choices:"parquet|csv|gpkg|geojson|geojsonl|mbtiles|html" doc:"what to write: tables as Parquet and CSV, a map of the buildings as GeoPackage, GeoJSON, one GeoJSON feature a line or vector tiles (mbtiles; also written beside a GeoPackage of more than 50,000 buildings), and the report as one page"`
}

// FileMode returns the mode of a file of results before the system takes its part.
func (o *Output) FileMode() fs.FileMode {
	if o.Private {
		return 0o600
	}
	return 0o666
}
