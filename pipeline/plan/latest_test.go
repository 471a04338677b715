package plan

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// The latest year of a building is that of the plan's dates, and never earlier than
// the program's own.
func TestLatestYear(t *testing.T) {
	for _, c := range []struct {
		price string
		first int
		want  int
	}{
		{"", 1, releaseYear},
		{"2019-06", 1, releaseYear},
		{"2031-06", 1, 2031},
		{"June 2031", 2033, 2033},
		{"01/07/2031", 2030, 2031},
		{"index 20310", 9999, releaseYear},
	} {
		p := Default()
		p.Measures.PriceDate, p.Budget.FirstYear = c.price, c.first
		assert.Equal(t, c.want, p.LatestYear(), "%+v", c)
	}
}
