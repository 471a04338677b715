package demand

// Fit holds the constants of the method that no standard gives. All were tuned against
// nonlinear time histories of shear stick models under artificial records that match a code
// spectrum; none is a published value. They are collected here so that none is mistaken for a
// code's. The doc comment of the function that uses a constant gives the formula.
type Fit struct {
	// C1 = 1 + (mu - 1)2/(C1Divisor x^C1Period (C1Start + mu - 1)(1 + Calm bV)), displacement.go
	C1Divisor float64
	C1Period  float64
	C1Start   float64
	C1Least   float64 // least x = T1/TC in C1
	Calm      float64 // of the damping bV of viscous dampers
	C2Divisor float64 // C2 = 1 + (mu - 1)2/(C2Divisor T2)
	C2Most    float64 // largest C2
	CLPower   float64 // CL = mu^(CLPower min(1, T1/TC))

	Concentrate float64 // w = d (rho/rho_max)^(Concentrate/gg) exp(-Decay z/gg), drift.go
	Decay       float64
	Local       float64 // e = dh (1 + Local s sqrt(1 - 1/rho)/gg)

	Inherent   float64 // q = s (1 + r (C mu - 1)) + Inherent (1 - s), floors.go
	Higher     float64 // h = mu^Higher
	Missing    float64 // Sm = PGA mu^Missing
	RoofPush   float64 // times the resistance of the top storey
	PhaseAccel float64 // ra = PhaseAccel (1 - s)

	ViscousHigher float64 // of (b_Dj G_j phi_ij Sa_j h)2 in acceleration, floors.go
	ViscousModes  float64 // b_Dj = min(4, ViscousModes bV T1/Tj) of nonlinear dampers, viscous.go

	DeviceDecay float64 // Decay grows by DeviceDecay y with yielding devices, yielding.go

	Tuned float64 // b1 = 0.05 + Tuned sqrt(mm)/4 L, tunedmass.go

	LeadShare     float64 // Vst = Vb (Ws/W)^(1 - LeadShare b) above lead-rubber, isolated.go
	IsolatedYield float64 // share of overload in a yielding storey above isolators
	LeadKick      float64 // c of lead-rubber, isolatedfloors.go
	SlideKick     float64 // c of sliders
	SlidePower    float64 // p of sliders
	SlideElastic  float64 // cE of sliders
}

// fitted holds the constants in use.
var fitted = Fit{
	C1Divisor: 19.5, C1Period: 2.6, C1Start: 0.9, C1Least: 0.19, Calm: 2.6, C2Divisor: 500, C2Most: 1.2,
	CLPower:     -0.034,
	Concentrate: 5.5, Decay: 3.1, Local: 3.5,
	Inherent: 0.27, Higher: -0.17, Missing: 0.27, RoofPush: 1.06, PhaseAccel: 0.7,
	ViscousHigher: 2.3, ViscousModes: 3.9,
	DeviceDecay: 1.5,
	Tuned:       0.25,
	LeadShare:   0.97, IsolatedYield: 0.4, LeadKick: 1.8, SlideKick: 1.47, SlidePower: -0.04,
	SlideElastic: 2.65,
}

// Fitted returns the constants in use.
func Fitted() Fit { return fitted }

// Constants of the iterations, and of ranges not covered by the time histories [fit].
const (
	reductionKnee = 0.5  // damping above which B grows as a power, ordinates.go
	reductionRate = 0.75 // that power

	c2Period = 0.7 // s, C2 is 1 from this period on, displacement.go
	c2Least  = 0.2 // s, least period in C2

	viscousMost = 4.0 // largest added damping in the iteration, viscous.go

	isolatedModes = 4 // free-free modes of the frame above the isolators, isolatedfloors.go
)

// Passes is the number of steps of a search that a trace keeps, for nonlinear viscous and for
// yielding devices.
const Passes = 6

// domainRatio is the largest strength ratio mu at which the method was compared with time
// histories.
const domainRatio = 8

// FrameDamping is the damping of a frame without devices, a fraction of
// critical: the 5 % of the code spectra.
const FrameDamping = 0.05
