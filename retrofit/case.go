package retrofit

import (
	"plinth/archetypes"
	"plinth/hazard"
	"plinth/retrofit/demand"
)

// Facts are the register's facts of a building for feasibility and cost; its dynamics are in
// the stick. An unknown number is NaN, an unknown answer is Unknown; a rule that needs one
// gives the verdict Missing.
type Facts struct {
	Storeys       int
	StoreysBelow  int     // below ground, -1 unknown
	Height        float64 // m above ground
	FloorArea     float64 // m2, gross above ground
	Footprint     float64 // m2
	Length, Width float64 // m, plan dimensions
	Gap           float64 // m, clear distance to the nearest neighbour; 0 is a party wall
	Plane         Answer  // whether a basement, crawl space or open storey can take an isolation plane
	Heritage      Answer  // protected
	System        archetypes.System
	Light         Answer // too light to load isolators: the system's trait
	Brittle       Answer // columns likely to be brittle, from system and detailing
	Contents      Contents
	SiteClass     hazard.SiteClass
	SitePeriod    float64 // s, of the ground; 0 on rock
	FaultDistance float64 // km
}

// Answer is yes, no or unknown.
type Answer uint8

// The answers.
const (
	Unknown Answer = iota
	No
	Yes
)

// Contents is the sensitivity of a building's contents to floor acceleration.
type Contents uint8

// The classes of contents.
const (
	OrdinaryContents  Contents = iota // furniture, stock, office equipment
	SensitiveContents                 // hospitals, laboratories, data rooms, archives: part anchored
	FragileContents                   // museum objects
)

// Case is one building as it stands, input of the measures. A Measure only reads it.
type Case struct {
	Facts  Facts
	Stick  *archetypes.Stick
	Site   *hazard.Site
	Design int               // index of the design return period in Site.Spectra
	Beyond int               // number of the last levels that only annual values need: no rule looks at them
	AsIs   []demand.Response // as it stands, one for each return period
}

// Weight returns the seismic weight in N, from the stick's masses.
func (c *Case) Weight() float64 {
	var m float64
	for _, v := range c.Stick.Mass {
		m += v
	}
	return m * hazard.Gravity
}
