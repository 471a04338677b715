package hazard

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Tolerances: a table read at a node is exact to 1e-9; numbers printed with four
// digits are compared to half a unit of the last, 5e-5, or 1e-4 relative.

func TestASCE7SiteCoefficients(t *testing.T) {
	// ASCE 7-16 Tables 11.4-1, 11.4-2, 11.8-1 and 11.9-1, and 7-10 Tables 11.4-1
	// and 11.4-2, as the public test fixtures of the USGS design web service have
	// them. Class E at SS >= 1.0 is left out: the table refers to 11.4.8 there.
	// Rows are read at their columns and once beyond each end.
	for _, c := range []struct {
		table *siteTable
		class ASCE7Class
		row   []float64
	}{
		{&fa16, ASCE7A, []float64{0.8, 0.8, 0.8, 0.8, 0.8, 0.8}},
		{&fa16, ASCE7B, []float64{0.9, 0.9, 0.9, 0.9, 0.9, 0.9}},
		{&fa16, ASCE7BEstimated, []float64{1, 1, 1, 1, 1, 1}},
		{&fa16, ASCE7C, []float64{1.3, 1.3, 1.2, 1.2, 1.2, 1.2}},
		{&fa16, ASCE7D, []float64{1.6, 1.4, 1.2, 1.1, 1.0, 1.0}},
		{&fa16, ASCE7DDefault, []float64{1.6, 1.4, 1.2, 1.2, 1.2, 1.2}},
		{&fa16, ASCE7E, []float64{2.4, 1.7, 1.3}},
		{&fv16, ASCE7A, []float64{0.8, 0.8, 0.8, 0.8, 0.8, 0.8}},
		{&fv16, ASCE7B, []float64{0.8, 0.8, 0.8, 0.8, 0.8, 0.8}},
		{&fv16, ASCE7BEstimated, []float64{1, 1, 1, 1, 1, 1}},
		{&fv16, ASCE7C, []float64{1.5, 1.5, 1.5, 1.5, 1.5, 1.4}},
		{&fv16, ASCE7D, []float64{2.4, 2.2, 2.0, 1.9, 1.8, 1.7}},
		{&fv16, ASCE7DDefault, []float64{2.4, 2.2, 2.0, 1.9, 1.8, 1.7}},
		{&fv16, ASCE7E, []float64{4.2, 3.3, 2.8, 2.4, 2.2, 2.0}}, // Supplement 1 (2018)
		{&fpga16, ASCE7A, []float64{0.8, 0.8, 0.8, 0.8, 0.8, 0.8}},
		{&fpga16, ASCE7B, []float64{0.9, 0.9, 0.9, 0.9, 0.9, 0.9}},
		{&fpga16, ASCE7C, []float64{1.3, 1.2, 1.2, 1.2, 1.2, 1.2}},
		{&fpga16, ASCE7D, []float64{1.6, 1.4, 1.3, 1.2, 1.1, 1.1}},
		{&fpga16, ASCE7E, []float64{2.4, 1.9, 1.6, 1.4, 1.2, 1.1}},
		{&fa10, ASCE7A, []float64{0.8, 0.8, 0.8, 0.8, 0.8}},
		{&fa10, ASCE7B, []float64{1, 1, 1, 1, 1}},
		{&fa10, ASCE7C, []float64{1.2, 1.2, 1.1, 1.0, 1.0}},
		{&fa10, ASCE7D, []float64{1.6, 1.4, 1.2, 1.1, 1.0}},
		{&fa10, ASCE7E, []float64{2.5, 1.7, 1.2, 0.9, 0.9}},
		{&fv10, ASCE7A, []float64{0.8, 0.8, 0.8, 0.8, 0.8}},
		{&fv10, ASCE7B, []float64{1, 1, 1, 1, 1}},
		{&fv10, ASCE7C, []float64{1.7, 1.6, 1.5, 1.4, 1.3}},
		{&fv10, ASCE7D, []float64{2.4, 2.0, 1.8, 1.6, 1.5}},
		{&fv10, ASCE7E, []float64{3.5, 3.2, 2.8, 2.4, 2.4}},
		{&cv16, ASCE7A, []float64{0.7, 0.8, 0.9, 0.9, 0.9}},
		{&cv16, ASCE7B, []float64{0.7, 0.8, 0.9, 0.9, 0.9}},
		{&cv16, ASCE7C, []float64{0.7, 0.8, 1.0, 1.1, 1.3}},
		{&cv16, ASCE7D, []float64{0.7, 0.9, 1.1, 1.3, 1.5}},
		{&cv16, ASCE7E, []float64{0.7, 0.9, 1.1, 1.3, 1.5}},
	} {
		for i, want := range c.row {
			assert.InDelta(t, want, c.table.value(c.class, c.table.at[i]), 1e-9, "class %s, column %d",
				c.class, i)
		}
		assert.InDelta(t, c.row[0], c.table.value(c.class, 0.01), 1e-9)
		if len(c.row) == len(c.table.at) {
			assert.InDelta(t, c.row[len(c.row)-1], c.table.value(c.class, 9), 1e-9)
		}
	}
	for table, at := range map[*siteTable][]float64{
		&fa16: {0.25, 0.50, 0.75, 1.00, 1.25, 1.50}, &fa10: {0.25, 0.50, 0.75, 1.00, 1.25},
		&cv16: {0.2, 0.3, 0.6, 1.0, 2.0},
		&fv16: {0.1, 0.2, 0.3, 0.4, 0.5, 0.6}, &fv10: {0.1, 0.2, 0.3, 0.4, 0.5},
		&fpga16: {0.1, 0.2, 0.3, 0.4, 0.5, 0.6},
	} {
		assert.Equal(t, at, table.at)
	}
}

func TestASCE7Values(t *testing.T) {
	// Numbers computed by hand from ASCE 7-16 Tables 11.4-1 and 11.4-2.
	for _, c := range []struct {
		class                            ASCE7Class
		ss, s1, fa, fv, sds, sd1, t0, ts float64
	}{
		{ASCE7C, 0.60, 0.24, 1.26, 1.50, 0.504, 0.240, 0.0952, 0.4762},
		{ASCE7D, 1.02, 0.35, 1.092, 1.95, 0.7426, 0.4550, 0.1225, 0.6127},
		{ASCE7C, 1.42, 0.41, 1.2, 1.5, 1.136, 0.410, 0.0722, 0.3609},
		{ASCE7D, 0.31, 0.11, 1.552, 2.38, 0.3207, 0.1745, 0.1088, 0.5441},
	} {
		v, err := ASCE7(ASCE716, c.class, c.ss, c.s1)
		require.NoError(t, err)
		assert.InDelta(t, c.fa, v.Fa, 1e-9)
		assert.InDelta(t, c.fv, v.Fv, 1e-9)
		assert.InDelta(t, c.sds, v.SDS, 5e-5)
		assert.InDelta(t, c.sd1, v.SD1, 5e-5)
		assert.InDelta(t, 1.5*c.sds, v.SMS, 8e-5)
		var s Spectrum
		require.NoError(t, TwoPeriod(&s, v.SDS, v.SD1, 8))
		assert.InDelta(t, c.t0, s.TB, 6e-5)
		assert.InDelta(t, c.ts, s.TC, 6e-5)
	}
}

func TestASCE7AgainstDesignMaps(t *testing.T) {
	// USGS design web service, public test fixtures, printed to 0.001 g.
	for _, c := range []struct {
		place    string
		edition  ASCE7Edition
		class    ASCE7Class
		ss, s1   float64
		sms, sm1 float64
	}{
		{"Boise, class A", ASCE716, ASCE7A, 0.306, 0.110, 0.245, 0.088},
		{"Boise, class B estimated", ASCE716, ASCE7BEstimated, 0.309, 0.110, 0.309, 0.110},
		{"Century City, class B", ASCE710, ASCE7B, 2.194, 0.815, 2.194, 0.815},
		{"Memphis, class B estimated", ASCE716, ASCE7BEstimated, 1.023, 0.347, 1.023, 0.347},
		{"Memphis, class B", ASCE710, ASCE7B, 1.010, 0.351, 1.010, 0.351},
		{"Memphis, class B, 2005", ASCE710, ASCE7B, 1.393, 0.379, 1.393, 0.379},
		{"Century City, class B estimated", ASCE716, ASCE7BEstimated, 2.064, 0.738, 2.064, 0.738},
		{"Century City, class B, 2005", ASCE710, ASCE7B, 1.884, 0.641, 1.884, 0.641},
		{"Boise, class B", ASCE710, ASCE7B, 0.311, 0.106, 0.311, 0.106},
		{"Arecibo, class B estimated", ASCE716, ASCE7BEstimated, 1.119, 0.434, 1.119, 0.434},
		// NEHRP 2015, the same tables
		{"Chicago, class B estimated", ASCE716, ASCE7BEstimated, 0.117, 0.063, 0.117, 0.063},
		{"Vallejo, class B estimated", ASCE716, ASCE7BEstimated, 1.560, 0.600, 1.560, 0.600},
		{"Kailua-Kona, class B estimated", ASCE716, ASCE7BEstimated, 1.920, 0.880, 1.920, 0.880},
	} {
		v, err := ASCE7(c.edition, c.class, c.ss, c.s1)
		require.NoError(t, err)
		assert.InDelta(t, c.sms, v.SMS, 1e-3, c.place)
		assert.InDelta(t, c.sm1, v.SM1, 1e-3, c.place)
	}
	// Boise: PGAM 0.136 g for class B estimated, whose coefficient is 1.0, and
	// 0.108 g for class A.
	assert.InDelta(t, 0.136, ASCE7PGAM(ASCE716, ASCE7BEstimated, 0.136), 1e-9)
	assert.InDelta(t, 0.108, ASCE7PGAM(ASCE716, ASCE7A, 0.136), 1e-3)
	assert.InDelta(t, 0.122, ASCE7PGAM(ASCE710, ASCE7B, 0.122), 1e-9)
	// Memphis, Century City, Chicago, Vallejo, Kailua-Kona
	for _, pgam := range []float64{0.611, 0.885, 0.059, 0.639, 1.027} {
		assert.InDelta(t, pgam, ASCE7PGAM(ASCE716, ASCE7BEstimated, pgam), 1e-9)
	}
}

func TestTwoPeriodSpectrum(t *testing.T) {
	// USGS design web service, spectrum fixture, printed to four digits.
	var s Spectrum
	require.NoError(t, TwoPeriod(&s, 1.5384, 0.8248, 4))
	for _, p := range [][2]float64{
		{0, 0.6154}, {0.05, 1.0458}, {0.10, 1.4762}, {0.3, 1.5384},
		{0.55, 1.4996}, {1.0, 0.8248}, {2.0, 0.4124},
	} {
		assert.InDelta(t, p[1], s.Sa(p[0]), 5e-5, "at %g s", p[0])
	}
	// ASCE 7-16 Eq. 11.4-7 beyond TL.
	assert.InEpsilon(t, 0.8248*4/36, s.Sa(6), 1e-12)
	assert.ErrorContains(t, TwoPeriod(&s, 0.1, 0.5, 4), "below TL")
	assert.Error(t, TwoPeriod(&s, -1, 0.5, 4))
}

func TestASCE7StudyNeeded(t *testing.T) {
	// ASCE 7-16 11.4.8, conditions 2 and 3.
	for _, c := range []struct {
		edition ASCE7Edition
		class   ASCE7Class
		ss, s1  float64
		want    Status
	}{
		{ASCE716, ASCE7E, 1.0, 0.1, StudyNeeded},
		{ASCE716, ASCE7E, 0.99, 0.19, 0},
		{ASCE716, ASCE7E, 0.5, 0.2, StudyNeeded},
		{ASCE716, ASCE7D, 2.0, 0.19, 0},
		{ASCE716, ASCE7D, 0.5, 0.2, StudyNeeded},
		{ASCE716, ASCE7DDefault, 0.5, 0.2, StudyNeeded},
		{ASCE716, ASCE7C, 2.0, 0.9, 0},
		{ASCE710, ASCE7E, 2.0, 0.9, 0}, // the rule is new in 2016
	} {
		v, err := ASCE7(c.edition, c.class, c.ss, c.s1)
		require.NoError(t, err)
		assert.Equal(t, c.want, v.Status, "class %s, SS %g, S1 %g", c.class, c.ss, c.s1)
	}
	assert.True(t, IsolationStudyNeeded(0.6))
	assert.False(t, IsolationStudyNeeded(0.59))
}

func TestASCE7ClassOf(t *testing.T) {
	for _, c := range []struct {
		letter   SiteClass
		measured bool
		want     ASCE7Class
		status   Status
	}{
		{'A', false, ASCE7A, 0}, {'B', true, ASCE7B, 0}, {'B', false, ASCE7BEstimated, 0},
		{'C', false, ASCE7C, 0},
		{'D', true, ASCE7D, 0}, {'D', false, ASCE7DDefault, 0}, {'E', false, ASCE7E, 0},
		{0, false, ASCE7DDefault, AssumedClass},
	} {
		got, status, err := ASCE7ClassOf(c.letter, c.measured)
		require.NoError(t, err)
		assert.Equal(t, c.want, got)
		assert.Equal(t, c.status, status)
	}
	_, _, err := ASCE7ClassOf('F', true)
	assert.ErrorContains(t, err, "site response analysis")
	_, err = ASCE7(ASCE716, ASCE7C, 0, 0.2)
	assert.ErrorContains(t, err, "must be positive")
	_, err = ASCE7(ASCE716, ASCE7Class(99), 1, 0.2)
	assert.ErrorContains(t, err, "no site coefficients")
	assert.Equal(t, "D by default", ASCE7DDefault.String())
	assert.Equal(t, "no class", ASCE7Class(99).String())
}

func TestASCE7Vertical(t *testing.T) {
	// ASCE 7-16 11.9.2 by hand: Cv 1.3 and SMS 1.2 give a plateau of 1.248 g.
	var h Spectrum
	require.NoError(t, TwoPeriod(&h, 1.2, 0.6, 8))
	assert.InDelta(t, 0.468, ASCE7Vertical(0.02, 1.3, 1.2, &h), 1e-9)
	assert.InDelta(t, 1.248, ASCE7Vertical(0.05, 1.3, 1.2, &h), 1e-9)
	assert.InDelta(t, 1.248, ASCE7Vertical(0.15, 1.3, 1.2, &h), 1e-9)
	assert.InDelta(t, 1.248*0.5946036, ASCE7Vertical(0.30, 1.3, 1.2, &h), 1e-6)
	assert.InDelta(t, 0.6, ASCE7Vertical(0.40, 0.7, 1.2, &h), 1e-9, "half the horizontal ordinate governs")
	assert.InDelta(t, 1.3, ASCE7Cv(ASCE7D, 1.0), 1e-9)
}
