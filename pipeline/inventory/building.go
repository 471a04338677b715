package inventory

import (
	"plinth/archetypes"
	"plinth/hazard"
	"plinth/retrofit"
)

// A Building is one row of the register after cleaning. Numbers are SI; an
// unknown number is NaN, an unknown count is -1.
type Building struct {
	ID   string // the owner's, as text
	Name string
	// Condition is the owner's word or number for the state of the building. No calculation uses it.
	Condition string
	Group     string // the owner's group of buildings, "" for none
	Line      int    // of the register, first line 1; a feature's number in formats without lines

	Lon, Lat float64 // degrees, WGS 84

	Year             int     // built; 0 unknown
	YearStrengthened int     // 0 none known
	ClassifiedYear   int     // since when the code covers the place, 0 unknown
	Storeys          int     // above ground
	StoreysBelow     int     // -1 unknown
	Height           float64 // m above ground
	FloorArea        float64 // m2, gross
	Footprint        float64 // m2
	Length, Width    float64 // m, plan
	Gap              float64 // m to the nearest neighbour
	Touching         int     // outlines of the register that touch it; -1 unknown

	System        archetypes.System
	Profile       archetypes.Profile
	SiteClass     hazard.SiteClass
	SitePeriod    float64 // s
	Vs30          float64 // m/s
	FaultDistance float64 // m
	Use           Use
	Contents      retrofit.Contents
	Plane         retrofit.Answer // isolation plane at hand
	Heritage      retrofit.Answer
	PlanIrregular retrofit.Answer // known to twist

	OccupantsDay, OccupantsNight float64
	Value                        float64 // replacement value, plan currency

	Period        float64 // s, from a report or measurement
	StrengthRatio float64 // yield strength over weight, from a report

	Origin [NumFields]Origin // where each field's value came from
	Flags  RuleSet           // rules that fired on the row
	Unused FieldSet          // fields whose cell says something that was not used
	Score  uint8             // points of the data grade, 0 to 100
	Grade  Grade

	way [NumFields]Way // how each field got its value
}

// Aspect returns the longer side of the plan over the shorter. It is NaN if a side is not known.
func (b *Building) Aspect() float64 { return b.Length / b.Width }

// An Origin says where a value came from.
type Origin uint8

// The origins of a value. A better one has a lower number, but for Absent.
const (
	Absent  Origin = iota // not known and not needed to be
	Given                 // in the register or a report
	Derived               // computed from given fields by a stated rule
	Assumed               // filled by a stated rule of imputation

	numOrigins
)

var originWords = [numOrigins]string{"absent", "given", "derived", "assumed"}

// String returns the origin's word.
func (o Origin) String() string { return originWords[o] }

// A Grade is the data grade, 'A' (best) to 'D'.
type Grade byte

// String returns the grade's letter, or "" for none.
func (g Grade) String() string {
	if g == 0 {
		return ""
	}
	return string(rune(g))
}

// Facts returns the properties of the building that the feasibility rules of measures use.
func (b *Building) Facts() retrofit.Facts {
	return retrofit.Facts{
		Storeys:       b.Storeys,
		StoreysBelow:  b.StoreysBelow,
		Height:        b.Height,
		FloorArea:     b.FloorArea,
		Footprint:     b.Footprint,
		Length:        b.Length,
		Width:         b.Width,
		Gap:           b.Gap,
		Plane:         b.Plane,
		Heritage:      b.Heritage,
		System:        b.System,
		Contents:      b.Contents,
		SiteClass:     b.SiteClass,
		SitePeriod:    b.SitePeriod,
		FaultDistance: b.FaultDistance / 1000,
	}
}
