package archetypes

// SystemTraits are the values of the table of systems for one structural system. Flags are 0 or
// 1 in the table.
type SystemTraits struct {
	System System

	StoreyHeight float64 // m, default if no height is given
	WeightArea   float64 // kPa, seismic weight over gross floor area

	CodePeriod     PeriodLaw // approximate period of ASCE 7-16 12.8.2.1
	PeriodLower    PeriodLaw // lower bound of measured periods
	PeriodUpper    PeriodLaw // upper bound of measured periods
	PeriodBeta     float64   // least ln-dispersion of the period
	EurocodePeriod float64   // Ct of EN 1998-1 4.3.3.2.2(3), T = Ct H^0.75

	PostYield float64 // post-yield over initial stiffness
	Degrading float64 // 1 stiffness-degrading hysteresis, 0 none

	Overstrength       float64 // median of yield strength over strength-level design base shear
	OverstrengthBeta   float64 // ln-dispersion
	OverstrengthFactor float64 // factor on the median with non-ductile detailing
	MinimumOverN       float64 // Vy/W of one storey that nobody designed for shaking, see least
	MinimumStrength    float64 // the part of it that does not fall with the storeys
	MaximumStrength    float64 // largest median Vy/W of an ordinary building
	DuctileFrom        float64 // year of design of the first ductile joints, 0 as the code says

	Ductility   [3]float64  // capacity, by Detailing
	Limits      DriftLimits // with ductile or limited detailing
	DriftBeta   float64     // ln-dispersion of the drift limits
	DriftFactor float64     // on the limits from life safety on with non-ductile detailing
	Infilled    float64     // 1 for a frame with masonry infill
	FallsOut    float64     // 1 for bearing walls that fall outward, on the street
	Volume      float64     // share of the volume lost in a collapse
	Fatality    float64     // share of the people in the lost volume who die
	BrittleUpTo float64     // columns are brittle: 0 never, 1 non-ductile, 2 limited too
	Alpha0      float64     // shear over flexure parameter of the continuum, see Continuum
	Flexible    float64     // 1 for a frame that is flexible enough for dampers
	Light       float64     // 1 for timber or light metal, too light to isolate
	SteelShare  float64     // share of the height in steel, for the period of the Japanese code
	MomentFrame float64     // 1 for a moment frame, for the period of the early UBC
	UBCK        float64     // K, UBC 1961 to 1985
	UBCRw       float64     // Rw, UBC 1988 to 1994
	UBC97R      float64     // R, UBC 1997
	ASCE7R      float64     // R, ASCE 7
	EurocodeQ   float64     // q, EN 1998-1, medium ductility
	JapanDs     float64     // Ds, 1981
	NZDuctility float64     // mu, NZS 1170.5
	NZMaterial  float64     // S times M, NZS 4203:1976

	citations [numQuantities]citation

	// Formulas of the values; describe writes them once.
	height, weight, footprint, periods, strength, minimum, limits, ductility Formula
}

// DriftLimits are median storey drift ratios at the limit states of ASCE 41, and at collapse:
// loss of the load of floors.
type DriftLimits struct {
	ImmediateOccupancy, LifeSafety, CollapsePrevention, Collapse float64
}

// Times returns the limits multiplied by a factor.
func (l DriftLimits) Times(f float64) DriftLimits {
	return DriftLimits{f * l.ImmediateOccupancy, f * l.LifeSafety, f * l.CollapsePrevention, f * l.Collapse}
}

// Detailing is the quality of a frame's or wall's detailing for cyclic yielding.
type Detailing uint8

// The detailings.
const (
	NonDuctile Detailing = iota
	LimitedDuctile
	Ductile
)

var detailingWords = [...]string{"non-ductile", "limited", "ductile"}

// String returns the detailing in one word.
func (d Detailing) String() string { return detailingWords[min(int(d), len(detailingWords)-1)] }

type citation struct {
	source     string
	confidence Confidence
	line       int
}

// quantity is one column of a system's data: its name in the table, its range and its field.
type quantity struct {
	name     string
	min, max float64
	at       func(*SystemTraits) *float64
}

const numQuantities = 46

var quantities = [numQuantities]quantity{
	{"storey_height_m", 2, 20, func(t *SystemTraits) *float64 { return &t.StoreyHeight }},
	{"weight_kpa", 0.2, 30, func(t *SystemTraits) *float64 { return &t.WeightArea }},
	{"period_ct", 0.005, 1, func(t *SystemTraits) *float64 { return &t.CodePeriod.Ct }},
	{"period_x", 0.3, 1.2, func(t *SystemTraits) *float64 { return &t.CodePeriod.X }},
	{"period_low_ct", 0.005, 1, func(t *SystemTraits) *float64 { return &t.PeriodLower.Ct }},
	{"period_low_x", 0.3, 1.2, func(t *SystemTraits) *float64 { return &t.PeriodLower.X }},
	{"period_high_ct", 0.005, 1, func(t *SystemTraits) *float64 { return &t.PeriodUpper.Ct }},
	{"period_high_x", 0.3, 1.2, func(t *SystemTraits) *float64 { return &t.PeriodUpper.X }},
	{"period_beta", 0, 1, func(t *SystemTraits) *float64 { return &t.PeriodBeta }},
	{"ec8_ct", 0.005, 1, func(t *SystemTraits) *float64 { return &t.EurocodePeriod }},
	{"post_yield", 0, 0.5, func(t *SystemTraits) *float64 { return &t.PostYield }},
	{"degrading", 0, 1, func(t *SystemTraits) *float64 { return &t.Degrading }},
	{"overstrength", 1, 6, func(t *SystemTraits) *float64 { return &t.Overstrength }},
	{"overstrength_beta", 0, 1, func(t *SystemTraits) *float64 { return &t.OverstrengthBeta }},
	{"minimum_strength", 0.01, 1, func(t *SystemTraits) *float64 { return &t.MinimumStrength }},
	{"minimum_strength_over_n", 0, 2, func(t *SystemTraits) *float64 { return &t.MinimumOverN }},
	{"maximum_strength", 0.05, 2, func(t *SystemTraits) *float64 { return &t.MaximumStrength }},
	{"overstrength_factor_nonductile", 0.3, 1,
		func(t *SystemTraits) *float64 { return &t.OverstrengthFactor }},
	{"ductility_nonductile", 1, 12, func(t *SystemTraits) *float64 { return &t.Ductility[NonDuctile] }},
	{"ductility_limited", 1, 12, func(t *SystemTraits) *float64 { return &t.Ductility[LimitedDuctile] }},
	{"ductility_ductile", 1, 12, func(t *SystemTraits) *float64 { return &t.Ductility[Ductile] }},
	{"drift_io", 1e-4, 0.2, func(t *SystemTraits) *float64 { return &t.Limits.ImmediateOccupancy }},
	{"drift_ls", 1e-4, 0.2, func(t *SystemTraits) *float64 { return &t.Limits.LifeSafety }},
	{"drift_cp", 1e-4, 0.2, func(t *SystemTraits) *float64 { return &t.Limits.CollapsePrevention }},
	{"drift_collapse", 1e-4, 0.5, func(t *SystemTraits) *float64 { return &t.Limits.Collapse }},
	{"drift_beta", 0, 2, func(t *SystemTraits) *float64 { return &t.DriftBeta }},
	{"drift_factor_nonductile", 0.2, 1, func(t *SystemTraits) *float64 { return &t.DriftFactor }},
	{"ductile_from_year", 0, 2100, func(t *SystemTraits) *float64 { return &t.DuctileFrom }},
	{"infilled", 0, 1, func(t *SystemTraits) *float64 { return &t.Infilled }},
	{"falls_outward", 0, 1, func(t *SystemTraits) *float64 { return &t.FallsOut }},
	{"collapse_volume", 0, 1, func(t *SystemTraits) *float64 { return &t.Volume }},
	{"collapse_fatality", 0, 1, func(t *SystemTraits) *float64 { return &t.Fatality }},
	{"brittle_columns", 0, 2, func(t *SystemTraits) *float64 { return &t.BrittleUpTo }},
	{"alpha0", 0, 650, func(t *SystemTraits) *float64 { return &t.Alpha0 }},
	{"flexible", 0, 1, func(t *SystemTraits) *float64 { return &t.Flexible }},
	{"light", 0, 1, func(t *SystemTraits) *float64 { return &t.Light }},
	{"steel_share", 0, 1, func(t *SystemTraits) *float64 { return &t.SteelShare }},
	{"moment_frame", 0, 1, func(t *SystemTraits) *float64 { return &t.MomentFrame }},
	{"ubc_k", 0.5, 3, func(t *SystemTraits) *float64 { return &t.UBCK }},
	{"ubc_rw", 1, 12, func(t *SystemTraits) *float64 { return &t.UBCRw }},
	{"ubc97_r", 1, 9, func(t *SystemTraits) *float64 { return &t.UBC97R }},
	{"asce7_r", 1, 8, func(t *SystemTraits) *float64 { return &t.ASCE7R }},
	{"ec8_q", 1, 8, func(t *SystemTraits) *float64 { return &t.EurocodeQ }},
	{"japan_ds", 0.2, 1, func(t *SystemTraits) *float64 { return &t.JapanDs }},
	{"nz_mu", 1, 6, func(t *SystemTraits) *float64 { return &t.NZDuctility }},
	{"nz_sm", 0.5, 3, func(t *SystemTraits) *float64 { return &t.NZMaterial }},
}

// Source returns the source and confidence of the named quantity of the table of
// systems, such as weight_kpa.
func (t *SystemTraits) Source(name string) (source string, c Confidence, ok bool) {
	for i, q := range quantities {
		if q.name == name {
			return t.citations[i].source, t.citations[i].confidence, true
		}
	}
	return "", 0, false
}
