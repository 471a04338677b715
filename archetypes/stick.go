package archetypes

// MaxModes is the number of modes of a Stick (the spectral method of retrofit/demand uses at
// most three).
const MaxModes = 3

// MaxStoreys is the largest number of storeys of a Stick. Taller buildings are outside the
// method and are reported, never shortened.
const MaxStoreys = 120

// Stick is a building as a chain of N lumped floors on storey springs above a fixed base. Index
// 0 is the lowest storey and the floor above it; index N-1 is the top storey and the roof. It
// is filled in place and keeps its storage.
type Stick struct {
	Mass      []float64 // kg, of each floor
	Stiffness []float64 // N/m, of each storey
	Strength  []float64 // N, yield shear of each storey
	Height    []float64 // m, of each storey
	PostYield float64   // ratio of post-yield to initial stiffness, 0 to 1
	Hardened  float64   // largest resistance of a storey over its strength, at least 1; 0 for no limit
	Degrading float64   // 1 for stiffness-degrading hysteresis, 0 for none
	Damping   float64   // of every mode without devices, a fraction of critical; 0 for CodeDamping
	Collapse  float64   // drift ratio of a storey at collapse; 0 where none is known
	Modes     Modes
}

// N returns the number of storeys.
func (s *Stick) N() int { return len(s.Mass) }

// DampingRatio returns the damping of every mode without devices, a fraction of critical.
func (s *Stick) DampingRatio() float64 {
	if s.Damping == 0 {
		return CodeDamping
	}
	return s.Damping
}

// Modes are the first modes of a Stick, each scaled to 1 at the roof.
type Modes struct {
	Count  int                 // min(MaxModes, N)
	Period [MaxModes]float64   // s
	Gamma  [MaxModes]float64   // participation factor for a roof ordinate of 1
	Shape  [MaxModes][]float64 // ordinate at each floor, roof 1; shared, never written
	// root of sum of (Gamma phi)^2 of the omitted modes, at each floor; shared, never written
	Rest []float64
}

// ModalMass returns sum(m phi1^2) in kg, the mass of the first mode at the roof.
func (s *Stick) ModalMass() float64 {
	var sum float64
	for i, m := range s.Mass {
		phi := s.Modes.Shape[0][i]
		sum += m * phi * phi
	}
	return sum
}
