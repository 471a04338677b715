package inventory

// A Rule is one check of the reader. Its number is its place in the table of rules.
type Rule uint8

// The rules. Those that reject a row come first.
const (
	RaggedRow Rule = iota
	BrokenQuote
	BadFeature
	MissingID
	UnseenID
	DuplicateID
	MissingCoordinate
	BadCoordinate
	ZeroCoordinates
	ProjectedCoordinates
	SwappedCoordinates
	SignOfCoordinate
	WholeDegrees
	SetAside
	TowerForm
	MissingSystem
	MissingStoreys
	MissingFloorArea
	UnreadStoreys
	NotStanding

	NotANumber
	OutOfRange
	UnknownWord
	PlaceholderDate
	NullWord
	NullNumber
	Approximate
	UnitInCell
	Thousands
	ExcelDate
	NotUTF8
	UnseenCharacter
	CoarseCoordinates
	HeightStoreys
	TallStoreys
	StoreysSplit
	AreaStoreys
	YearOrder
	SpecialForm
	StackedPoint
	NearDuplicate
	MixedUnits
	MixedAreas
	AlikeID
	OutsideOutline
	EffectiveYear
	ListedPart
	StoreysNotation
	NoSuchDate
	Century
	FutureYear
	ValuePerArea
	MixedValues
	Crowded
	PeriodHeight
	StrengthRange
	PlanArea
	SidesExchanged
	ClassVelocity

	numRules
)

// A RuleSpec describes one rule. It is a line of the table of rules.
type RuleSpec struct {
	Slug    string
	Rejects bool   // the row is not used
	Cap     Grade  // best data grade of a building it fired on; 0 for no cap
	Finding string // what was found, in plain words
	Remedy  string // what the owner can do
}

// Spec returns the description of the rule.
func (r Rule) Spec() *RuleSpec { return &ruleSpecs[r] }

// String returns the rule's slug.
func (r Rule) String() string { return ruleSpecs[r].Slug }

// A RuleSet is a set of rules.
type RuleSet uint64

// A set has room for 64 rules: one more does not compile.
const _ = 64 - uint8(numRules)

// Has reports whether r is in the set.
func (s RuleSet) Has(r Rule) bool { return s&(1<<r) != 0 }

// Rules returns the rules of the set in the order of the table.
func (s RuleSet) Rules() []Rule {
	var out []Rule
	for r := range numRules {
		if s.Has(r) {
			out = append(out, r)
		}
	}
	return out
}

// Slugs returns the slugs of the set in the order of the table.
func (s RuleSet) Slugs() []string {
	var out []string
	for _, r := range s.Rules() {
		out = append(out, r.String())
	}
	return out
}

var ruleSpecs = [numRules]RuleSpec{
	RaggedRow:            {"ragged-row", true, 0, "the row has more or fewer cells than the header", "quote cells that hold the delimiter, or complete the row"},
	BrokenQuote:          {"broken-quote", true, 0, "a quotation mark stands where none may", "double it inside a quoted cell, or remove it"},
	BadFeature:           {"bad-feature", true, 0, "the feature cannot be read", "a feature has properties once each, and a geometry that is a Point, Polygon or MultiPolygon; of a line or a collection take the centroid or the polygon"},
	MissingID:            {"missing-id", true, 0, "no id", "give the building the id you know it by"},
	UnseenID:             {"unseen-id", true, 0, "the id holds a control character or a mark that turns the direction of text, which nobody can see or type", "take the character out of the id, in the register and wherever results are joined"},
	DuplicateID:          {"duplicate-id", true, 0, "the id was used before", "keep one row a building, or give the parts ids of their own"},
	MissingCoordinate:    {"missing-coordinate", true, 0, "no longitude or latitude", "locate the building: the hazard is read by place"},
	BadCoordinate:        {"bad-coordinate", true, 0, "not a longitude or latitude in decimal degrees", "write decimal degrees, such as -150.12345"},
	ZeroCoordinates:      {"zero-coordinates", true, 0, "longitude and latitude are both 0", "locate the building: 0, 0 usually stands for not located"},
	ProjectedCoordinates: {"projected-coordinates", true, 0, "longitude and latitude are too large for degrees", "reproject the register to EPSG:4326; these look like metres of a map grid"},
	SwappedCoordinates:   {"swapped-coordinates", true, 0, "longitude and latitude are exchanged", "set swap = true under [inventory], or exchange the two columns there"},
	SignOfCoordinate:     {"sign-of-coordinate", true, 0, "outside the hazard's coverage, but inside it with the sign changed", "west and south are negative: correct the sign"},
	WholeDegrees:         {"whole-degrees", true, 0, "longitude and latitude are whole degrees", "give at least four decimals: a whole degree can be 50 km off"},
	SetAside:             {"set-aside", true, 0, "arenas, towers and silos have no archetype", "have it studied by itself; if it is a building with storeys, correct its use"},
	TowerForm:            {"tower-form", true, 0, "more than 12 m of height a storey: a tower, hall or silo, or a slip", "correct storeys or height; if they are right, have it studied by itself"},
	MissingSystem:        {"missing-system", true, 0, "the structural system is not known", "map the word under [inventory.values.system], or set system under [inventory.assume] (unknown-mix is the mixed stock)"},
	MissingStoreys:       {"missing-storeys", true, 0, "neither storeys nor height is known", "give one of them, or set storeys under [inventory.assume]"},
	MissingFloorArea:     {"missing-floor-area", true, 0, "neither floor area nor footprint is known", "give one of them, or set floor_area under [inventory.assume]"},
	UnreadStoreys:        {"unread-storeys", true, 0, "the cell says a number of storeys in a way that is not read", "write those above ground as one whole number, 5 for G+4, those below in a column of their own; or map the cell under [inventory.values.storeys]"},
	NotStanding:          {"not-standing", true, 0, "a word beside the year says that the building is planned, at work or demolished", "take the row out; if the building stands, give the year alone"},

	NotANumber:        {"not-a-number", false, 0, "not a number; taken as missing", "write digits only; declare decimal = \",\" if commas are decimal marks"},
	OutOfRange:        {"out-of-range", false, 0, "outside the range believed; taken as missing", "check the value and the unit declared for the column"},
	UnknownWord:       {"unknown-word", false, 0, "a word that is not mapped; taken as missing", "map it under [inventory.values]"},
	PlaceholderDate:   {"placeholder-date", false, 0, "a date that stands for none; taken as missing", "leave the cell empty, or find the year"},
	NullWord:          {"null-word", false, 0, "a word that stands for none; taken as missing", "leave the cell empty"},
	NullNumber:        {"null-number", false, 0, "a number that stands for none; taken as missing", "leave the cell empty"},
	Approximate:       {"approximate", false, 0, "marked as approximate in the register; used, counted as assumed", "confirm the value"},
	UnitInCell:        {"unit-in-cell", false, 0, "the cell names its own unit, which was used", "keep one unit a column and out of the cells"},
	Thousands:         {"thousands-separator", false, 0, "digits are grouped; read as one number", "write numbers without separators"},
	ExcelDate:         {"day-number", false, 0, "a spreadsheet's day number; its year was used", "export dates as text, such as 1975-06-30"},
	NotUTF8:           {"not-utf8", false, 0, "letters that are not UTF-8 were replaced", "save the register as UTF-8"},
	UnseenCharacter:   {"unseen-character", false, 0, "control characters, or marks that turn the direction of text, were replaced", "take them out of the text"},
	CoarseCoordinates: {"coarse-coordinates", false, 'C', "fewer than three decimals: more than 100 m off", "give at least four decimals"},
	HeightStoreys:     {"height-storeys", false, 'C', "less than 2.4 m of height a storey; the height was dropped", "correct height or storeys; storeys below ground have a column of their own"},
	TallStoreys:       {"tall-storeys", false, 'B', "6 to 12 m of height a storey; kept", "confirm: a hall, or storeys missing from the count"},
	StoreysSplit:      {"storeys-split", false, 0, "storeys above and below ground come in one number; split by the height", "give storeys above ground in a column of their own"},
	AreaStoreys:       {"area-storeys", false, 'C', "floor area differs from footprint times storeys by more than a factor 3; kept", "check area, footprint, storeys and their units"},
	YearOrder:         {"year-order", false, 0, "strengthened before it was built; taken as not strengthened", "correct one of the years"},
	SpecialForm:       {"special-form", false, 'C', "a use whose form the archetypes picture poorly; kept", "read the result with care: halls, garages, plant and sheds differ from storeyed buildings"},
	StackedPoint:      {"stacked-point", false, 0, "at the same point as an earlier row", "locate each building by itself; parts of one building may share a point"},
	NearDuplicate:     {"near-duplicate", false, 0, "looks like an earlier row under another id", "remove one of them if they are one building"},
	MixedUnits:        {"mixed-units", false, 0, "a group of rows stands a factor 3.28 from the others", "two units in one column? give each row the column's unit"},
	MixedAreas:        {"mixed-areas", false, 0, "a group of floor areas stands a factor 10.76 from the others, by footprint times storeys", "two units in one column? give each row the column's unit"},
	AlikeID:           {"alike-id", false, 0, "the id differs from an earlier one in case and punctuation only", "if it is the same building, keep one row; else write ids that nobody can confuse"},
	OutsideOutline:    {"outside-outline", false, 0, "the point is outside the building's outline; kept", "check the point; the centroid of an L or a ring is outside by nature"},
	EffectiveYear:     {"effective-year", false, 0, "an effective year, not one of construction; used, counted as assumed", "find the year of construction, which decides the code of design"},
	ListedPart:        {"listed-part", false, 0, "one of several parts listed in one cell; areas, value and people divided equally", "give each part a row of its own"},
	StoreysNotation:   {"storeys-notation", false, 0, "storeys in a notation, read by its words", "give storeys above ground as a number, those below in a column of their own"},
	NoSuchDate:        {"no-such-date", false, 0, "not a day of the calendar; its year was used, counted as assumed", "correct the date"},
	Century:           {"century", false, 0, "a century before any code; its middle was used, counted as assumed", "find the year, or the decade"},
	FutureYear:        {"future-year", false, 'C', "a year still to come; taken as missing", "correct the year; works to come are not yet in the building"},
	ValuePerArea:      {"value-per-area", false, 'C', "value over floor area differs from the plan's value_per_m2 by more than a factor 10; kept", "check value, floor area and their units (thousands, millions, currency), or value_per_m2 in the plan"},
	MixedValues:       {"mixed-values", false, 0, "a group of values stands a factor 1000 from the others, by floor area", "thousands and single units in one column? give each row the column's unit"},
	Crowded:           {"crowded", false, 'C', "less than 0.5 m2 of floor a person; taken as missing", "check people and floor area: nobody could move there"},
	PeriodHeight:      {"period-height", false, 'C', "the period is more than a factor 5 from that of its height; taken as missing", "check the period and its unit: a period, not a frequency, of the building, not of the ground"},
	StrengthRange:     {"strength-range", false, 'C', "strength below 0.015 or above 1.5 of the weight; taken as missing", "check the value and the unit declared: a fraction of the weight, or per cent"},
	PlanArea:          {"plan-area", false, 'C', "length times width differs from the footprint by more than a factor 3; kept", "check length, width, footprint and their units (feet, metres)"},
	SidesExchanged:    {"sides-exchanged", false, 0, "width was greater than length; the two were exchanged", "give the longer side as the length; check units where only one of them was wrong"},
	ClassVelocity:     {"class-vs30", false, 'C', "the site class is not that of the shear wave velocity; the class was used", "correct one of them, or remove the one that was guessed; the letters are those of the plan's soil_standard"},
}
