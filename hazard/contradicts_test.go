package hazard

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// A velocity beyond the bounds of ASCE 7-16 Table 20.3-1, EN 1998-1 Table 3.1 and NZS 1170.5
// 3.1.3 contradicts the letter. A class that does not depend on velocity is not contradicted.
func TestContradicts(t *testing.T) {
	for _, c := range []struct {
		standard SoilStandard
		class    SiteClass
		vs30     float64
		want     bool
	}{
		{SoilASCE7, 'D', 250, false}, {SoilASCE7, 'D', 50, true}, {SoilASCE7, 'D', 5000, true},
		{SoilASCE7, 'D', 361, true},
		{SoilASCE7, 'E', 250, false}, // 3 m of soft clay, 20.3.2
		{SoilASCE7, 'E', 400, true}, {SoilASCE7, 'F', 5000, false}, {SoilASCE7, 'D', math.NaN(), false},
		{SoilASCE7, 0, 250, false},
		{SoilEN1998, 'C', 250, false}, {SoilEN1998, 'D', 250, true}, {SoilEN1998, 'B', 900, true},
		{SoilEN1998, 'E', 300, false}, {SoilEN1998, 'E', 900, true},
		{SoilNZS1170, 'C', 190, false}, {SoilNZS1170, 'D', 300, false}, {SoilNZS1170, 'C', 500, false},
		{SoilNZS1170, 'C', 1600, true},
		{SoilNZS1170, 'D', 120, true}, {SoilNZS1170, 'B', 300, true},
		{SoilNZS1170, 'B', 1600, false}, {SoilNZS1170, 'A', 900, true},
		{SoilNZS1170, 'E', 250, false}, {SoilNZS1170, 'E', 500, true},
	} {
		assert.Equal(t, c.want, c.standard.Contradicts(c.class, c.vs30), "%s %s %g", c.standard, c.class,
			c.vs30)
	}
}

// The class that a standard gives a velocity never contradicts it.
func TestClassDoesNotContradictItself(t *testing.T) {
	for s := range SoilStandard(soilStandards) {
		for v := 10.0; v < 3000; v *= 1.02 {
			c, err := s.Class(v)
			assert.NoError(t, err)
			assert.False(t, s.Contradicts(c, v), "%s %s %g", s, c, v)
		}
	}
}
