package demand

// The constants of the method that no standard gives. All were tuned against
// nonlinear time histories of shear stick models under artificial records that
// match a code spectrum; none is a published value. They stand here together so
// that nobody mistakes one for a code's. The doc comment of the function that
// uses a constant gives the formula.
const (
	fitReductionKnee = 0.5  // damping above which B grows as a power, ordinates.go
	fitReductionRate = 0.75 // that power

	fitC1Divisor = 28.0  // C1 = 1 + (mu - 1)^1.4/(28 x2), displacement.go
	fitC1Power   = 1.4   // of mu - 1 in C1
	fitC1Least   = 0.2   // least x = T1/TC in C1
	fitC2Divisor = 400.0 // C2 = 1 + (mu - 1)^2/(400 T2)
	fitC2Most    = 1.2   // largest C2
	fitC2Period  = 0.7   // s, C2 is 1 from this period on
	fitC2Least   = 0.2   // s, least period in C2
	fitCLPower   = -0.15 // CL = mu^(-0.15 min(1, T1/TC))

	fitRegular      = 0.5  // gg = 1 + 0.5 b_r mu, drift.go
	fitShare        = 0.4  // e = 1 - 0.4/gg
	fitShareDevices = 0.45 // the same with yielding devices
	fitConcentrate  = 3.0  // w = d (rho/rho_max)^(3/gg)
	fitDamperPush   = 2.0  // post-yield stiffness of the pushover grows by 2 b_r k
	fitProfile      = 0.5  // weight of profile A; B has the rest

	fitHigher      = -0.10 // h = mu^-0.10, floors.go
	fitOver        = 1.1   // o = min(1.5, 1.1 + 0.05 (N - 1))
	fitOverStorey  = 0.05
	fitOverMost    = 1.5
	fitPhaseAccel  = 0.25 // ra = 0.25 (1 - s)
	fitPhaseShear  = 1.0  // rv = 1 - s
	fitRigidStorey = 3    // up to this many storeys the missing mass moves with the ground
	fitRigid       = 0.5  // above: part of Sa(5 T3/7) - PGA in the missing mass ordinate

	fitViscousEnergy  = 1.15 // factor on the energy-equivalent damping, viscous.go
	fitViscousMost    = 4.0  // largest added damping in the iteration
	fitViscousStep    = 1.4  // power of the step u (u_new/u)^1.4
	fitViscousModes   = 0.75 // b_Dj = min(0.3, 0.75 bV T1/Tj)
	fitViscousModeTop = 0.3
	fitViscousDrift   = 2.0 // power of alpha in b_r = bV alpha2

	fitDeviceStart  = 0.5  // x = 0.5 dy, yielding.go
	fitDeviceMix    = 0.6  // x <- 0.4 x + 0.6 C d
	fitDeviceSecant = 0.3  // K = ks ((k + kd)/ks)^0.3
	fitDeviceDamp   = 0.5  // share of ED/(4 pi ES) counted, judgement
	fitDeviceFirst  = 1.05 // Sa1 x 1.05 once devices yield
	fitDeviceHarden = 0.5  // kr = r k + 0.5 kd if the frame yields before the device

	fitTuned = 0.5 // b1 = 0.05 + 0.5 sqrt(mm)/4 L, tunedmass.go

	fitIsolatedYield = 0.4 // share of overload in a yielding storey above isolators, isolated.go
	fitLeadKick      = 1.8 // c of lead-rubber
	fitSlideKick     = 1.3 // c of sliders
	fitSlidePower    = 0.25
	fitSlideElastic  = 1.5 // cE of sliders
	fitIsolatedModes = 4   // free-free modes of the frame above the isolators
)

// Passes is how often the iterations on the amplitude go round, for nonlinear
// viscous and for yielding devices [fit: the bands hold for it].
const Passes = 4

// domainRatio is the largest strength ratio mu the method was compared at.
const domainRatio = 8

// frameDamping is the damping of a frame without devices, a fraction of
// critical: the 5 % of the code spectra.
const frameDamping = 0.05
