package inventory

import "math/bits"

// The data grade says how much of a result rests on the register and how much on
// rules. Each field of the rubric gives its points if the register gives it, part
// of them if it was derived, few if it was assumed, none if it is absent. The
// rubric is judgement: weights follow how far a field moves the result.
var rubric = [...]struct {
	field  Field
	points float64
	why    string
}{
	{System, 30, "decides period, strength, drift limits and dispersion"},
	{Year, 20, "decides the code of design, so the strength"},
	{Storeys, 15, "decides period and mode shapes"},
	{SiteClass, 10, "changes the spectrum by up to a factor of two"},
	{FloorArea, 10, "scales weight, cost and loss"},
	{UseField, 10, "decides occupants, contents and storey height"},
	{Height, 5, "refines the period"},
}

// originShare is the share of a field's points that a value of each origin gets (judgement).
var originShare = [numOrigins]float64{Absent: 0, Given: 1, Derived: 0.7, Assumed: 0.2}

// bands holds the least points of each grade (judgement).
var bands = [...]struct {
	least float64
	grade Grade
}{{85, 'A'}, {65, 'B'}, {45, 'C'}, {0, 'D'}}

// reported lists the fields that only a report or a measurement can give. Grade A needs one of them,
// since a register alone is no more than a good start.
var reported = [...]Field{Period, StrengthRatio}

// grade returns the points, 0 to 100, and the data grade of a building:
//
//	points = sum of the rubric's points times the share of the field's origin
//
// The grade is the band of the points, but no better than B without a reported
// period or strength, than C with a system that is not given or a use that is not
// known, and than the cap of any rule that fired.
func grade(b *Building) (score uint8, g Grade) {
	points := 0.0
	for _, r := range rubric {
		points += r.points * originShare[b.Origin[r.field]]
	}
	for _, band := range bands {
		if points >= band.least {
			g = band.grade
			break
		}
	}
	backed := false
	for _, f := range reported {
		backed = backed || b.Origin[f] == Given
	}
	if !backed {
		g = max(g, 'B')
	}
	if b.Origin[System] != Given {
		g = max(g, 'C')
	}
	if b.Origin[UseField] == Absent || b.Origin[UseField] == Assumed {
		g = max(g, 'C') // who is inside and what it holds are then guesses
	}
	for set := b.Flags; set != 0; set &= set - 1 {
		g = max(g, Rule(bits.TrailingZeros64(uint64(set))).Spec().Cap)
	}
	return uint8(points + 0.5), g
}
