package archetypes

import "fmt"

// Profile is the distribution of stiffness and strength over the height.
type Profile uint8

// The profiles. The zero value is regular.
const (
	Regular    Profile = iota
	WeakGround         // open or weak ground storey
	SetBack            // upper part narrower

	numProfiles
)

var profileSlugs = [numProfiles]string{"regular", "weak-ground", "set-back"}

// String returns the slug.
func (p Profile) String() string {
	if p < numProfiles {
		return profileSlugs[p]
	}
	return fmt.Sprintf("Profile(%d)", uint8(p))
}

// Factors of the irregular profiles. All three are judgement; the first two follow the
// thresholds of ASCE 7-16 Table 12.3-2.
const (
	weakStiffness = 0.60 // ground storey over a regular one: extreme soft storey, type 1b
	weakStrength  = 0.65 // ground storey over a regular one: extreme weak storey, type 5b
	setBackFactor = 0.60 // stiffness and strength of the upper third over regular ones
)

// factor returns the factors on the regular stiffness and strength of storey i of n. A set-back
// begins above the lower two thirds, so it needs three storeys.
func (p Profile) factor(i, n int) (stiffness, strength float64) {
	switch {
	case p == WeakGround && i == 0:
		return weakStiffness, weakStrength
	case p == SetBack && i >= n-n/3:
		return setBackFactor, setBackFactor
	}
	return 1, 1
}
