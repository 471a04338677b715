package archetypes_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/archetypes"
)

// TestToStrength: codes of allowable stress carry the load factor 1.4 of the rows of
// eras.csv, codes of strength none, and years before any code none.
func TestToStrength(t *testing.T) {
	tables := archetypes.Default()
	region, err := tables.ParseRegion("us-west")
	require.NoError(t, err)
	zone, err := tables.ParseZone(region, "4")
	require.NoError(t, err)
	for year, want := range map[int]float64{1900: 1, 1965: 1.4, 1996: 1.4, 1998: 1, 2020: 1} {
		assert.Equal(t, want, tables.ToStrength(region, zone, year), "year %d", year)
	}
}
