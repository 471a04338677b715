package hazard

// JapanLevel is a level of shaking of the Japanese Building Standard Law.
type JapanLevel uint8

// The levels.
const (
	JapanSevere   JapanLevel = iota // once in the life of a building at most; C0 = 1.0
	JapanModerate                   // several times in its life; C0 = 0.2
)

// JapanBedrock makes s the acceleration spectrum at the engineering bedrock
// (shear wave velocity 400 m/s or more) of Notification 1457 (2000), damping 5 %,
// for zone factor z (0.7 to 1.0), from memory:
//
//	S0 = 3.2 + 30 T m/s2    T < 0.16 s
//	S0 = 8.0                T < 0.64 s
//	S0 = 5.12/T             T >= 0.64 s
//
// at the severe level and a fifth of it at the moderate one. The amplification Gs of the
// surface layers is not included. The last branch extends to 10 s; beyond, displacement is
// constant.
func JapanBedrock(s *Spectrum, level JapanLevel, z float64) error {
	factor := z / Gravity
	if level == JapanModerate {
		factor /= 5
	}
	return s.SetFourBranch(3.2*factor, 8.0*factor, 0.16, 0.64, 10, 10)
}

// A JapanSoil is a soil type of Notification 1793 (1980).
type JapanSoil uint8

// The soil types, firm to soft.
const (
	JapanSoil1 JapanSoil = iota
	JapanSoil2
	JapanSoil3
)

// japanTc is Tc in s of the soil types.
var japanTc = [...]float64{0.4, 0.6, 0.8}

// JapanRt returns the vibration characteristic factor Rt of the Building
// Standard Law Enforcement Order, article 88, and Notification 1793 (1980), at
// period t in s:
//
//	Rt = 1                       T < Tc
//	Rt = 1 - 0.2 (T/Tc - 1)2     Tc <= T < 2 Tc
//	Rt = 1.6 Tc/T                2 Tc <= T
//
// with Tc 0.4, 0.6 and 0.8 s. It panics if the soil is none of the three.
func JapanRt(soil JapanSoil, t float64) float64 {
	x := t / japanTc[soil]
	switch {
	case x < 1:
		return 1
	case x < 2:
		return 1 - 0.2*(x-1)*(x-1)
	}
	return 1.6 / x
}

// JapanPeriod returns the design period in s of Notification 1793 (1980) for a
// height h in m and the share of it that is steel (from memory):
//
//	T = h (0.02 + 0.01 steel)
func JapanPeriod(h, steel float64) float64 { return h * (0.02 + 0.01*steel) }

// JapanShear returns the shear coefficient of the ground storey, C1 = Z Rt C0, of
// the Building Standard Law Enforcement Order, article 88: the base shear over the
// weight. C0 is 0.2 for the moderate level and 1.0 for the severe one, before Ds.
func JapanShear(level JapanLevel, z, rt float64) float64 {
	if level == JapanModerate {
		return z * rt * 0.2
	}
	return z * rt
}
