package assess

import (
	"math"
	"strconv"

	"plinth/archetypes"
	"plinth/hazard"
	"plinth/pipeline/inventory"
	"plinth/retrofit"
)

// An UnknownField is a field of one building that nobody has given, with its possible values.
type UnknownField struct {
	Field  inventory.Field
	Values []PossibleValue
}

// A PossibleValue is one value that an unknown field may have. If Set is nil, the assumed
// value is the true one.
type PossibleValue struct {
	Word        string // as a person would write it
	Probability float64
	Set         func(*inventory.Building)
}

// asAssumed returns the assumed value, with its probability.
func asAssumed(probability float64) PossibleValue {
	return PossibleValue{"as assumed", probability, nil}
}

// UnknownFields returns the fields of the building of d that nobody has given and that a
// calculation uses. All probabilities and ranges here are judgement; docs/methods/ranking.md
// prints them.
func (study *Study) UnknownFields(d *Digest) []UnknownField {
	b := &d.Building
	var list []UnknownField
	add := func(f inventory.Field, values ...PossibleValue) { list = append(list, UnknownField{f, values}) }
	given := func(f inventory.Field) bool { return b.Origin[f] == inventory.Given }
	if !given(inventory.System) {
		add(inventory.System, systemValues(b.Storeys)...)
	}
	if b.Year == 0 {
		add(inventory.Year, years(1925, 1955, 1972, 1990, 2010)...)
	}
	if d.PlaceAssumed && b.Year > 0 {
		add(inventory.ClassifiedYear, asAssumed(0.75), PossibleValue{"after it was built", 0.25,
			func(b *inventory.Building) { b.ClassifiedYear = b.Year + 1 }})
	}
	if !given(inventory.Storeys) {
		add(inventory.Storeys, storeyValues(b.Storeys)...)
	}
	if !given(inventory.Height) {
		add(inventory.Height, scaled(0.85, 1.15,
			func(b *inventory.Building, by float64) { b.Height *= by })...)
	}
	if !given(inventory.FloorArea) {
		add(inventory.FloorArea, scaled(0.8, 1.25, scaleArea)...)
	}
	if b.Origin[inventory.Profile] != inventory.Given {
		add(inventory.Profile, asAssumed(0.85),
			PossibleValue{archetypes.WeakGround.String(), 0.15,
				func(b *inventory.Building) { b.Profile = archetypes.WeakGround }})
	}
	if d.ClassSpread > 0 { // the class was assumed and those beside it differ
		add(inventory.SiteClass, study.classValues(d.SiteClass)...)
	}
	return append(list, useUnknowns(b)...)
}

// useUnknowns returns the unknown fields that change the losses or the feasible measures, but
// not the response of the building.
func useUnknowns(b *inventory.Building) []UnknownField {
	var list []UnknownField
	add := func(f inventory.Field, values ...PossibleValue) { list = append(list, UnknownField{f, values}) }
	if b.Origin[inventory.Contents] != inventory.Given {
		add(inventory.Contents, contentsValues(b.Contents)...)
	}
	if b.Origin[inventory.OccupantsDay] != inventory.Given {
		add(inventory.OccupantsDay, scaled(0.5, 1.6,
			func(b *inventory.Building, by float64) { b.OccupantsDay *= by; b.OccupantsNight *= by })...)
	}
	if b.Origin[inventory.Value] != inventory.Given {
		add(inventory.Value, scaled(0.7, 1.4, func(b *inventory.Building, by float64) { b.Value *= by })...)
	}
	if math.IsNaN(b.Gap) {
		add(inventory.Gap, PossibleValue{"party wall", 0.3, func(b *inventory.Building) { b.Gap = 0 }},
			PossibleValue{"0.1 m", 0.3, func(b *inventory.Building) { b.Gap = 0.1 }},
			PossibleValue{"2 m", 0.4, func(b *inventory.Building) { b.Gap = 2 }})
	}
	if b.Plane == retrofit.Unknown {
		add(inventory.Plane, PossibleValue{"yes", 0.5,
			func(b *inventory.Building) { b.Plane = retrofit.Yes }},
			PossibleValue{"no", 0.5, func(b *inventory.Building) { b.Plane = retrofit.No }})
	}
	if b.Heritage == retrofit.Unknown {
		add(inventory.Heritage, PossibleValue{"yes", 0.1,
			func(b *inventory.Building) { b.Heritage = retrofit.Yes }},
			PossibleValue{"no", 0.9, func(b *inventory.Building) { b.Heritage = retrofit.No }})
	}
	return list
}

// scaled returns the possible values of an assumed number: as assumed with probability one
// half, and less or more with one quarter each.
func scaled(less, more float64, scale func(*inventory.Building, float64)) []PossibleValue {
	return []PossibleValue{
		asAssumed(0.5),
		{"less", 0.25, func(b *inventory.Building) { scale(b, less) }},
		{"more", 0.25, func(b *inventory.Building) { scale(b, more) }},
	}
}

// scaleArea scales a floor area and the values that were assumed from it.
func scaleArea(b *inventory.Building, by float64) {
	b.FloorArea *= by
	b.Footprint *= by
	if b.Origin[inventory.Value] == inventory.Assumed {
		b.Value *= by
	}
	if b.Origin[inventory.OccupantsDay] == inventory.Assumed {
		b.OccupantsDay *= by
		b.OccupantsNight *= by
	}
}

// systemValues returns the possible systems of a building with the given storeys.
func systemValues(storeys int) []PossibleValue {
	last := archetypes.SteelBracedFrame
	if storeys <= 3 {
		last = archetypes.TimberFrame
	}
	var list []PossibleValue
	for _, s := range []struct {
		system      archetypes.System
		probability float64
	}{{archetypes.ConcreteFrame, 0.3}, {archetypes.ConcreteWall, 0.2}, {archetypes.MasonryUnreinforced, 0.2},
		{archetypes.SteelMomentFrame, 0.15}, {last, 0.15}} {
		list = append(list, PossibleValue{s.system.String(), s.probability,
			func(b *inventory.Building) { b.System = s.system }})
	}
	return list
}

func storeyValues(n int) []PossibleValue {
	more := PossibleValue{"one more", 0.15, func(b *inventory.Building) { b.Storeys++ }}
	if n == 1 {
		return []PossibleValue{asAssumed(0.85), more}
	}
	return []PossibleValue{asAssumed(0.7), more,
		{"one less", 0.15, func(b *inventory.Building) { b.Storeys-- }}}
}

// years returns equally likely years of construction, one for each era of the codes.
func years(list ...int) []PossibleValue {
	var out []PossibleValue
	for _, y := range list {
		out = append(out, PossibleValue{strconv.Itoa(y), 1 / float64(len(list)),
			func(b *inventory.Building) { b.Year = y }})
	}
	return out
}

// classValues returns the assumed site class and the next firmer and softer one, with the
// probabilities that classSpread uses.
func (study *Study) classValues(assumed hazard.SiteClass) []PossibleValue {
	firmer, softer := study.ground.standard.Beside(assumed)
	var list []PossibleValue
	left := 1.0
	for i, c := range [...]hazard.SiteClass{firmer, assumed, softer} {
		if c != assumed {
			list = append(list, PossibleValue{c.String(), classWeights[i],
				func(b *inventory.Building) { b.SiteClass = c }})
			left -= classWeights[i]
		}
	}
	return append(list, asAssumed(left))
}

func contentsValues(c retrofit.Contents) []PossibleValue {
	var list []PossibleValue
	left := 1.0
	for other := retrofit.OrdinaryContents; other <= retrofit.FragileContents; other++ {
		if d := int(other) - int(c); d == 1 || d == -1 {
			list = append(list, PossibleValue{other.String(), 0.15,
				func(b *inventory.Building) { b.Contents = other }})
			left -= 0.15
		}
	}
	return append(list, asAssumed(left))
}
