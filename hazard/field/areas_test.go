package field

import (
	"fmt"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/planar"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"plinth/hazard"
)

func groundOf(t *testing.T, features ...string) *GroundZones {
	t.Helper()
	g, err := ReadGround(strings.NewReader(collection(features...)), "soil.geojson", hazard.SoilASCE7)
	require.NoError(t, err)
	return g
}

func TestGround(t *testing.T) {
	// ASCE 7-16 Table 20.3-1: 250 m/s is class D.
	g := groundOf(t,
		geometryOf("Polygon", "["+box(10, 50, 11, 51)+"]", `{"name": "fill", "site_class": "E"}`),
		geometryOf("Polygon", "["+box(11, 50, 12, 51)+"]", `{"vs30": 250}`),
		geometryOf("MultiPolygon", "[["+box(179, 0, 181, 1)+"]]", `{"site_class": "c", "vs30": 250}`))
	assert.Empty(t, g.Warnings(), "a shared border is no overlap")
	for _, c := range []struct {
		lon, lat float64
		want     hazard.SiteClass
	}{{10.5, 50.5, 'E'}, {11.5, 50.5, 'D'}, {11, 50.5, 'E'}, {12.5, 50.5, 0}, {-179.5, 0.5, 'C'},
		{179.5, 0.5, 'C'}, {10.5, 95, 0}} {
		assert.Equal(t, c.want, g.At(c.lon, c.lat), "%g, %g", c.lon, c.lat)
	}
	for _, c := range []struct {
		name, feature string
		want          want
	}{
		{"no class", geometryOf("Polygon", "["+box(10, 50, 11, 51)+"]", `{"soil": "soft"}`),
			want{rule: "must be positive", remedy: "vs30", problems: 1}},
		{"letter", geometryOf("Polygon", "["+box(10, 50, 11, 51)+"]", `{"site_class": "soft"}`),
			want{rule: "not one letter", problems: 1}},
		{"number for a letter", geometryOf("Polygon", "["+box(10, 50, 11, 51)+"]", `{"site_class": 3}`),
			want{rule: "cannot unmarshal", problems: 1}},
		{"point", geometryOf("Point", "[10, 50]", `{"site_class": "C"}`), want{rule: "no area", problems: 1}},
		{"exchanged", geometryOf("Polygon", "["+box(50, 140, 51, 141)+"]", `{"site_class": "C"}`),
			want{rule: "no longitude and latitude", problems: 1}},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := ReadGround(strings.NewReader(collection(c.feature)), "soil.geojson", hazard.SoilASCE7)
			require.Error(t, err)
			var ps *Problems
			require.ErrorAs(t, err, &ps)
			assert.Len(t, ps.List, c.want.problems)
			assert.Contains(t, ps.List[0].Error(), c.want.rule)
			assert.Contains(t, ps.List[0].Error(), c.want.remedy)
		})
	}
	_, err := ReadGround(strings.NewReader(collection()), "soil.geojson", hazard.SoilASCE7)
	assert.ErrorContains(t, err, "there are none")
}

func TestOverlapsAreNamed(t *testing.T) {
	for _, c := range []struct {
		name, a, b string
		overlap    bool
	}{
		{"apart", box(0, 0, 1, 1), box(2, 0, 3, 1), false},
		{"a border", box(0, 0, 1, 1), box(1, 0, 2, 1), false},
		{"part of a border", box(0, 0, 1, 1), box(1, 0.3, 2, 0.7), false},
		{"a corner", box(0, 0, 1, 1), box(1, 1, 2, 2), false},
		{"rounding at a border", box(0, 0, 1, 1), box(1-1e-9, 0.3, 2, 0.7), false},
		{"part", box(0, 0, 1, 1), box(0.5, 0.5, 2, 2), true},
		{"a cross", box(0, 0.4, 1, 0.6), box(0.4, 0, 0.6, 1), true},
		{"one in the other", box(0, 0, 1, 1), box(0.2, 0.2, 0.4, 0.4), true},
		{"the same", box(0, 0, 1, 1), box(0, 0, 1, 1), true},
		{"half, along borders", box(0, 0, 1, 1), box(0, 0, 0.5, 1), true},
	} {
		g := groundOf(t, geometryOf("Polygon", "["+c.a+"]", `{"site_class": "C"}`),
			geometryOf("Polygon", "["+c.b+"]", `{"name": "b", "site_class": "D"}`))
		assert.Equal(t, c.overlap, len(g.Warnings()) == 1, "%s: %v", c.name, g.Warnings())
		if c.overlap {
			assert.Equal(t, "feature 1 and feature 2 (b) overlap: a place in both takes the first",
				g.Warnings()[0])
		}
	}
	many := make([]string, 0, 8)
	for range 8 {
		many = append(many, geometryOf("Polygon", "["+box(0, 0, 1, 1)+"]", `{"site_class": "C"}`))
	}
	assert.Contains(t, groundOf(t, many...).Warnings()[maxOverlaps], "and 23 more") // 8 x 7/2 - 5

	z, err := ReadZones(strings.NewReader(collection(
		geometryOf("Polygon", "["+box(0, 0, 1, 1)+"]", at475(0.1)),
		geometryOf("Polygon", "["+box(0.5, 0, 2, 1)+"]", at475(0.2)))), "z.geojson", asRead)
	require.NoError(t, err)
	assert.Contains(t, strings.Join(z.Coverage().Warnings, "\n"), "overlap")
}

// The cells find what looking at every polygon finds.
func TestAreasFindTheFirstThatHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var a areas
		n := rapid.IntRange(1, 40).Draw(t, "polygons")
		for i := range n {
			x, y := rapid.Float64Range(-10, 10).Draw(t, fmt.Sprint("x", i)),
				rapid.Float64Range(-10, 10).Draw(t, fmt.Sprint("y", i))
			w, h := rapid.Float64Range(0, 5).Draw(t, fmt.Sprint("w", i)),
				rapid.Float64Range(0, 5).Draw(t, fmt.Sprint("h", i))
			p := orb.Polygon{{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}, {x, y}}}
			a.list = append(a.list, area{p, p.Bound(), i})
		}
		a.sort()
		at := orb.Point{rapid.Float64Range(-12, 16).Draw(t, "lon"),
			rapid.Float64Range(-12, 16).Draw(t, "lat")}
		want := -1
		for i := range a.list {
			if planar.PolygonContains(a.list[i].polygon, at) {
				want = i
				break
			}
		}
		if got := a.holding(at); got != want {
			t.Fatalf("got %d, want %d", got, want)
		}
	})
}
