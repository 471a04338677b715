package confirm

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"plinth/pipeline/output"
)

// FuzzResumeEntry: a line of an unfinished confirmation is passed over, or gives an entry that
// is written and read again as it is. The text is also read under its right hash, which
// no damage has.
func FuzzResumeEntry(f *testing.F) {
	some := resumeEntry{"run", "a", []output.Confirmed{{BuildingID: "a", Score: math.NaN()},
		{BuildingID: "a", DriftHistory: math.Pi}}, 1.0 / 3}
	line, err := some.line()
	require.NoError(f, err)
	f.Add(line)
	f.Add(line[:len(line)-4])
	f.Fuzz(func(t *testing.T, line string) {
		_, text, _ := strings.Cut(line, " ")
		for _, line := range []string{line, entryHash(text) + " " + text} {
			e, ok := readEntry(line)
			if !ok {
				continue
			}
			written, err := e.line()
			require.NoError(t, err)
			again, ok := readEntry(written)
			require.True(t, ok)
			twice, err := again.line()
			require.NoError(t, err)
			require.Equal(t, written, twice)
		}
	})
}
