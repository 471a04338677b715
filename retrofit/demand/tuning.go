package demand

import "math"

// Tuning is the frequency and damping of a tuned mass.
type Tuning struct {
	Frequency float64 // of the tuned mass over that of the structure [f]
	Damping   float64 // of the tuned mass at its own frequency, a fraction of critical [zd]
}

// Excitation is the excitation for which a mass is tuned.
type Excitation uint8

// The excitations. Earthquake gives the two modes of frame and mass the same damping. It needs
// more damping in the mass than the others and is least sensitive to a misjudged period.
const (
	Earthquake    Excitation = iota // Sadek and others 1997
	NoiseBase                       // broad-band ground motion: Warburton 1982
	HarmonicBase                    // ground motion of one period, as on soft ground: Warburton 1982
	NoiseForce                      // gusty wind: Warburton 1982
	HarmonicForce                   // machines, vortices: Den Hartog 1956

	excitations
)

// TuneFor returns the tuning for an excitation of a mode of roof ordinate 1, participation
// gamma and damping b, with a mass at the roof of mu times the modal mass, mu below 2.
func TuneFor(e Excitation, mu, gamma, b float64) Tuning {
	switch e {
	case NoiseBase:
		return WarburtonBaseNoise(mu)
	case HarmonicBase:
		return WarburtonBaseHarmonic(mu)
	case NoiseForce:
		return WarburtonForceNoise(mu)
	case HarmonicForce:
		return DenHartog(mu)
	}
	return SadekMode(mu, gamma, b)
}

// The tunings below take mu, the tuned mass over that of the structure (modal
// mass for a mode), which must be positive and, for Warburton, below 2.

// DenHartog returns the tuning for harmonic force on an undamped structure,
// whose dynamic amplification then peaks at sqrt(1 + 2/mu).
//
//	f = 1/(1 + mu),  zd = sqrt(3 mu/(8 (1 + mu)))
//
// Den Hartog 1956, Mechanical Vibrations, chapter 3. In his c/cc, cc = 2 m w has the frequency
// of the structure, not of the tuned mass, hence the third power of 1 + mu.
func DenHartog(mu float64) Tuning {
	return Tuning{1 / (1 + mu), math.Sqrt(3 * mu / (8 * (1 + mu)))}
}

// WarburtonBaseHarmonic returns the tuning for harmonic base acceleration.
//
//	f = sqrt(1 - mu/2)/(1 + mu),  zd = sqrt(3 mu/(8 (1 + mu)(1 - mu/2)))
//
// Warburton 1982, Earthquake Engineering and Structural Dynamics 10:381.
func WarburtonBaseHarmonic(mu float64) Tuning {
	return Tuning{math.Sqrt(1-mu/2) / (1 + mu), math.Sqrt(3 * mu / (8 * (1 + mu) * (1 - mu/2)))}
}

// WarburtonBaseNoise returns the tuning for white-noise base acceleration.
//
//	f = sqrt(1 - mu/2)/(1 + mu),  zd = sqrt(mu (1 - mu/4)/(4 (1 + mu)(1 - mu/2)))
//
// Warburton 1982.
func WarburtonBaseNoise(mu float64) Tuning {
	return Tuning{math.Sqrt(1-mu/2) / (1 + mu), math.Sqrt(mu * (1 - mu/4) / (4 * (1 + mu) * (1 - mu/2)))}
}

// WarburtonForceNoise returns the tuning for white-noise force.
//
//	f = sqrt(1 + mu/2)/(1 + mu),  zd = sqrt(mu (1 + 3 mu/4)/(4 (1 + mu)(1 + mu/2)))
//
// Warburton 1982.
func WarburtonForceNoise(mu float64) Tuning {
	return Tuning{math.Sqrt(1+mu/2) / (1 + mu), math.Sqrt(mu * (1 + 3*mu/4) / (4 * (1 + mu) * (1 + mu/2)))}
}

// SadekMode returns the tuning that gives the two modes of a damped structure with a
// tuned mass about the same damping, for a mode whose ordinate at the tuned mass is
// amplitude, in the scale of unit participation: for a shape of 1 at the roof and a
// mass at the roof, the participation factor.
//
//	f  = (1 - b sqrt(mu P/(1 + mu P)))/(1 + mu P)
//	zd = P (b/(1 + mu) + sqrt(mu/(1 + mu)))
//
// P is the amplitude and b the damping of the structure. Sadek, Mohraz, Taylor and
// Chung 1997, Earthquake Engineering and Structural Dynamics 26:617.
func SadekMode(mu, amplitude, b float64) Tuning {
	x := mu * amplitude
	return Tuning{
		Frequency: (1 - b*math.Sqrt(x/(1+x))) / (1 + x),
		Damping:   amplitude * (b/(1+mu) + math.Sqrt(mu/(1+mu))),
	}
}

// Stroke returns the travel in m of the tuned mass relative to a roof that swings
// with amplitude roof in m at the frequency of the structure.
//
//	z = u/sqrt((f2 - 1)2 + (2 zd f)2)
//
// This is the steady state of an oscillator on a harmonic base (Chopra 2012, Dynamics of
// Structures, chapter 3). It overestimates, since shaking is short.
func (t Tuning) Stroke(roof float64) float64 {
	f := t.Frequency
	return roof / math.Hypot(f*f-1, 2*t.Damping*f)
}
