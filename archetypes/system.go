package archetypes

import (
	"fmt"
	"strings"
)

// System is a structural system: an index into the table of systems. The zero value is an
// unknown system, which has its own row with wide dispersions.
type System uint8

// The structural systems.
const (
	UnknownMix            System = iota // not known, or a stock of mixed systems
	ConcreteFrame                       // cast-in-place moment frame
	ConcreteWall                        // cast-in-place shear walls
	ConcreteFrameInfilled               // concrete frame with masonry infill
	ConcreteWallFrame                   // dual: shear walls with a moment frame
	SteelMomentFrame
	SteelBracedFrame
	SteelFrameInfilled  // steel frame with masonry infill
	TimberFrame         // light frame with sheathing
	MasonryUnreinforced // bearing walls
	MasonryReinforced   // bearing walls
	PrecastPanel        // wall panels with a light roof or precast floors
	PrecastFrame
	LightMetal // portal sheds and cold-formed framing

	numSystems
)

var systemSlugs = [numSystems]string{
	"unknown-mix", "concrete-frame", "concrete-wall", "concrete-frame-infilled", "concrete-wall-frame",
	"steel-moment-frame", "steel-braced-frame", "steel-frame-infilled", "timber-frame",
	"masonry-unreinforced", "masonry-reinforced", "precast-panel", "precast-frame", "light-metal",
}

// commonBuildingTypes are the common building types of ASCE 41-17 Table 3-1, accepted as input.
// S4 (dual steel frame and concrete walls) becomes the dual system of its walls.
var commonBuildingTypes = map[string]System{
	"W1": TimberFrame, "W1A": TimberFrame, "W2": TimberFrame,
	"S1": SteelMomentFrame, "S1A": SteelMomentFrame, "S2": SteelBracedFrame, "S2A": SteelBracedFrame,
	"S3": LightMetal, "S4": ConcreteWallFrame, "S5": SteelFrameInfilled, "S5A": SteelFrameInfilled,
	"CFS1": LightMetal, "CFS2": LightMetal,
	"C1": ConcreteFrame, "C2": ConcreteWall, "C2A": ConcreteWall,
	"C3": ConcreteFrameInfilled, "C3A": ConcreteFrameInfilled,
	"PC1": PrecastPanel, "PC1A": PrecastPanel, "PC2": PrecastFrame, "PC2A": PrecastFrame,
	"RM1": MasonryReinforced, "RM2": MasonryReinforced,
	"URM": MasonryUnreinforced, "URMA": MasonryUnreinforced,
}

// ParseSystem returns the system named by s: a slug such as concrete-frame, or a common
// building type of ASCE 41-17 Table 3-1 such as C1, in upper or lower case.
func ParseSystem(s string) (System, error) {
	s = strings.TrimSpace(s)
	for i, slug := range systemSlugs {
		if strings.EqualFold(s, slug) {
			return System(i), nil
		}
	}
	if sys, ok := commonBuildingTypes[strings.ToUpper(s)]; ok {
		return sys, nil
	}
	return UnknownMix, fmt.Errorf("structural system %q is neither one of %s nor a building type of ASCE "+
		"41-17 Table 3-1; map the word to one of them",
		s, strings.Join(systemSlugs[:], ", "))
}

// String returns the slug.
func (s System) String() string {
	if s < numSystems {
		return systemSlugs[s]
	}
	return fmt.Sprintf("System(%d)", uint8(s))
}

// Systems returns every structural system, the unknown one first.
func Systems() []System {
	out := make([]System, numSystems)
	for i := range out {
		out[i] = System(i)
	}
	return out
}
