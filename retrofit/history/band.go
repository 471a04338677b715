package history

// Quantity is a response quantity in which spectral demand and time history are compared.
type Quantity uint8

// The quantities.
const (
	RoofDrift    Quantity = iota // roof displacement relative to the base of the frame
	StoreyDrift                  // largest storey drift over height
	FloorAccel                   // largest floor acceleration, ground floor included
	BaseShear                    // at the foot
	Displacement                 // across the isolators

	Quantities // number of quantities
)

var quantityWords = [Quantities]string{"roof displacement", "storey drift", "floor acceleration",
	"base shear", "isolator displacement"}

// String returns the quantity in words.
func (q Quantity) String() string { return quantityWords[q] }

// Kind is a kind of measure with its own bands.
type Kind uint8

// The kinds.
const (
	AsIs Kind = iota
	Strengthened
	Yielding
	ViscousLinear
	ViscousNonlinear
	TunedMass
	LeadRubber
	Slider

	Kinds // number of kinds
)

var kindWords = [Kinds]string{"as it stands", "strengthening", "yielding devices", "linear viscous",
	"nonlinear viscous", "tuned mass", "lead-rubber", "slider"}

// String returns the kind in words.
func (k Kind) String() string { return kindWords[k] }

// A band is the agreement of one quantity of one measure, one standard deviation
// of ln(spectral/time history).
type band struct {
	usual   float64 // 0 for none stated
	elastic float64 // strength ratio up to 1; 0 for usual
	yielded float64 // strength ratio above 2; 0 for usual
}

// bands state the agreement with a shear-stick model under artificial records of short
// duration, not accuracy against reality: the scatter measured in docs/fidelity.md, the larger
// of that of the validation grid and that of irregular buildings.
var bands = [Kinds][Quantities]band{
	AsIs: {
		RoofDrift:   {usual: 0.14, elastic: 0.02, yielded: 0.17},
		StoreyDrift: {usual: 0.21, elastic: 0.12, yielded: 0.25},
		FloorAccel:  {usual: 0.13, elastic: 0.07, yielded: 0.16},
		BaseShear:   {usual: 0.07, elastic: 0.03, yielded: 0.07},
	},
	Strengthened: {StoreyDrift: {usual: 0.17, elastic: 0.05, yielded: 0.24},
		FloorAccel: {usual: 0.12, elastic: 0.06, yielded: 0.14}},
	Yielding: {StoreyDrift: {usual: 0.23, elastic: 0.08, yielded: 0.30},
		FloorAccel: {usual: 0.14, elastic: 0.10, yielded: 0.17}},
	ViscousLinear: {
		StoreyDrift: {usual: 0.21, elastic: 0.10, yielded: 0.27},
		FloorAccel:  {usual: 0.08, elastic: 0.07, yielded: 0.07},
		BaseShear:   {usual: 0.10, elastic: 0.09, yielded: 0.11},
	},
	ViscousNonlinear: {
		StoreyDrift: {usual: 0.22, elastic: 0.20, yielded: 0.23},
		FloorAccel:  {usual: 0.09, elastic: 0.10, yielded: 0.08},
		BaseShear:   {usual: 0.11, elastic: 0.12, yielded: 0.10},
	},
	TunedMass: {StoreyDrift: {usual: 0.22, elastic: 0.12, yielded: 0.25},
		FloorAccel: {usual: 0.13, elastic: 0.08, yielded: 0.16}},
	LeadRubber: {
		StoreyDrift:  {usual: 0.08, elastic: 0.06, yielded: 0.11},
		FloorAccel:   {usual: 0.06, elastic: 0.08, yielded: 0.07},
		Displacement: {usual: 0.05, elastic: 0.05, yielded: 0.04},
	},
	Slider: {
		StoreyDrift:  {usual: 0.17, elastic: 0.18, yielded: 0.15},
		FloorAccel:   {usual: 0.18, elastic: 0.21, yielded: 0.17},
		Displacement: {usual: 0.14, elastic: 0.15, yielded: 0.14},
	},
}

// Band returns the ln standard deviation stated for a quantity of a measure, at a strength
// ratio of the building as it stands. ok is false if none is stated.
func Band(k Kind, q Quantity, strengthRatio float64) (ln float64, ok bool) {
	b := bands[k][q]
	switch {
	case strengthRatio > 2 && b.yielded > 0:
		return b.yielded, true
	case strengthRatio <= 1 && b.elastic > 0:
		return b.elastic, true
	}
	return b.usual, b.usual > 0
}
