package retrofit

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"plinth/archetypes"
	"plinth/hazard"
	"plinth/retrofit/demand"
)

// A sweep takes every structural system, era and height through shaking that grows by 4 % a
// step, from 0.3 to 3 times that of the site, with every measure. What no building may do: shake
// less because the ground shakes more, or jump from one step to the next.

// sweepStep is the growth of the shaking from one level of the sweep to the next.
const sweepStep = 1.04

// sweepScales are the factors on the design shaking of the site.
func sweepScales() []float64 {
	var s []float64
	for x := 0.3; x < 3.001; x *= sweepStep {
		s = append(s, x)
	}
	return s
}

// swept is a building of a sweep: its case has the levels of scales, with the design level at
// factor 1.
type swept struct {
	name   string
	scales []float64
	c      *Case
	anew   *Case // storage of at
	ground sweepGround
}

// sweepGround is the ground of a sweep: soil factor and corners of EN 1998-1 Table 3.2, type 1.
type sweepGround struct {
	class        hazard.SiteClass
	soil, tb, tc float64
}

var sweepGrounds = []sweepGround{{'B', 1.2, 0.15, 0.5}, {'D', 1.35, 0.2, 0.8}}

// sweepYears are the years of design of a sweep, in the region us-west, zone 4.
var sweepYears = []int{1930, 1968, 1985, 2005}

// sweepRock is the acceleration of the rock at the design level, in g.
const sweepRock = 0.32

// sweepBuildings returns the buildings of a sweep.
func sweepBuildings(t testing.TB, storeys []int) (out []swept) {
	tables := archetypes.Default()
	region, err := tables.ParseRegion("us-west")
	require.NoError(t, err)
	zone, err := tables.ParseZone(region, "4")
	require.NoError(t, err)
	for _, g := range sweepGrounds {
		for _, system := range archetypes.Systems() {
			for _, year := range sweepYears {
				for _, n := range storeys {
					d := archetypes.Unknown()
					d.System, d.Region, d.Zone, d.Year, d.Storeys = system, region, zone, year, n
					d.SDS, d.SD1, d.S1, d.TL, d.PGA = 1, 0.6, 0.6, 8, sweepRock
					var a archetypes.Archetype
					require.NoError(t, tables.Assign(&d, &a))
					out = append(out, newSwept(&a, g, fmt.Sprintf("%v %d, %d storeys, ground %v", system, year, n, g.class)))
				}
			}
		}
	}
	return out
}

// newSwept puts a building on an open site where no fact bars a measure.
func newSwept(a *archetypes.Archetype, g sweepGround, name string) swept {
	b := swept{name: name, ground: g, scales: sweepScales(), c: &Case{Stick: &archetypes.Stick{}, Facts: Facts{
		Storeys: a.Storeys, StoreysBelow: 1, Height: a.Height, FloorArea: 600 * float64(a.Storeys),
		Footprint: 600, Length: 30, Width: 20, Gap: 5, Plane: Yes, Heritage: No, Light: No, Brittle: No,
		System: a.System, SiteClass: g.class, SitePeriod: 0.2, FaultDistance: 40,
	}}}
	a.Build(b.c.Stick)
	b.anew = &Case{Stick: b.c.Stick, Facts: b.c.Facts}
	b.shake(b.c, b.scales, 1)
	return b
}

// shake gives c a level for each factor, with the design level at factor one. Return periods
// follow from H ~ a^-3 (EN 1998-1 2.1(4)), with 475 years at the design level.
func (b *swept) shake(c *Case, factors []float64, one float64) {
	var w demand.Work
	c.AsIs = make([]demand.Response, len(factors))
	c.Site = &hazard.Site{Spectra: make([]hazard.Spectrum, len(factors)), Class: b.ground.class}
	for i, x := range factors {
		pga := sweepRock * b.ground.soil * x
		if err := c.Site.Spectra[i].SetFourBranch(pga, 2.5*pga, b.ground.tb, b.ground.tc, 2, 10); err != nil {
			panic(err)
		}
		ratio := x / one
		c.Site.ReturnPeriod = append(c.Site.ReturnPeriod, 475*ratio*ratio*ratio)
		w.AsIs(c.Stick, &c.Site.Spectra[i], &c.AsIs[i])
		if ratio < 1.0001 {
			c.Design = i
		}
	}
}

// at returns the building where the design shaking is that of step j, with 2475 years above it.
func (b *swept) at(j int) *Case {
	x := b.scales[j]
	b.shake(b.anew, []float64{x, x * math.Cbrt(2475.0/475)}, x)
	return b.anew
}
