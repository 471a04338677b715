package plan

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What the plan sets is the owner's and no longer named.
func TestBuiltIn(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"", "prices of measures, value per m2 where the register gives none, worth of a day closed"},
		{"[consequence]\nvalue_per_m2 = 2500\n", "prices of measures, worth of a day closed"},
		{"[consequence]\nvalue_per_m2 = 1800\ndowntime_share = 0.5\n", "prices of measures"},
		{"[consequence]\nvalue_per_m2 = 1800\ndowntime_share = 0.5\n[measures.viscous.price]\nper_device = 9000\n", ""},
	} {
		p, err := Parse("p.toml", []byte(sound+c.text))
		require.NoError(t, err)
		assert.Equal(t, c.want, p.BuiltIn())
	}
}
