package field

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"plinth/hazard"
)

// invented is a smooth field made up for these tests: PGA and Sa in g at a place
// and return period.
func invented(lon, lat, returnPeriod, t float64) float64 {
	place := 0.3 * math.Exp(0.4*math.Sin(3*lon)-0.3*math.Cos(2*lat))
	shape := 1.0
	if t > 0 {
		shape = 2.5 * min(1, 0.4/t)
	}
	return place * shape * math.Cbrt(returnPeriod/475)
}

// long writes the long form of the nodes at the return periods and periods.
func long(nodes [][2]float64, levels, periods []float64) string {
	var b strings.Builder
	b.WriteString("lon,lat,return_period_yr,pga")
	for _, t := range periods {
		b.WriteString(",sa_" + number(t))
	}
	b.WriteByte('\n')
	for _, n := range nodes {
		for _, tr := range levels {
			fmt.Fprintf(&b, "%s,%s,%s,%.17g", number(n[0]), number(n[1]), number(tr),
				invented(n[0], n[1], tr, 0))
			for _, t := range periods {
				fmt.Fprintf(&b, ",%.17g", invented(n[0], n[1], tr, t))
			}
			b.WriteByte('\n')
		}
	}
	return b.String()
}

// square returns n x n nodes from the corner west, south on the step.
func square(west, south, step float64, n int) [][2]float64 {
	var nodes [][2]float64
	for j := range n {
		for i := range n {
			nodes = append(nodes, [2]float64{west + float64(i)*step, south + float64(j)*step})
		}
	}
	return nodes
}

var (
	someLevels  = []float64{100, 475, 2475}
	somePeriods = []float64{0.1, 0.2, 0.5, 1, 2}
	asRead      = Options{ReturnPeriods: someLevels, SoilIncluded: true}
)

func mustGrid(t testing.TB, text string, o Options) *Nodes {
	t.Helper()
	g, err := ReadGrid(strings.NewReader(text), "grid.csv", o)
	require.NoError(t, err)
	return g
}

func mustPoints(t testing.TB, text string, o Options) *Nodes {
	t.Helper()
	p, err := ReadPoints(strings.NewReader(text), "points.csv", o)
	require.NoError(t, err)
	return p
}

func look(t testing.TB, f Field, lon, lat float64) *hazard.Site {
	t.Helper()
	var s hazard.Site
	require.NoError(t, f.Lookup(lon, lat, 0, &s))
	return &s
}
