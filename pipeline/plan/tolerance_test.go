package plan

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestTolerance: the limit itself is tolerated, one row more is not.
func TestTolerance(t *testing.T) {
	for _, c := range []struct {
		text           string
		rejected, read int64
		want           bool
	}{
		{"0", 0, 10, true}, {"0", 1, 10, false}, {"0%", 0, 0, true},
		{"20", 20, 1000, true}, {"20", 21, 1000, false},
		{"2%", 20, 1000, true}, {"2%", 21, 1000, false}, {"2.5 %", 25, 1000, true}, {"2.5%", 26, 1000, false},
		{"100%", 9, 10, true},
	} {
		tol, err := ParseTolerance(c.text)
		require.NoError(t, err, c.text)
		assert.Equal(t, c.want, tol.Allows(c.rejected, c.read), "%s of %d: %d", c.text, c.read, c.rejected)
	}
	for _, text := range []string{"", "%", "-1", "2.5", "101%", "nan%", "nan", "inf", "1e300", "two", "2 percent"} {
		_, err := ParseTolerance(text)
		assert.ErrorContains(t, err, "number of rows, such as 20", text)
	}
	assert.Equal(t, "0", Default().Inventory.Tolerate, "every reject counts unless the plan says otherwise")
}
