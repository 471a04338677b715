package demand

// Fit holds the constants of the method that no standard gives. All were tuned against
// nonlinear time histories of shear stick models under artificial records that match a code
// spectrum; none is a published value. They are collected here so that none is mistaken for a
// code's. The doc comment of the function that uses a constant gives the formula.
type Fit struct {
	// C1 = 1 + 1/(... + (C1Start (mu - 1)^-C1Power + C1Rest) x^C1Period (1 + Calm bV)), displacement.go
	C1Start  float64
	C1Power  float64
	C1Rest   float64
	C1Period float64
	Calm     float64 // of the damping bV of viscous dampers
	C2Most   float64 // largest C2 less 1

	Concentrate float64 // w = d (rho/rho_max)^(Concentrate/gg) exp(-z/(l gg)), drift.go
	Spread      float64 // l2 = Spread2 r' + 1/(2 N)2
	Local       float64 // e = dh (1 + Local s (1 - 1/rho)2/gg)

	Inherent   float64 // q = s (1 + r (C mu - 1)) + Inherent (1 - s), floors.go
	Higher     float64 // h = mu^Higher
	Missing    float64 // Sm = PGA mu^Missing
	RoofPush   float64 // times the resistance of the top storey
	PhaseAccel float64 // ra = PhaseAccel (1 - s)

	ViscousHigher float64 // of (b_Dj G_j phi_ij Sa_j h)2 in acceleration, floors.go
	ViscousModes  float64 // b_Dj = min(4, ViscousModes bV T1/Tj) of nonlinear dampers, viscous.go

	DeviceDecay float64 // 1/l grows by DeviceDecay y with yielding devices, drift.go

	Tuned float64 // b1 = b0 + Tuned sqrt(mm)/4 L, tunedmass.go
}

// fitted holds the constants in use.
var fitted = Fit{
	C1Start: 143, C1Power: 2.29, C1Rest: 5.19, C1Period: 3.42, Calm: 2.78, C2Most: 0.393,
	Concentrate: 3.53, Spread: 1.27, Local: 12.5,
	Inherent: 0.231, Higher: -0.214, Missing: 0.257, RoofPush: 1.04, PhaseAccel: 0.728,
	ViscousHigher: 1.40, ViscousModes: 7.02,
	DeviceDecay: 49.4,
	Tuned:       0.25,
}

// Fitted returns the constants in use.
func Fitted() Fit { return fitted }

// Constants of the iterations, and of ranges not covered by the time histories [fit].
const (
	reductionKnee = 0.5  // damping above which B grows as a power, ordinates.go
	reductionRate = 0.75 // that power

	c1Least   = 0.17 // least T1/TC of the fit grid, displacement.go
	c2Divisor = 800  // ASCE 41-17 equation 7-30
	c2Period  = 0.7  // s, C2 fades from this period on, where the standard's ends
	c2End     = 1.0  // s, and is 1 from this on, where the standard's C1 ends
	c2Least   = 0.2  // s, least period in C2

	leastSwayPower = 0.5 // of the stability coefficient in mu_max, sway.go

	viscousMost = 4.0 // largest added damping in the iteration, viscous.go

)

// Passes is the number of steps of a search that a trace keeps, for nonlinear viscous and for
// yielding devices.
const Passes = 6

// domainRatio is the largest strength ratio mu at which the method was compared with time
// histories.
const domainRatio = 8
