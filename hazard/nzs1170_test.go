package hazard

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// nzs1170Table is NZS 1170.5:2004 Table 3.1, the column for modal analysis.
var nzs1170Table = struct {
	t  []float64
	ch map[SiteClass][]float64
}{
	[]float64{0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0, 1.5, 2.0, 2.5, 3.0, 3.5, 4.0, 4.5},
	map[SiteClass][]float64{
		'A': {1.00, 2.35, 2.35, 2.35, 1.89, 1.60, 1.40, 1.24, 1.12, 1.03, 0.95, 0.70, 0.53, 0.42, 0.35, 0.26,
			0.20, 0.16},
		'B': {1.00, 2.35, 2.35, 2.35, 1.89, 1.60, 1.40, 1.24, 1.12, 1.03, 0.95, 0.70, 0.53, 0.42, 0.35, 0.26,
			0.20, 0.16},
		'C': {1.33, 2.93, 2.93, 2.93, 2.36, 2.00, 1.74, 1.55, 1.41, 1.29, 1.19, 0.88, 0.66, 0.53, 0.44, 0.32,
			0.25, 0.20},
		'D': {1.12, 3.00, 3.00, 3.00, 3.00, 3.00, 2.84, 2.53, 2.29, 2.09, 1.93, 1.43, 1.07, 0.86, 0.71, 0.52,
			0.40, 0.32},
		'E': {1.12, 3.00, 3.00, 3.00, 3.00, 3.00, 3.00, 3.00, 3.00, 3.00, 3.00, 2.21, 1.66, 1.33, 1.11, 0.81,
			0.62, 0.49},
	},
}

func TestNZS1170Shape(t *testing.T) {
	for class, row := range nzs1170Table.ch {
		var s Spectrum
		require.NoError(t, NZS1170Site{Z: 1, R: 1, Class: class, FaultDistance: math.Inf(1)}.Fill(&s))
		for i, p := range nzs1170Table.t {
			c, err := NZS1170Site{Z: 1, R: 1, Class: class, FaultDistance: math.Inf(1)}.Elastic(p)
			require.NoError(t, err)
			assert.InDelta(t, row[i], c, 0.01, "class %s at %g s", class, p) // the table's last digit
			assert.InDelta(t, row[i], s.Sa(p), 0.01, "spectrum of class %s at %g s", class, p)
		}
	}
	_, err := NZS1170Site{Z: 1, R: 1, Class: 'F', FaultDistance: math.Inf(1)}.Elastic(1)
	assert.ErrorContains(t, err, "Table 3.1")
	// Table 3.1, the column for the equivalent static method: the coefficient of an
	// elastic building, Sp = kmu = 1, at a period below 0.4 s.
	for class, want := range map[SiteClass]float64{'A': 1.89, 'C': 2.36, 'D': 3.0, 'E': 3.0} {
		cd, err := NZS1170Site{Z: 1, R: 1, Class: class, FaultDistance: math.Inf(1)}.DesignCoefficient(0.1, 1)
		require.NoError(t, err)
		assert.InDelta(t, want, cd, 0.01)
	}
}

func TestNZS1170Site(t *testing.T) {
	far := math.Inf(1)
	// By hand from NZS 1170.5 3.1(1) and 5.2.1.1.
	c, err := NZS1170Site{0.40, 1, 'C', far}.Elastic(0.5)
	require.NoError(t, err)
	assert.InDelta(t, 0.800, c, 1e-4)
	c, err = NZS1170Site{1, 1, 'C', far}.Elastic(0.4)
	require.NoError(t, err)
	assert.InDelta(t, 2.3644, c, 5e-5)
	assert.InDelta(t, 2.1429, NZS1170Inelastic('C', 3, 0.4), 5e-5)
	assert.InDelta(t, 0.70, NZS1170Performance(3), 1e-12)
	assert.InDelta(t, 0.85, NZS1170Performance(1.5), 1e-12)
	cd, err := NZS1170Site{0.40, 1, 'C', far}.DesignCoefficient(0.4, 3)
	require.NoError(t, err)
	assert.InDelta(t, 0.30894, cd, 1e-5)
	// The floors, from memory: (0.13/20 + 0.02) R = 0.0265 is under 0.03 R; 0.04 R governs at Z 0.4.
	cd, err = NZS1170Site{0.13, 1, 'A', far}.DesignCoefficient(4.5, 6)
	require.NoError(t, err)
	assert.InDelta(t, 0.03, cd, 1e-9)
	cd, err = NZS1170Site{0.40, 1, 'A', far}.DesignCoefficient(4.5, 6)
	require.NoError(t, err)
	assert.InDelta(t, 0.04, cd, 1e-9)
	// kmu of class E: NZS 1170.5 5.2.1.1.
	assert.InDelta(t, 2.4, NZS1170Inelastic('E', 3, 0.6), 1e-12)
	assert.InDelta(t, 3.0, NZS1170Inelastic('E', 3, 1.2), 1e-12)
	assert.InDelta(t, 1.4, NZS1170Inelastic('E', 1.4, 0.5), 1e-12)
	_, err = NZS1170Site{0.4, 1, 'C', far}.DesignCoefficient(1, 0.5)
	assert.ErrorContains(t, err, "at least 1")
	var s Spectrum
	assert.Error(t, NZS1170Site{0, 1, 'C', far}.Fill(&s))
	assert.Error(t, NZS1170Site{0.3, 1, 'C', -1}.Fill(&s))
}

func TestNZS1170NearFault(t *testing.T) {
	// NZS 1170.5 3.1.6 by hand: period s, distance km.
	for _, c := range [][3]float64{{2, 1, 1.12}, {3, 10, 1.20}, {5, 20, 1.00}, {4, 2, 1.60},
		{2.5, 15, 1.0667}} {
		assert.InDelta(t, c[2], NZS1170NearFault(c[0], c[1], 1), 5e-5)
	}
	assert.Equal(t, 1.0, NZS1170NearFault(4, 1, 0.75), "return periods of 250 yr and less")

	for _, class := range []SiteClass{'A', 'C', 'D', 'E'} {
		site := NZS1170Site{0.4, 1.8, class, 5}
		var s Spectrum
		require.NoError(t, site.Fill(&s))
		for p := 0.0; p <= 5; p += 0.01 {
			c, err := site.Elastic(p)
			require.NoError(t, err)
			assert.InEpsilon(t, c, s.Sa(p), 5e-3, "class %s at %g s", class, p)
		}
	}
}

func TestNZS1170Tables(t *testing.T) {
	// NZS 1170.5 Table 3.5.
	for years, want := range map[float64]float64{20: 0.20, 25: 0.25, 50: 0.35, 100: 0.5, 250: 0.75, 500: 1.0,
		1000: 1.3, 2000: 1.7, 2500: 1.8} {
		r, status := NZS1170ReturnFactor(years)
		assert.Equal(t, want, r)
		assert.Zero(t, status)
	}
	r, status := NZS1170ReturnFactor(700)
	assert.True(t, r > 1.0 && r < 1.3 && status == 0)
	r, status = NZS1170ReturnFactor(5000)
	assert.Equal(t, 1.8, r)
	assert.Equal(t, AboveRange, status)
	r, status = NZS1170ReturnFactor(5)
	assert.Equal(t, 0.20, r)
	assert.Equal(t, BelowRange, status)
}
