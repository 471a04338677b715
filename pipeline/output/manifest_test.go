package output

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/require"
)

// FuzzManifest: a manifest that is read and whose counts add up is written, read again
// and still says the same.
func FuzzManifest(f *testing.F) {
	m := &Manifest{About: About{"0.1.0", "crowns", "2026-01", ""}, Counts: Counts{In: 13, Out: 12, Rejected: 1}, Seeds: []Seed{{"draws", 1<<64 - 1}},
		Checks: []RankCheck{{"by age", -0.25, 10, 0.3}}, PlanSHA256: "00", Plan: map[string]any{"name": "a"}, Files: []Written{{"buildings.csv", 1, 1, "00"}}}
	var b bytes.Buffer
	require.NoError(f, m.Write(&b))
	f.Add(b.Bytes())
	f.Add([]byte(`{"plan_sha256":"0","plan":[1e308,"\ud800",null],"files":null}`))
	f.Fuzz(func(t *testing.T, doc []byte) {
		m, err := parseManifest(doc)
		if err != nil {
			require.Nil(t, m)
			return
		}
		var b bytes.Buffer
		if err := m.Write(&b); err != nil {
			require.ErrorIs(t, err, ErrUnbalanced)
			return
		}
		again, err := parseManifest(b.Bytes())
		require.NoError(t, err)
		require.Equal(t, m, again)
	})
}
