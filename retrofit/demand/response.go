package demand

// Response is the demand on a building at one level of shaking. It is filled in place and keeps
// its storage.
type Response struct {
	Roof         float64   // m, of the roof relative to the base of the frame
	Drift        []float64 // m, of each storey, lowest first
	DriftRatio   float64   // largest drift over storey height
	Accel        []float64 // m/s2, absolute, of each floor above the lowest storey, roof last
	BaseAccel    float64   // m/s2, of the ground floor: the ground, or the slab above isolators
	PeakAccel    float64   // m/s2, largest of BaseAccel and Accel
	BaseShear    float64   // N, at the foot of the frame (isolated: through the isolators)
	Displacement float64   // m, across the isolators; 0 without
	Period       float64   // s, first period of the demand (isolated: effective)
	Damping      float64   // fraction of critical, first mode
	Ductility    float64   // as-yielded strength ratio mu = 1/s, or DCR of an isolated frame
	Status       Status
}

// Status qualifies a Response. Values combine by or; zero is a converged result inside the
// domain of its formulas.
type Status uint16

// The statuses of a Response.
const (
	Capped          Status = 1 << iota // an iteration stopped at its limit before its tolerance
	Extrapolated                       // a period beyond the spectrum's nodes was used
	OutOfDomain                        // outside the range covered by time histories
	SeveralRoots                       // several isolator displacements balance; the largest was taken
	Stuck                              // the isolators do not move; the building is fixed-base
	RankingOnly                        // frame above the isolators yields; usable to rank, not as a value
	NotApplicable                      // the measure cannot act on this building
	CollapseCounted                    // drift or P-delta beyond collapse; the drift is that limit, no value
)

var statusWords = []string{
	"iteration capped",
	"spectrum extrapolated beyond its periods",
	"outside the measured range of the method",
	"several equilibrium displacements, largest taken",
	"isolators do not move at this level",
	"frame above isolators yields, for ranking only",
	"measure not applicable",
	"collapse counted",
}

// Words returns the status in plain words, one entry a flag.
func (s Status) Words() []string {
	var out []string
	for i, w := range statusWords {
		if s&(1<<i) != 0 {
			out = append(out, w)
		}
	}
	return out
}
