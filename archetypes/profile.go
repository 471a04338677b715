package archetypes

// A Profile says how stiffness and strength run over the height.
type Profile uint8

// The profiles. The zero value is regular.
const (
	Regular    Profile = iota
	WeakGround         // open or weak ground storey
	SetBack            // upper part narrower
)
