package hazard

// A siteTable is a table of site coefficients: a row for each class, a column
// for each value of the mapped acceleration in g.
type siteTable struct {
	at   []float64
	rows [asce7Classes][]float64
}

// value returns the coefficient of class c at mapped acceleration x in g.
func (t *siteTable) value(c ASCE7Class, x float64) float64 {
	return interpolate(t.at, t.rows[c], x)
}

// level returns a row of n equal coefficients.
func level(v float64, n int) []float64 {
	row := make([]float64, n)
	for i := range row {
		row[i] = v
	}
	return row
}

// fa16 is Fa of ASCE 7-16 Table 11.4-1 by SS. Class B without measured shear
// wave velocity takes 1.0 (11.4.3); class D by default takes at least 1.2
// (11.4.4). For class E at SS >= 1.0 the table refers to 11.4.8, whose exception
// 1 allows the coefficient of class C, 1.2; it is used here together with
// StudyNeeded.
var fa16 = siteTable{
	at: []float64{0.25, 0.50, 0.75, 1.00, 1.25, 1.50},
	rows: [asce7Classes][]float64{
		ASCE7A:          level(0.8, 6),
		ASCE7B:          level(0.9, 6),
		ASCE7BEstimated: level(1.0, 6),
		ASCE7C:          {1.3, 1.3, 1.2, 1.2, 1.2, 1.2},
		ASCE7D:          {1.6, 1.4, 1.2, 1.1, 1.0, 1.0},
		ASCE7DDefault:   {1.6, 1.4, 1.2, 1.2, 1.2, 1.2},
		ASCE7E:          {2.4, 1.7, 1.3, 1.2, 1.2, 1.2},
	},
}

// fv16 is Fv of ASCE 7-16 Table 11.4-2 by S1. For class E at S1 >= 0.2 the table
// refers to 11.4.8; the values here are those of its Supplement 1 (2018), the
// same as in the 2015 NEHRP provisions, and come with StudyNeeded.
var fv16 = siteTable{
	at: []float64{0.1, 0.2, 0.3, 0.4, 0.5, 0.6},
	rows: [asce7Classes][]float64{
		ASCE7A:          level(0.8, 6),
		ASCE7B:          level(0.8, 6),
		ASCE7BEstimated: level(1.0, 6),
		ASCE7C:          {1.5, 1.5, 1.5, 1.5, 1.5, 1.4},
		ASCE7D:          {2.4, 2.2, 2.0, 1.9, 1.8, 1.7},
		ASCE7DDefault:   {2.4, 2.2, 2.0, 1.9, 1.8, 1.7},
		ASCE7E:          {4.2, 3.3, 2.8, 2.4, 2.2, 2.0},
	},
}

// fpga16 is FPGA of ASCE 7-16 Table 11.8-1 by the mapped MCEG peak ground
// acceleration. Class D by default takes at least 1.2 (11.8.3) and class B
// without measured shear wave velocity 1.0.
var fpga16 = siteTable{
	at: []float64{0.1, 0.2, 0.3, 0.4, 0.5, 0.6},
	rows: [asce7Classes][]float64{
		ASCE7A:          level(0.8, 6),
		ASCE7B:          level(0.9, 6),
		ASCE7BEstimated: level(1.0, 6),
		ASCE7C:          {1.3, 1.2, 1.2, 1.2, 1.2, 1.2},
		ASCE7D:          {1.6, 1.4, 1.3, 1.2, 1.1, 1.1},
		ASCE7DDefault:   {1.6, 1.4, 1.3, 1.2, 1.2, 1.2},
		ASCE7E:          {2.4, 1.9, 1.6, 1.4, 1.2, 1.1},
	},
}

// fa10 is Fa of ASCE 7-05 and 7-10 Table 11.4-1 and ASCE 41-13 Table 2-3, by SS. These editions
// do not distinguish measured velocities or a class by default.
var fa10 = siteTable{
	at: []float64{0.25, 0.50, 0.75, 1.00, 1.25},
	rows: [asce7Classes][]float64{
		ASCE7A:          level(0.8, 5),
		ASCE7B:          level(1.0, 5),
		ASCE7BEstimated: level(1.0, 5),
		ASCE7C:          {1.2, 1.2, 1.1, 1.0, 1.0},
		ASCE7D:          {1.6, 1.4, 1.2, 1.1, 1.0},
		ASCE7DDefault:   {1.6, 1.4, 1.2, 1.1, 1.0},
		ASCE7E:          {2.5, 1.7, 1.2, 0.9, 0.9},
	},
}

// fv10 is Fv of ASCE 7-05 and 7-10 Table 11.4-2 and ASCE 41-13 Table 2-4, by S1.
var fv10 = siteTable{
	at: []float64{0.1, 0.2, 0.3, 0.4, 0.5},
	rows: [asce7Classes][]float64{
		ASCE7A:          level(0.8, 5),
		ASCE7B:          level(1.0, 5),
		ASCE7BEstimated: level(1.0, 5),
		ASCE7C:          {1.7, 1.6, 1.5, 1.4, 1.3},
		ASCE7D:          {2.4, 2.0, 1.8, 1.6, 1.5},
		ASCE7DDefault:   {2.4, 2.0, 1.8, 1.6, 1.5},
		ASCE7E:          {3.5, 3.2, 2.8, 2.4, 2.4},
	},
}

// fpga10 is FPGA of ASCE 7-10 Table 11.8-1 by the mapped MCEG peak ground
// acceleration: the coefficients of fa10 at other columns (from memory).
var fpga10 = siteTable{at: []float64{0.1, 0.2, 0.3, 0.4, 0.5}, rows: fa10.rows}

// cv16 is the vertical coefficient Cv of ASCE 7-16 Table 11.9-1 by SS.
var cv16 = siteTable{
	at: []float64{0.2, 0.3, 0.6, 1.0, 2.0},
	rows: [asce7Classes][]float64{
		ASCE7A:          {0.7, 0.8, 0.9, 0.9, 0.9},
		ASCE7B:          {0.7, 0.8, 0.9, 0.9, 0.9},
		ASCE7BEstimated: {0.7, 0.8, 0.9, 0.9, 0.9},
		ASCE7C:          {0.7, 0.8, 1.0, 1.1, 1.3},
		ASCE7D:          {0.7, 0.9, 1.1, 1.3, 1.5},
		ASCE7DDefault:   {0.7, 0.9, 1.1, 1.3, 1.5},
		ASCE7E:          {0.7, 0.9, 1.1, 1.3, 1.5},
	},
}
