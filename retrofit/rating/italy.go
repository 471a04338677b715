package rating

// RiskClass returns the class of DM 58/2017, the worse of two, and its number: 1 for
// A+ to 8 for G.
//
//	pam = 100 annual loss/reconstruction cost     (%, of structure and fit-out)
//	isv = 100 PGA_capacity/PGA_demand             (%, at life safety)
//
// DM 58/2017 Annex A 2.1, from memory. At a bound PAM has the better class and IS-V the worse;
// IS-V ends at F. If either is negative or NaN there is no rating.
func RiskClass(pam, isv float64) Rating {
	if !(pam >= 0 && isv >= 0) {
		return none()
	}
	return class(max(place(DM58.Bands("pam"), pam), place(DM58.Bands("is-v"), isv)))
}

// SimplifiedClasses is the number of classes that a simplified method may claim (DM 58/2017
// Annex A 2.2 and 3, from memory).
const SimplifiedClasses = 1

// Improved returns the class after a measure that a simplified method may claim: at most
// SimplifiedClasses better than before.
func Improved(before, after Rating) Rating {
	if before.Band == "" || after.Band == "" {
		return none()
	}
	return class(int(max(after.Value, before.Value-SimplifiedClasses)) - 1)
}

func class(i int) Rating { return Rating{DM58.Bands("pam")[i].Name, float64(i + 1)} }
