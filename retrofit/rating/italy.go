package rating

// Risk is what the class of DM 58/2017 is made of: two numbers in % and the class of each alone.
type Risk struct {
	PAM, ISV           float64
	PAMClass, ISVClass string
}

// The loss curve of DM 58/2017 Annex A 2.1, from memory: the share of the reconstruction cost at
// the onset of damage and at the operational, damage, life-safety and collapse limit states. At
// reconstruction, with the frequency of collapse, it is 1.
var lossCurve = [...]float64{0, 0.07, 0.15, 0.50, 0.80}

// The frequencies in 1/yr and their ratios that DM 58/2017 Annex A 2.1 sets, from memory: of the
// onset of damage; of the operational over that of the damage limit state; of collapse over that of
// life safety. No limit state is reached more often than the onset.
const (
	onset         = 1. / 10
	operational   = 1.67
	collapseShare = 0.49
)

// PAM returns the mean annual loss of DM 58/2017 Annex A 2.1 in % of the reconstruction cost, from
// memory, for the annual frequencies in 1/yr of the damage and the life-safety limit state:
//
//	PAM = 100 (sum of (v_i-1 - v_i) (c_i-1 + c_i)/2 + v_collapse)
//
// v and c are the frequencies and the costs of the limit states from the onset of damage to
// collapse. Damage that is reached more seldom than life safety counts as often. A frequency that is
// negative or NaN gives NaN.
func PAM(damage, lifeSafety float64) float64 {
	lifeSafety = min(onset, lifeSafety)
	damage = min(onset, max(damage, lifeSafety))
	v := [len(lossCurve)]float64{onset, min(onset, operational*damage), damage, lifeSafety,
		collapseShare * lifeSafety}
	pam := v[len(v)-1]
	for i := 1; i < len(v); i++ {
		pam += (v[i-1] - v[i]) * (lossCurve[i-1] + lossCurve[i]) / 2
	}
	return 100 * pam
}

// RiskClass returns the class of DM 58/2017, the worse of those of
//
//	pam = PAM                                    (%, of reconstruction cost)
//	isv = 100 PGA_capacity/PGA_demand            (%, at life safety)
//
// and its number: 1 for A+ to 8 for G. DM 58/2017 Annex A 2.1, from memory. At a bound PAM has the
// better class and IS-V the worse; IS-V ends at F. If either is negative or NaN there is no rating.
func RiskClass(pam, isv float64) Rating {
	if !(pam >= 0 && isv >= 0) {
		return none()
	}
	loss, safety := class(place(DM58.Bands("pam"), pam)), class(place(DM58.Bands("is-v"), isv))
	r := loss
	if safety.Value > loss.Value {
		r = safety
	}
	r.Risk = Risk{PAM: pam, ISV: isv, PAMClass: loss.Band, ISVClass: safety.Band}
	return r
}

// SimplifiedClasses is the number of classes that a simplified method may claim (DM 58/2017
// Annex A 2.2 and 3, from memory).
const SimplifiedClasses = 1

// Improved returns the class after a measure that a simplified method may claim: at most
// SimplifiedClasses better than before. What it is made of stays.
func Improved(before, after Rating) Rating {
	if before.Band == "" || after.Band == "" {
		return none()
	}
	r := class(int(max(after.Value, before.Value-SimplifiedClasses)) - 1)
	r.Risk = after.Risk
	return r
}

func class(i int) Rating { return Rating{Band: DM58.Bands("pam")[i].Name, Value: float64(i + 1)} }
