package source

import (
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkb"
	"github.com/stretchr/testify/require"
)

func FuzzWKB(f *testing.F) {
	square := orb.Ring{{9.5, 47.25}, {9.75, 47.25}, {9.75, 47.5}, {9.5, 47.25}}
	for _, g := range []orb.Geometry{orb.Point{9.5, 47.25}, orb.MultiPolygon{{square}}, orb.MultiPoint{{9.5, 47.25}}} {
		f.Add(wkb.MustMarshal(g))
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		if g, err := parseWKB(b); err == nil && g != nil {
			require.NotEmpty(t, g.GeoJSONType())
		}
	})
}
