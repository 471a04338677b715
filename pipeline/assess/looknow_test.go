package assess

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The limits of HSE 2001 (paragraphs 132 and 136, from memory), for one person and for many.
func TestWhereToLookNow(t *testing.T) {
	a, err := demo(t, 20, nil).AssessOne(t.Context(), "CS-00001")
	require.NoError(t, err)
	look := func(day, night, risk, collapse float64) string {
		a.Building.OccupantsDay, a.Building.OccupantsNight = day, night
		a.Exposure.OccupantsDay, a.Exposure.OccupantsNight = day, night
		a.Exposure.Volume, a.Exposure.Fatality = 0.25, 0.4 // a tenth of those inside
		a.Before.DeathRisk, a.Before.Collapse = risk, collapse
		return a.LookNow()
	}
	assert.Empty(t, look(4, 8, 1.4e-4, 1e-2), "lives there, 0.687 of 1.4e-4; a collapse kills one")
	assert.Contains(t, look(4, 8, 1.5e-4, 0), "whoever lives here")
	assert.Contains(t, look(0, 0, 1.5e-4, 0), "whoever lives here", "nobody is known")
	assert.Empty(t, look(40, 2, 4.3e-4, 0), "works there, 0.228 of 4.3e-4")
	assert.Contains(t, look(40, 2, 4.5e-4, 0), "whoever works here")
	assert.Empty(t, look(499, 0, 0, 1), "a tenth of 499 is fewer than 50")
	assert.Empty(t, look(500, 0, 0, 6.6e-4), "by day alone, 0.30 of the hours")
	assert.Contains(t, look(500, 0, 0, 6.7e-4), "kills 50 or more")
	assert.Contains(t, look(500, 500, 0, 2.1e-4), "kills 50 or more", "at all hours")
}
