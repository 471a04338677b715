package output

import (
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"plinth/pipeline/page"
)

func TestSummaryFits(t *testing.T) {
	s := Summary{Counts: Counts{In: 10_000_000, Out: 9_999_999, Rejected: 1}, RankBy: "net-benefit", About: About{Currency: "CRD"}}
	for i := range 10 {
		var r Building
		Buildings.Blank(&r)
		r.Rank, r.ID, r.Name, r.DataGrade, r.Tied = int64(i+1), "0000-000-A", hostile[i]+strings.Repeat("long name ", i), "B", true
		if i > 2 {
			r.Best, r.BestCostLikely, r.BestNetBenefit, r.Drift, r.BestDrift = "lead-rubber", 1.25e6*float64(i), -9.87e5, 12.34, 0.056
		}
		s.First = append(s.First, r)
	}
	var b strings.Builder
	require.NoError(t, s.Write(&b))
	for line := range strings.SplitSeq(b.String(), "\n") {
		require.LessOrEqual(t, utf8.RuneCountInString(line), page.Width, line)
		require.NotContains(t, line, "\r")
		require.NotContains(t, line, "\x1b")
	}
	require.Contains(t, b.String(), "not thereby\nsafe")
	require.Contains(t, b.String(), "12.3 to 0.1")
}

func TestShortNumber(t *testing.T) {
	for v, want := range map[float64]string{0: "0", 7: "7", 999: "1k", 1234: "1.2k", 12345: "12k", -987654: "-990k", 1e6: "1M",
		999999: "1M", 2.55e9: "2.6G", 0.0123: "0.012", math.Inf(1): "-"} {
		require.Equal(t, want, Short(v), "%g", v)
	}
	require.Equal(t, "-", Short(math.NaN()))
}
