package pipeline

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Vector tiles stand beside a map of many buildings, and wherever they are asked for.
func TestTilesOfManyBuildings(t *testing.T) {
	map1, csv, asked := []string{"csv", "gpkg"}, []string{"csv"}, []string{"mbtiles", "gpkg"}
	assert.Equal(t, map1, withLarge(map1, manyBuildings))
	assert.Equal(t, []string{"csv", "gpkg", "mbtiles"}, withLarge(map1, manyBuildings+1))
	assert.Equal(t, csv, withLarge(csv, 1e6), "no map was asked for")
	assert.Equal(t, asked, withLarge(asked, 1e6), "once is enough")
}
