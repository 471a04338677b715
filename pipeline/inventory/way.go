package inventory

// A Way is the rule by which a field got its value.
type Way uint8

// The ways.
const (
	noWay Way = iota
	byColumn
	byDoubtful
	byEffective
	byNotation
	byOutline
	byNeighbour
	byPart
	byTotal
	byTotalHeight
	byLengthWidth
	byFootprintLength
	byHeight
	byStoreys
	byFootprintStoreys
	byAreaStoreys
	byBelow
	byVelocity
	byZone
	byGroup
	byUse
	byEra
	byStock
	byPlan
	byUseTable
	byValuePerArea
	byNothing

	numWays
)

// ways tells each way in plain words.
var ways = [numWays]string{
	byColumn:           "the register",
	byDoubtful:         "the register, marked there as not exact",
	byEffective:        "the register, an effective year",
	byNotation:         "the register, from a notation of storeys",
	byOutline:          "measured on the register's outline",
	byNeighbour:        "distance to the nearest outline in the register; buildings of others are not in it",
	byPart:             "the whole building's, divided equally among its parts",
	byTotal:            "from storeys above and below ground in one number",
	byTotalHeight:      "storeys in one number, split by the height",
	byLengthWidth:      "length times width",
	byFootprintLength:  "footprint over length",
	byHeight:           "height over the storey height of the use",
	byStoreys:          "storeys times the storey height of the use",
	byFootprintStoreys: "footprint times storeys",
	byAreaStoreys:      "floor area over storeys",
	byBelow:            "there are storeys below ground",
	byVelocity:         "the shear wave velocity, by the bounds of the plan's soil standard",
	byZone:             "the plan's map of site zones",
	byGroup:            "median or most frequent of the buildings of the same group",
	byUse:              "median or most frequent of the buildings of the same use",
	byEra:              "median or most frequent of the buildings of the same era",
	byStock:            "median or most frequent of the register",
	byPlan:             "[inventory.assume] in the plan",
	byUseTable:         "table of uses",
	byValuePerArea:     "floor area times the plan's value per area, by use",
	byNothing:          "regular, where nothing is known",
}

// Rule returns in plain words the rule by which the field got its value, "" for a
// field that has none.
func (b *Building) Rule(f Field) string { return ways[b.way[f]] }
