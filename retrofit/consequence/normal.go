package consequence

import "math"

// farTail is the number of standard deviations beyond which the normal distribution counts as 0
// or 1 (probability 1e-9, far below the resolution of the tables).
const farTail = 6

// cellsPerSD is the number of cells of the table of normal for each standard deviation. The
// error of its cubics is below the largest third derivative of the density, 1.38, over 384
// cellsPerSD^4: 2e-10.
const cellsPerSD = 64

// cells holds for each cell the cubic through the normal distribution and its density at both
// ends, in the position t from 0 to 1 within the cell. A lookup is cheaper than math.Erfc,
// smooth and monotonic.
var cells = func() (c [2 * farTail * cellsPerSD][4]float64) {
	value := func(i int) (p, slope float64) {
		z := float64(i)/cellsPerSD - farTail
		return 0.5 * math.Erfc(-z/math.Sqrt2), math.Exp(-z*z/2) / math.Sqrt(2*math.Pi) / cellsPerSD
	}
	for i := range c {
		p0, m0 := value(i)
		p1, m1 := value(i + 1)
		c[i] = [4]float64{p0, m0, 3*(p1-p0) - 2*m0 - m1, 2*(p0-p1) + m0 + m1}
	}
	return c
}()

// normal returns the standard normal distribution function at z.
func normal(z float64) float64 {
	x := (z + farTail) * cellsPerSD
	switch {
	case x < 0:
		return 0
	case x < 2*farTail*cellsPerSD:
		i := int(x)
		t, c := x-float64(i), &cells[i]
		return c[0] + t*(c[1]+t*(c[2]+t*c[3]))
	case x >= 2*farTail*cellsPerSD:
		return 1
	}
	return z // NaN
}
