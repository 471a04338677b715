package inventory

import "plinth/pipeline/inventory/cell"

// A Field is one property of a building that a register can have a column for.
type Field uint8

// The fields, in the order of the data dictionary.
const (
	ID Field = iota
	Name
	Lon
	Lat
	Year
	YearStrengthened
	ClassifiedYear
	Storeys
	StoreysBelow
	StoreysTotal
	Height
	FloorArea
	Footprint
	Length
	Width
	Gap
	System
	Profile
	SiteClass
	SitePeriod
	Vs30
	FaultDistance
	UseField
	Contents
	Plane
	Heritage
	PlanIrregular
	OccupantsDay
	OccupantsNight
	Value
	Period
	StrengthRatio
	Condition

	NumFields = iota // number of fields
)

// A FieldSet is a set of fields.
type FieldSet uint64

// Has reports whether f is in the set.
func (s FieldSet) Has(f Field) bool { return s&(1<<f) != 0 }

// A Kind is the way in which the cells of a field are read.
type Kind uint8

// The kinds of cells.
const (
	Text   Kind = iota // kept as written, outer spaces off
	Number             // a decimal number in the column's unit
	Count              // a whole number
	Date               // a year, or a date of which the year is kept
	Word               // one of a list
)

// A Spec describes one field. It is a line of the table of fields.
type Spec struct {
	Slug      string
	Kind      Kind
	Dimension cell.Dimension
	Required  bool    // a row without it is rejected, whatever can be assumed
	ZeroNull  bool    // 0 means not known
	Min, Max  float64 // accepted range, SI; outside it the value is not believed
	Source    string  // of the range
	Doc       string
}

// Spec returns the description of the field.
func (f Field) Spec() *Spec { return &specs[f] }

// String returns the field's slug, the word the plan names it by.
func (f Field) String() string { return specs[f].Slug }

// FieldBySlug returns the field a plan calls slug.
func FieldBySlug(slug string) (Field, bool) {
	for i := range specs {
		if specs[i].Slug == slug {
			return Field(i), true
		}
	}
	return 0, false
}

// fieldSlugs returns the slugs of all fields.
func fieldSlugs() []string {
	out := make([]string, NumFields)
	for i := range specs {
		out[i] = specs[i].Slug
	}
	return out
}

const judgement = "judgement"

// specs is the table of fields. Its ranges are wide. They catch wrong units and mistyped numbers, not
// unusual buildings.
var specs = [NumFields]Spec{
	ID:               {"id", Text, cell.None, true, false, 0, 0, "", "the owner's id, kept as text with its leading zeros; blanks at its ends are taken off"},
	Name:             {"name", Text, cell.None, false, false, 0, 0, "", "what people call the building"},
	Lon:              {"lon", Number, cell.Angle, true, false, -180, 180, "definition of longitude", "longitude, WGS 84, east positive"},
	Lat:              {"lat", Number, cell.Angle, true, false, -90, 90, "definition of latitude", "latitude, WGS 84, north positive"},
	Year:             {"year", Date, cell.None, false, true, 1000, 2100, judgement, "year built; of a date the year is kept"},
	YearStrengthened: {"year_strengthened", Date, cell.None, false, true, 1900, 2100, judgement, "year of the last seismic strengthening"},
	ClassifiedYear:   {"classified_year", Date, cell.None, false, true, 1900, 2100, judgement, "year since when the seismic code covers the place; a building of an earlier year was designed for gravity alone"},
	Storeys:          {"storeys", Count, cell.None, false, true, 1, 200, "judgement: above the tallest building standing", "storeys above ground"},
	StoreysBelow:     {"storeys_below", Count, cell.None, false, false, 0, 12, judgement, "storeys below ground"},
	StoreysTotal:     {"storeys_total", Count, cell.None, false, true, 1, 200, judgement, "storeys above and below ground in one number"},
	Height:           {"height", Number, cell.Distance, false, true, 2, 1000, judgement, "height above ground"},
	FloorArea:        {"floor_area", Number, cell.Surface, false, true, 4, 2e6, judgement, "gross floor area, all storeys"},
	Footprint:        {"footprint", Number, cell.Surface, false, true, 4, 1e6, judgement, "area of the plan outline"},
	Length:           {"length", Number, cell.Distance, false, true, 2, 2000, judgement, "longer side of the plan"},
	Width:            {"width", Number, cell.Distance, false, true, 2, 2000, judgement, "shorter side of the plan"},
	Gap:              {"gap", Number, cell.Distance, false, false, 0, 10000, judgement, "clear distance to the nearest neighbour; 0 is a party wall"},
	System:           {"system", Word, cell.None, false, false, 0, 0, "", "structural system"},
	Profile:          {"profile", Word, cell.None, false, false, 0, 0, "", "how stiffness runs over the height"},
	SiteClass:        {"site_class", Word, cell.None, false, false, 0, 0, "", "ground class of the site, a letter"},
	SitePeriod:       {"site_period", Number, cell.Time, false, true, 0.02, 20, judgement, "natural period of the ground"},
	Vs30:             {"vs30", Number, cell.None, false, true, 50, 5000, judgement, "mean shear wave velocity of the upper 30 m, m/s; gives the site class where there is no column of it"},
	FaultDistance:    {"fault_distance", Number, cell.Distance, false, false, 0, 2e6, judgement, "distance to the nearest active fault"},
	UseField:         {"use", Word, cell.None, false, false, 0, 0, "", "what the building is used for"},
	Contents:         {"contents", Word, cell.None, false, false, 0, 0, "", "how much the contents mind floor acceleration"},
	Plane:            {"isolation_plane", Word, cell.None, false, false, 0, 0, "", "a basement, crawl space or open storey that could take isolators: yes or no"},
	Heritage:         {"heritage", Word, cell.None, false, false, 0, 0, "", "protected: yes or no"},
	PlanIrregular:    {"plan_irregular", Word, cell.None, false, false, 0, 0, "", "known to twist: an L, T or U plan, or walls on one side: yes or no"},
	OccupantsDay:     {"occupants_day", Number, cell.People, false, false, 0, 1e5, judgement, "people inside in working hours"},
	OccupantsNight:   {"occupants_night", Number, cell.People, false, false, 0, 1e5, judgement, "people inside at night"},
	Value:            {"value", Number, cell.Money, false, true, 1, 1e12, judgement, "replacement value in the plan's currency"},
	Period:           {"period", Number, cell.Time, false, true, 0.02, 15, judgement, "first period of the building, measured or from a report"},
	StrengthRatio:    {"strength_ratio", Number, cell.Ratio, false, true, 0.005, 5, judgement, "yield strength over weight, from a report"},
	Condition:        {"condition", Text, cell.None, false, false, 0, 0, "", "the owner's grade of the building's condition; kept and counted, used by no calculation"},
}
