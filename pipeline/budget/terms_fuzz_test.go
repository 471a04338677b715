package budget

import (
	"encoding/csv"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// FuzzTerms: a file of terms is refused by its name, or names years of the programme alone and says the same when it is written and read again.
func FuzzTerms(f *testing.F) {
	read := func(text string) (*terms, error) {
		x := newTerms()
		return x, x.read(strings.NewReader(text), "terms.csv", 2027, 5)
	}
	f.Add("id,group,latest_year\na,wing,2030\nB-2,,\n")
	f.Add("\ufefflatest_year , id\r\n9999,=1\r\n")
	f.Fuzz(func(t *testing.T, text string) {
		x, err := read(text)
		if err != nil {
			require.ErrorContains(t, err, "terms.csv")
			return
		}
		var b strings.Builder
		w := csv.NewWriter(&b)
		rows := [][]string{termColumns}
		for id, group := range x.group {
			year := ""
			if n, ok := x.latest[id]; ok {
				require.True(t, 1 <= n && n <= 5, "year %d of the programme", n)
				year = strconv.Itoa(2026 + n)
			}
			rows = append(rows, []string{id, group, year})
		}
		require.NoError(t, w.WriteAll(rows))
		again, err := read(b.String())
		require.NoError(t, err)
		for id, group := range x.group { // encoding/csv makes LF of CRLF
			x.group[id] = strings.ReplaceAll(group, "\r\n", "\n")
		}
		require.Equal(t, x.group, again.group)
		require.Equal(t, x.latest, again.latest)
	})
}
