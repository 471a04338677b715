package retrofit

import (
	"math"

	"plinth/archetypes"
	"plinth/hazard"
)

// Bracing is the steel that can be built into one storey for dampers or yielding devices.
type Bracing struct {
	// steel area of one brace
	BraceArea float64 `toml:"brace_area_m2" unit:"m2" min:"0.0005" max:"0.5"`
	// angle of the braces to the floor, in degrees
	BraceAngle float64 `toml:"brace_angle_deg" min:"10" max:"75"`
	// floor area of a storey for each brace of one direction
	AreaPerBrace float64 `toml:"area_per_brace_m2" unit:"m2" min:"1" max:"1e5"`
}

// defaultBracing returns braces of 8000 mm2 at 35 degrees, a brace in each direction for 60 m2 of
// floor: ten a direction on a storey of 600 m2 (judgement).
func defaultBracing() Bracing { return Bracing{BraceArea: 0.008, BraceAngle: 35, AreaPerBrace: 60} }

func (b *Bracing) faults() []fault {
	return []fault{
		{b.BraceArea > 0, "brace area must be positive"},
		{b.BraceAngle >= 10 && b.BraceAngle <= 75, "brace angle must lie from 10 to 75 degrees"},
		{b.AreaPerBrace > 0, "floor area per brace must be positive"},
	}
}

// cos returns the cosine of the angle of the braces.
func (b *Bracing) cos() float64 { return math.Cos(b.BraceAngle * math.Pi / 180) }

// steelModulus is E of steel in Pa (EN 1993-1-1 3.2.6 has 210 GPa, AISC 360 29,000 ksi).
const steelModulus = 200e9

// unknownFloorLoad is the weight in Pa of a floor from whose mass an unknown area is read
// (judgement, between the systems of the archetypes).
const unknownFloorLoad = 10e3

// ratio returns the stiffness of the braces of a storey over that of the storey, the least of all
// storeys.
//
//	n E A cos2/(L k),  L = h/sin,  n = floor area/area per brace
//
// A is the steel area of a brace, at an angle to the floor, and h the storey height: statics of a bar
// with pinned ends.
func (b *Bracing) ratio(f *Facts, st *archetypes.Stick) float64 {
	area := f.footprint()
	if math.IsNaN(area) {
		area = st.Mass[0] * hazard.Gravity / unknownFloorLoad
	}
	n, sin, cos := area/b.AreaPerBrace, math.Sin(b.BraceAngle*math.Pi/180), b.cos()
	least := math.Inf(1)
	for i, k := range st.Stiffness {
		least = min(least, n*steelModulus*b.BraceArea*cos*cos*sin/(st.Height[i]*k))
	}
	return least
}

// bearingWalls returns whether walls alone carry a building of the system, so that there is no frame
// whose beams and columns could pass on the force of a device (judgement).
func bearingWalls(s archetypes.System) Answer {
	switch s {
	case archetypes.UnknownMix:
		return Unknown
	case archetypes.TimberFrame, archetypes.MasonryUnreinforced, archetypes.MasonryReinforced,
		archetypes.PrecastPanel:
		return Yes
	}
	return No
}
