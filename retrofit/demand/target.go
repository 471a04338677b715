package demand

import (
	"math"

	"plinth/archetypes"
	"plinth/hazard"
)

// Target is the input of the target displacement of ASCE 41-17 7.4.3.3. Equation
// and table numbers in this file are from memory.
type Target struct {
	Sa       float64 // g, spectral acceleration at Period and the damping of the building
	Period   float64 // s, effective fundamental period Te
	Strength float64 // yield base shear over weight, Vy/W
	C0       float64 // Table 7-5: see RoofFactor
	Cm       float64 // Table 7-4: see MassFactor
	A        float64 // site factor of C1: see SiteFactor
}

// TargetOf returns the input for an archetype under the spectral acceleration sa in g at its period
// and 5 %, on ground of a class of ASCE 7.
func TargetOf(a *archetypes.Archetype, sa float64, class hazard.SiteClass) Target {
	return Target{
		Sa: sa, Period: a.Period, Strength: a.StrengthRatio, C0: RoofFactor(a.Storeys, ShearBuilding(a.System)),
		Cm: MassFactor(a.System, a.Storeys, a.Period), A: SiteFactor(class),
	}
}

// TargetResult is the result of the standard's method.
type TargetResult struct {
	Ratio        float64 // strength ratio, elastic demand over strength
	C1, C2       float64
	Displacement float64 // m, of the roof; gravity in m/s2 is given by the caller
}

// Displacement returns the target displacement of the roof, for gravity in m/s2.
//
//	dt = C0 C1 C2 Sa g Te2/(4 pi2)                      equation 7-28
//	mu_strength = Sa/(Vy/W) Cm                          equation 7-31
//	C1 = 1 + (mu - 1)/(a Te2)    1 above 1 s; Te at least 0.2 s     equation 7-29
//	C2 = 1 + ((mu - 1)/Te)2/800  1 above 0.7 s          equation 7-30
//
// A ratio below 1 is elastic: C1 = C2 = 1. The method of this package reports the result beside
// its own; C2 is for systems that pinch or degrade.
func (t *Target) Displacement(gravity float64) TargetResult {
	r := TargetResult{Ratio: t.Sa / t.Strength * t.Cm, C1: 1, C2: 1}
	if over := r.Ratio - 1; over > 0 {
		r.C1, r.C2 = CodeC1(r.Ratio, t.Period, t.A), CodeC2(r.Ratio, t.Period)
	}
	x := t.Period / (2 * math.Pi)
	r.Displacement = t.C0 * r.C1 * r.C2 * t.Sa * gravity * x * x
	return r
}

// CodeC1 returns C1 of ASCE 41-17 equation 7-29 for a strength ratio mu of at least 1 at
// period te in s, with the site factor a.
func CodeC1(mu, te, a float64) float64 {
	if te > 1 {
		return 1
	}
	te = max(te, 0.2)
	return 1 + (mu-1)/(a*te*te)
}

// CodeC2 returns C2 of ASCE 41-17 equation 7-30. Periods below 0.2 s count as 0.2 s, as in C1.
func CodeC2(mu, te float64) float64 {
	if te > 0.7 {
		return 1
	}
	x := (mu - 1) / max(te, 0.2)
	return 1 + x*x/800
}

// SiteFactor returns a of ASCE 41-17 equation 7-29 for a site class letter: 130 for A and B, 90
// for C, 60 for D, E, F and any unknown letter.
func SiteFactor(class hazard.SiteClass) float64 {
	switch class {
	case 'A', 'B':
		return 130
	case 'C':
		return 90
	}
	return 60
}

// ShearBuilding reports whether the drift of a building falls with height, as Table 7-5 divides its
// columns: moment frames and infilled frames. Walls, braced frames and dual systems bend as a whole;
// masonry, timber, panels and what is not known count with them, on the safe side (judgement).
func ShearBuilding(s archetypes.System) bool {
	switch s {
	case archetypes.ConcreteFrame, archetypes.SteelMomentFrame, archetypes.PrecastFrame,
		archetypes.ConcreteFrameInfilled, archetypes.SteelFrameInfilled:
		return true
	}
	return false
}

// MassFactor returns Cm of ASCE 41-17 Table 7-4 for a building of the system with a number of storeys
// and the period te in s: from three storeys 0.9 for moment and braced frames, 0.8 for concrete walls;
// 1 for one and two storeys, for all others, and for a period above 1 s. Frames of precast members
// count as concrete frames, dual systems and panels as concrete walls (judgement).
func MassFactor(s archetypes.System, storeys int, te float64) float64 {
	if storeys < 3 || te > 1 {
		return 1
	}
	switch s {
	case archetypes.ConcreteFrame, archetypes.PrecastFrame, archetypes.SteelMomentFrame,
		archetypes.SteelBracedFrame:
		return 0.9
	case archetypes.ConcreteWall, archetypes.ConcreteWallFrame, archetypes.PrecastPanel:
		return 0.8
	}
	return 1
}

// RoofFactor returns C0 of ASCE 41-17 Table 7-5 for a number of storeys, by
// straight lines between its rows: for a shear building (drift falls with height)
// under a triangular load, or any other building.
func RoofFactor(storeys int, shearBuilding bool) float64 {
	rows := [...]struct{ storeys, shear, other float64 }{
		{1, 1.0, 1.0}, {2, 1.2, 1.2}, {3, 1.2, 1.3}, {5, 1.3, 1.4}, {10, 1.3, 1.5},
	}
	pick := func(i int) float64 {
		if shearBuilding {
			return rows[i].shear
		}
		return rows[i].other
	}
	n := float64(storeys)
	for i := 1; i < len(rows); i++ {
		if n < rows[i].storeys {
			x := max(0, (n-rows[i-1].storeys)/(rows[i].storeys-rows[i-1].storeys))
			return pick(i-1) + x*(pick(i)-pick(i-1))
		}
	}
	return pick(len(rows) - 1)
}
