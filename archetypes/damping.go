package archetypes

import "math"

// CodeDamping is the damping, a fraction of critical, that the spectra of codes are drawn for.
const CodeDamping = 0.05

// The bounds of BuildingDamping: the least is that of the same documents.
const (
	leastDamping    = 0.025
	dampingOfHeight = 0.36 // with the height in ft
	// ln-dispersion of measured damping about a law of height: judgement, damping read from records
	// of one building differs by half from one earthquake to another
	dampingBeta = 0.5
)

// BuildingDamping returns the damping of a building of height h in m above the base, a fraction of
// critical, in every mode,
//
//	b = 0.36/sqrt(H),  0.025 <= b <= 0.05,  H in ft
//
// so 5 % up to 16 m and 2.5 % from 63 m. It is the equivalent viscous damping beside hysteresis that
// the guidelines for tall buildings of the Pacific center (PEER 2017, version 2.03) and of Los
// Angeles (2018) give for strong shaking, from memory; they take it from records of buildings, whose
// damping falls below 2.5 % beyond 150 m (Cruz and Miranda 2016, abstract). Both are for tall
// buildings; low ones keep the 5 % of the codes (judgement). What goes back into soft ground adds to
// it and is left out, on the safe side.
func BuildingDamping(h float64) float64 {
	return min(CodeDamping, max(leastDamping, dampingOfHeight/math.Sqrt(h/foot)))
}

// buildingDamping is the formula of BuildingDamping.
var buildingDamping = Formula{"damping-by-height", "b = 0.36/sqrt(H in ft), 2.5 to 5 % of critical",
	"PEER Tall Buildings Initiative 2.03 (2017) and Los Angeles 2018, from memory; beside it: below 2.5 % for " +
		"buildings taller than 150 m, Cruz and Miranda 2016, abstract", Medium}
