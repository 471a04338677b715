package demand

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/hazard"
)

// The worked cases are prototype values, not published. They were printed to six
// digits by one program and reproduced by another, so half a unit of the sixth
// digit, 5e-6 relative, is all that may differ.
const printed = 5e-6

// same checks one value printed to six digits.
func same(t *testing.T, want, got float64, what string) {
	t.Helper()
	assert.InEpsilon(t, want, got, printed, what)
}

func sameAll(t *testing.T, want, got []float64, what string) {
	t.Helper()
	require.Len(t, got, len(want), what)
	for i := range want {
		same(t, want[i], got[i], what)
	}
}

// Prototype values, not published: case 1.
func TestWorkedOneStoreyAsIs(t *testing.T) {
	var w Work
	var out Response
	w.AsIs(oneStorey(t), workedSpectrum(1), &out)
	tr := &w.Trace
	assert.Zero(t, out.Status)
	same(t, 0.314159, tr.Modes[0].Period, "T1")
	same(t, 8.80817, tr.Modes[0].Sa, "Sa1")
	same(t, 0.0220204, tr.Modes[0].Sd, "Sd1")
	same(t, 0.340593, tr.YieldFraction, "s")
	same(t, 2.93606, tr.StrengthRatio, "mu")
	same(t, 1.21492, tr.C, "C")
	same(t, 2.93606, tr.Overload[0], "rho")
	same(t, 0.897891, tr.HigherFactor, "h")
	same(t, 0.403505, tr.FirstFactor, "q")
	same(t, 0.164852, tr.PhaseAccel, "ra")
	same(t, 0.659407, tr.PhaseShear, "rv")
	same(t, 3.5316, tr.MissingMass, "Sm")
	same(t, 0.0267531, tr.Pushed[0], "p")
	same(t, 0.0267531, out.Roof, "roof")
	sameAll(t, []float64{0.0267531}, out.Drift, "drift")
	sameAll(t, []float64{3.55414}, out.Accel, "acceleration")
	same(t, 3.55414, out.PeakAccel, "peak acceleration")
	same(t, 3.23104, out.BaseShear, "base shear")
}

// Prototype values, not published: case 2.
func TestWorkedThreeStoreysAsIs(t *testing.T) {
	var w Work
	var out Response
	w.AsIs(threeStoreys(t), workedSpectrum(1), &out)
	tr := &w.Trace
	assert.Zero(t, out.Status)
	for j, want := range [][5]float64{ // T, Gamma, roof minus ground floor ordinate, Sa, Sd
		{0.437577, 1.26892, 0.353821, 8.80817, 0.0427204},
		{0.172318, -0.32421, -1.03317, 8.80817, 0.00662499},
		{0.113505, 0.0552889, 3.90792, 7.53069, 0.00245757},
	} {
		m := &tr.Modes[j]
		same(t, want[0], m.Period, "T")
		same(t, want[1], m.Gamma, "Gamma")
		same(t, want[2], m.Shape[0], "phi")
		same(t, want[3], m.Sa, "Sa")
		same(t, want[4], m.Sd, "Sd")
	}
	sameAll(t, []float64{0.0191802, 0.0190616, 0.015967}, tr.First, "d")
	sameAll(t, []float64{0.00228178, 0.00103081, 0.0041227}, tr.Higher, "dh")
	same(t, 0.260685, tr.YieldFraction, "s")
	same(t, 3.83604, tr.StrengthRatio, "mu")
	same(t, 1.1121, tr.C, "C")
	sameAll(t, []float64{3.86309, 3.8179, 3.60732}, tr.Overload, "rho")
	same(t, 0.6, tr.Share, "e")
	for i, raw := range []float64{0.0191802, 0.0184005, 0.0130008} {
		assert.InEpsilon(t, raw/0.0505815, tr.Weight[i], 1e-5, "sg, from two printed numbers")
	}
	sameAll(t, []float64{0.0263638, 0.0252014, 0.00872022}, tr.Pushed, "p")
	same(t, 0.874202, tr.HigherFactor, "h")
	same(t, 0.343473, tr.FirstFactor, "q")
	same(t, 0.184829, tr.PhaseAccel, "ra")
	same(t, 0.739315, tr.PhaseShear, "rv")
	same(t, 0.0602854, out.Roof, "roof")
	same(t, 0.0461539, out.Roof-tr.YieldFraction*out.Roof/tr.C, "plastic roof displacement")
	sameAll(t, []float64{0.0324584, 0.0315843, 0.0204176}, out.Drift, "drift")
	sameAll(t, []float64{3.24359, 3.72646, 4.59373}, out.Accel, "acceleration")
	same(t, 4.59373, out.PeakAccel, "peak acceleration")
	same(t, 6.9885, out.BaseShear, "base shear")
	same(t, 0.0324584/3, out.DriftRatio, "drift over 3 m")
}

// Prototype values, not published: case 3. The listing stopped its bisection at
// 0.2 %, hence 5e-4; the converged root is checked to 1e-4.
func TestWorkedLeadRubber(t *testing.T) {
	var w Work
	var fixed, out Response
	st, sp := threeStoreys(t), workedSpectrum(1)
	w.AsIs(st, sp, &fixed)
	d := Isolation{
		Kind: LeadRubber, Qd: 2.3544, K1: 201.42, K2: 20.142, BaseMass: 1, Reduction: hazard.ReductionIsolation,
	}
	w.Isolated(st, sp, d, &fixed, &out)
	tr := &w.Trace.Isolated
	assert.Zero(t, out.Status)
	same(t, 0.0129878, tr.System.Dy, "Dy")
	for _, v := range []struct {
		what      string
		want, got float64
	}{
		{"D", 0.137193, out.Displacement}, {"Te", 2.05748, out.Period}, {"b", 0.265149, out.Damping},
		{"Ke", 37.3033, tr.Equilibrium.Stiffness}, {"Vb", 5.11774, out.BaseShear}, {"Vst", 4.64471, tr.FrameShear},
		{"k", 1.62432, tr.Exponent}, {"DCR", 0.861175, out.Ductility}, {"eps", 0.0452311, tr.Separation},
		{"shear 1", 4.64471, tr.StoreyShear[0]}, {"shear 2", 4.18207, tr.StoreyShear[1]}, {"shear 3", 2.75576, tr.StoreyShear[2]},
		{"drift 1", 0.00387059, out.Drift[0]}, {"drift 2", 0.00418207, out.Drift[1]}, {"drift 3", 0.0039368, out.Drift[2]},
		{"a1 0", 1.24272, tr.First[0]}, {"a1 1", 1.26795, tr.First[1]}, {"a1 2", 1.29303, tr.First[2]}, {"a1 3", 1.31404, tr.First[3]},
		{"A 1", 1.09079, tr.Kick[0]}, {"A 2", 0.626637, tr.Kick[1]}, {"A 3", 0.430719, tr.Kick[2]}, {"cap", 14.4634, tr.Cap},
		{"base", 2.25397, out.BaseAccel}, {"floor 1", 1.66433, out.Accel[0]}, {"floor 2", 1.68351, out.Accel[1]}, {"floor 3", 2.29407, out.Accel[2]},
		{"peak", 2.29407, out.PeakAccel},
	} {
		assert.InEpsilon(t, v.want, v.got, 5e-4, v.what)
	}
	assert.InEpsilon(t, 0.137176, out.Displacement, 1e-4, "D converged")
	assert.InEpsilon(t, 5.1174, out.BaseShear, 1e-4, "Vb converged")
	assert.InEpsilon(t, 2.2940, out.PeakAccel, 1e-4, "peak acceleration converged")
}

// Prototype values, not published: case 4a, with the tolerances of case 3.
func TestWorkedSlider(t *testing.T) {
	var w Work
	var fixed, out Response
	st, sp := oneStorey(t), workedSpectrum(1)
	w.AsIs(st, sp, &fixed)
	d := Isolation{
		Kind: Slider, Qd: 1.1772, K1: 1185.97298, K2: 8.77298, BaseMass: 1, Reduction: hazard.ReductionIsolation,
	}
	w.Isolated(st, sp, d, &fixed, &out)
	tr := &w.Trace.Isolated
	assert.Zero(t, out.Status)
	same(t, 0.001, tr.System.Dy, "Dy")
	for _, v := range []struct {
		what      string
		want, got float64
	}{
		{"D", 0.128087, out.Displacement}, {"Te", 2.09651, out.Period}, {"b", 0.323168, out.Damping},
		{"Ke", 17.9636, tr.Equilibrium.Stiffness}, {"Vb", 2.3009, out.BaseShear}, {"Vst", 2.01408, tr.FrameShear},
		{"k", 1.42137, tr.Exponent}, {"DCR", 0.671359, out.Ductility}, {"eps", 0.0224545, tr.Separation},
		{"drift", 0.00503519, out.Drift[0]}, {"a1 0", 1.13768, tr.First[0]}, {"a1 1", 1.16322, tr.First[1]},
		{"A 1", 1.30709, tr.Kick[0]}, {"cap", 11.0363, tr.Cap}, {"base", 2.17055, out.BaseAccel}, {"floor", 2.18405, out.Accel[0]},
	} {
		assert.InEpsilon(t, v.want, v.got, 5e-4, v.what)
	}
	assert.InEpsilon(t, 0.128058, out.Displacement, 1e-4, "D converged")
	assert.InEpsilon(t, 2.30065, out.BaseShear, 1e-4, "Vb converged")
	assert.InEpsilon(t, 2.1839, out.PeakAccel, 1e-4, "peak acceleration converged")
}

// Prototype values, not published: case 5b.
func TestWorkedNonlinearViscous(t *testing.T) {
	var w Work
	var out Response
	st, sp := threeStoreys(t), workedSpectrum(1)
	reference := st.Modes.Gamma[0] * displacementOf(sp.Sa(st.Modes.Period[0])*hazard.Gravity, st.Modes.Period[0])
	w.Viscous(st, sp, Viscous{Alpha: 0.5, Damping: 0.15, ReferenceRoof: reference}, &out)
	tr := &w.Trace
	assert.Zero(t, out.Status)
	require.Equal(t, 4, tr.PassCount)
	for i, want := range [][4]float64{
		{0.054337, 0.1725, 0.982575, 0.0333376},
		{0.0274202, 0.24283, 0.971764, 0.0293451},
		{0.0301523, 0.231567, 0.973018, 0.0299013},
		{0.0298015, 0.232926, 0.972859, 0.0298328},
	} {
		p := &tr.Passes[i]
		sameAll(t, want[:], []float64{p.Amplitude, p.Added, p.C, p.Roof}, "pass")
	}
	for j, want := range [][3]float64{
		{0.282926, 4.98265, 0.0241663}, {0.35, 4.51306, 0.00339446}, {0.35, 5.58062, 0.00182118},
	} {
		m := &tr.Modes[j]
		sameAll(t, want[:], []float64{m.Damping, m.Sa, m.Sd}, "mode")
	}
	sameAll(t, []float64{0.01085, 0.0107829, 0.00903226}, tr.First, "d")
	sameAll(t, []float64{0.00120319, 0.000748222, 0.00213622}, tr.Higher, "dh")
	sameAll(t, []float64{2.18329, 2.16176, 2.03032}, tr.Overload, "rho")
	sameAll(t, []float64{0.0114627, 0.0112117, 0.00715839}, tr.Pushed, "p")
	sameAll(t, []float64{1.06318, 0.623771, 0.925453, 0.571431, 0.418617, 0.134792, 0.539169},
		[]float64{tr.Evenness, tr.Share, tr.HigherFactor, tr.FirstFactor, tr.DamperForce, tr.PhaseAccel, tr.PhaseShear}, "factors")
	same(t, 0.0298328, out.Roof, "roof")
	sameAll(t, []float64{0.0137973, 0.0135507, 0.0104686}, out.Drift, "drift")
	sameAll(t, []float64{2.57152, 3.75671, 4.98961}, out.Accel, "acceleration")
	same(t, 10.3899, out.BaseShear, "base shear")
}

// Prototype values, not published: case 6.
func TestWorkedYielding(t *testing.T) {
	var w Work
	var out Response
	st := threeStoreys(t)
	w.Yielding(st, workedSpectrum(1), Yielding{Stiffness: []float64{1200, 1000, 700}, Force: []float64{2.4, 2.0, 1.3}}, &out)
	tr := &w.Trace
	assert.Zero(t, out.Status)
	require.Equal(t, 4, tr.PassCount)
	for i, want := range [][7]float64{ // ED, ES, b_h, T1, s, C, roof
		{0.0110286, 0.0156893, 0.027969, 0.320896, 0.390968, 1.10548, 0.0300602},
		{0.0669143, 0.0487857, 0.0213367, 0.350455, 0.381445, 1.07234, 0.0356549},
		{0.0669143, 0.0487857, 0.020817, 0.350455, 0.380685, 1.07297, 0.035748},
		{0.0669143, 0.0487857, 0.0207755, 0.350455, 0.380624, 1.07303, 0.0357554},
	} {
		p := &tr.Passes[i]
		sameAll(t, want[:], []float64{p.Dissipated, p.Stored, p.Added, p.Period, p.YieldFraction, p.C, p.Roof}, "pass")
	}
	for j, want := range [][5]float64{
		{0.350455, 1.26858, 0.0707755, 8.44323, 0.0262672},
		{0.138009, -0.32421, 0.0707755, 7.97062, 0.00384545},
		{0.0909062, 0.0552889, 0.0707755, 6.45557, 0.00135133},
	} {
		m := &tr.Modes[j]
		sameAll(t, want[:], []float64{m.Period, m.Gamma, m.Damping, m.Sa, m.Sd}, "mode")
	}
	sameAll(t, []float64{0.354218, 0.706206, 1}, tr.Modes[0].Shape, "phi")
	sameAll(t, []float64{1869.73, 1558.11, 1094.08}, tr.Stiffness, "K")
	sameAll(t, []float64{8.4, 7, 4.5}, tr.Strength, "V")
	sameAll(t, []float64{36, 30, 21}, tr.PostYield, "kr")
	same(t, 0.71357, tr.Degrading, "cl")
	sameAll(t, []float64{0.0118033, 0.011729, 0.00978984}, tr.First, "d")
	sameAll(t, []float64{0.00132077, 0.000569323, 0.00239045}, tr.Higher, "dh")
	sameAll(t, []float64{2.64366, 2.61379, 2.45013}, tr.Overload, "rho")
	sameAll(t, []float64{0.0166904, 0.015144, 0.00392104}, tr.Pushed, "p")
	sameAll(t, []float64{0.907924, 0.481675, 0.154844, 0.619376}, []float64{tr.HigherFactor, tr.FirstFactor, tr.PhaseAccel, tr.PhaseShear}, "factors")
	same(t, 0.0357554, out.Roof, "roof")
	sameAll(t, []float64{0.019418, 0.0186371, 0.00953304}, out.Drift, "drift")
	sameAll(t, []float64{3.28929, 4.35028, 5.67687}, out.Accel, "acceleration")
	same(t, 8.93731, out.BaseShear, "base shear")
}

// Prototype values, not published: case 7.
func TestWorkedTunedMass(t *testing.T) {
	var w Work
	var out Response
	w.TunedMass(threeStoreys(t), workedSpectrum(1), TunedMass{Mass: 0.15}, &out)
	tr := &w.Trace
	assert.Zero(t, out.Status)
	sameAll(t, []float64{0.0602854, 4.26605, 0.0924297, 0.0752934},
		[]float64{tr.TunedMass.FirstRoof, tr.TunedMass.Ductility, tr.TunedMass.Ratio, tr.TunedMass.Effect}, "first pass")
	sameAll(t, []float64{0.0528614, 8.68534, 0.0421246}, []float64{tr.Modes[0].Damping, tr.Modes[0].Sa, tr.Modes[0].Sd}, "mode 1")
	sameAll(t, []float64{0.0189127, 0.0187958, 0.0157443}, tr.First, "d")
	sameAll(t, []float64{0.264372, 3.78255, 1.10531}, []float64{tr.YieldFraction, tr.StrengthRatio, tr.C}, "ratios")
	sameAll(t, []float64{0.025938, 0.0247782, 0.00836576}, tr.Pushed, "p")
	sameAll(t, []float64{0.87543, 0.34752, 0.183907, 0.735628}, []float64{tr.HigherFactor, tr.FirstFactor, tr.PhaseAccel, tr.PhaseShear}, "factors")
	same(t, 0.0590819, out.Roof, "roof")
	sameAll(t, []float64{0.0317954, 0.030927, 0.0198369}, out.Drift, "drift")
	sameAll(t, []float64{3.24603, 3.72436, 4.58822}, out.Accel, "acceleration")
	same(t, 6.96463, out.BaseShear, "base shear")
}
