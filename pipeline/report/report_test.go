package report

import (
	"bytes"
	"fmt"
	"html"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/output"
	"plinth/pipeline/ranking"
	"plinth/pipeline/report/reporttest"
	"plinth/retrofit"
)

var hostile = reporttest.Hostile

// invented returns a stock of n buildings whose ids and names are hostile. The
// numbers are invented.
func invented(n int) *Stock {
	s := &Stock{}
	var measures []string
	for _, k := range retrofit.Kinds() {
		measures = append(measures, k.Slug)
	}
	for i := range n {
		var b output.Building
		output.Buildings.Blank(&b)
		b.Rank, b.TieGroup, b.RankAsIs = int64(i+1), int64(i/3+1), int64(n-i)
		b.ID, b.Name = fmt.Sprintf("%s#%d", hostile[(i+1)%len(hostile)], i), hostile[i%len(hostile)]
		b.Lon, b.Lat = -141.2+0.01*math.Sin(float64(i)), 41.6+0.008*math.Cos(float64(3*i))
		b.System, b.Use, b.Storeys, b.Year, b.Height = "concrete-frame", "school", int64(1+i%9), int64(1900+i%120), 3.1*float64(1+i%9)
		b.Drift, b.FloorAccel, b.BaseShear = 1+math.Sin(float64(i)), 0.4+0.2*math.Cos(float64(i)), 0.2
		b.Period, b.StrengthRatio, b.DesignSa, b.AnnualLoss = 0.6, 0.1, 0.8, 1e5*math.Exp(math.Sin(float64(i)))
		b.ImmediateOccupancy, b.LifeSafety, b.CollapsePrevention = 0.02, 0.01, 0.002
		b.Best = measures[i%len(measures)]
		b.BestCostLow, b.BestCostLikely, b.BestCostHigh, b.BestNetBenefit = 7e5, 1e6+1e3*float64(i%77), 1.6e6, 2e6-1e3*float64(i)
		b.BestDrift, b.BestFloorAccel, b.BestVerdict, b.DataGrade = 0.5, 0.3, []string{"clear", "doubt", "missing"}[i%3], "ABCD"[i%4:i%4+1]
		b.Tied, b.WhyNot, b.HazardStatus = i%5 == 0, hostile[i%len(hostile)], hostile[(i+2)%len(hostile)]
		b.RankLow, b.RankMedian, b.RankHigh = int64(i/2+1), int64(i+2), int64(2*i+3)
		if i%41 == 7 {
			b.Lon, b.Lat, b.Drift = math.NaN(), math.NaN(), math.NaN()
		}
		s.Building(&b)
	}
	for i := range n {
		var c output.Candidate
		output.Candidates.Blank(&c)
		c.Rank, c.BuildingID, c.Measure = int64(i+1), fmt.Sprintf("%s#%d", hostile[(i+1)%len(hostile)], i), measures[i%len(measures)]
		c.CostLikely, c.NetBenefit, c.DriftAfter, c.FloorAccelAfter, c.BaseShearAfter = 1e6, 1e6, 0.5, 0.3, 0.2
		c.DeathsAvoided, c.Verdict, c.VerdictReason, c.Design = float64(i%7)-1, "doubt", hostile[i%len(hostile)], hostile[i%len(hostile)]
		s.Candidate(&c)
		s.Verdict(&output.Verdict{BuildingID: c.BuildingID, Measure: c.Measure, Rule: "gap", Verdict: "bar", Sentence: hostile[i%len(hostile)]})
		s.Reject(&output.Reject{File: "register.csv", Line: int64(i), BuildingID: hostile[i%len(hostile)], RawValue: hostile[i%len(hostile)], Rule: "no id", Remedy: "give it one"})
	}
	return s
}

func write(t testing.TB, n int) string {
	var b bytes.Buffer
	require.NoError(t, Write(&b, Input{
		Title: `Stock of "<b>Invented</b>" ` + hostile[1], Objective: ranking.NetBenefit, About: output.About{Version: "0.1.0", Currency: `crowns</script>&"`, PriceDate: "2026-01"},
		Counts: output.Counts{In: int64(n + 300), Out: int64(n), Rejected: 300}, Design: 475, LifeYears: 50, DiscountRate: 0.04, PlanSHA256: strings.Repeat("ab", 32),
		Quality: Quality{Fields: []Field{{"year", "year it was built", n, 0, 0, 0}}, Rules: []Rule{{Finding: "no id", Remedy: "give it one", Owner: "give it one", Rows: 300, Counts: "rows", Rejects: true, Example: hostile[2]}}},
		Hazard:  []string{hostile[1]}, Notes: []string{hostile[2]}, Stock: invented(n),
	}))
	return b.String()
}

// TestHostileRegister holds the page to be harmless whatever an owner wrote.
func TestHostileRegister(t *testing.T) {
	p := write(t, 200)
	harmless(t, p)
}

// harmless holds a page with a script to run nothing and to load nothing but its own.
func harmless(t *testing.T, p string) {
	t.Helper()
	lower := strings.ToLower(p)
	assert.Equal(t, 2, strings.Count(lower, "<script"), "data and script, no more")
	assert.Equal(t, 2, strings.Count(lower, "</script"))
	assert.NotContains(t, lower, "<img")
	assert.NotContains(t, lower, "<svg onload")
	assert.NotRegexp(t, `<[a-z][^>]*\son[a-z]+\s*=`, lower, "no handler of events in markup")
	for _, r := range "\u202e\u202c\u2066\u2028\x00\x07" {
		assert.NotContains(t, p, string(r), "%U", r)
	}
	assert.NotContains(t, p, strings.Repeat("long ", longestText/5+1), "endless text is cut")
	assert.Contains(t, p, "👩‍👩‍👧‍👦", "a picture of several signs stays one")
	assert.Contains(t, p, output.Caution)
	// Nothing is loaded: the only addresses are parts of the page and names of XML.
	for _, m := range regexp.MustCompile(`(?:href|src)="([^"]*)"`).FindAllStringSubmatch(p, -1) {
		assert.True(t, strings.HasPrefix(m[1], "#"), m[1])
	}
}

// TestIntervals: the chart of intervals names the first thirty buildings in order, each
// a link to its own, in text that stays text; without draws there is none.
func TestIntervals(t *testing.T) {
	s := invented(40)
	c, err := intervals(s.buildings)
	require.NoError(t, err)
	links := regexp.MustCompile(`(?s)<a href="#building-(\d+)"><text[^>]*>(\d+)\. (.*?)</text></a>`).FindAllStringSubmatch(string(c.SVG), -1)
	require.Len(t, links, maxIntervals)
	for i, m := range links {
		b := &s.buildings[i]
		assert.Equal(t, strconv.Itoa(i), m[1])
		assert.Equal(t, strconv.FormatInt(b.Rank, 10), m[2])
		assert.Equal(t, cut(shown(b.Name), longestName), html.UnescapeString(m[3]))
	}
	assert.NotContains(t, string(c.SVG), "@0", "every label is a name")
	assert.Equal(t, 10, strings.Count(string(c.SVG), ">group "), "thirty places in groups of three")
	assert.Contains(t, c.Alt, "For 14 of them the whole interval lies among the first 30; the widest reaches rank 61.")

	for i := range s.buildings {
		s.buildings[i].RankLow = output.NoInt
	}
	c, err = intervals(s.buildings)
	require.NoError(t, err)
	assert.Empty(t, c.SVG)
}

func TestSameBytes(t *testing.T) {
	first := write(t, 60)
	require.True(t, first == write(t, 60), "equal inputs give equal bytes")
}

// TestLargeStock: a page of more buildings than it holds says so, and its sums
// are over all.
func TestLargeStock(t *testing.T) {
	p := write(t, MaxBuildings+20)
	assert.Contains(t, p, "The first 5000 of 5020 buildings by rank")
	assert.Contains(t, p, "The map shows the first 5000 of 5020 buildings by rank")
	assert.NotContains(t, p, "Whole stock")
	assert.Contains(t, p, "The first 200 of 300 rows that could not be used")
	assert.Less(t, len(p), 8<<20)
	assert.Contains(t, p, `["why_not","text"]`)
	assert.NotContains(t, p, `["score_resolution"`, "what no script names stays in the files")
	s := invented(MaxBuildings + 20)
	assert.EqualValues(t, MaxBuildings+20, s.n)
	for _, c := range s.candidates {
		i := s.place[c.BuildingID]
		if best := s.buildings[i].Best == c.Measure; i >= MaxReasons {
			require.Empty(t, s.buildings[i].WhyNot+c.VerdictReason)
			require.Equal(t, best, c.Design != "", "of places that far down only what comes first")
		}
	}
	n, _ := s.treated()
	assert.EqualValues(t, MaxBuildings+20-(MaxBuildings+20+5)/9, n, "all but those with doing nothing first")
	assert.Len(t, s.worst, worstBuildings)
	assert.EqualValues(t, 1, s.worst[0].RankAsIs, "the worst off may be the last by rank")
}

func TestEmptyRun(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, Write(&b, Input{}))
	assert.Contains(t, b.String(), "For no building did a measure come before leaving it as it is.")
	assert.Contains(t, b.String(), output.Caution)
}

func TestWords(t *testing.T) {
	for v, want := range map[float64]string{0: "0", 1234: "1,200", 0.0123: "0.012", -86400: "\u221286,000", 9.96e6: "10,000,000", 999: "1,000"} {
		assert.Equal(t, want, twoDigits(v))
	}
	assert.Equal(t, "-", twoDigits(math.NaN()))
	assert.Equal(t, "14 million crowns", words(14.3e6, "crowns"))
	assert.Equal(t, "720 thousand crowns", words(723400, "crowns"))
	assert.Equal(t, "11 to 24 million crowns", between(10.7e6, 24.4e6, "crowns"))
	assert.Equal(t, "830 thousand crowns to 1.2 million crowns", between(8.3e5, 1.2e6, "crowns"))
}

// TestColours holds both themes to the least contrast of WCAG 2.1, success
// criterion 1.4.3: 4.5 for text, by its definitions of contrast ratio and relative
// luminance.
func TestColours(t *testing.T) {
	blocks := regexp.MustCompile(`(?s)\{([^{}]*--paper:[^{}]*)\}`).FindAllStringSubmatch(pageStyle, -1)
	require.Len(t, blocks, 4, "light, dark by the system, dark by choice, paper")
	for _, block := range blocks {
		c := map[string]float64{}
		for _, m := range regexp.MustCompile(`--(\w+): #([0-9a-f]{6})`).FindAllStringSubmatch(block[1], -1) {
			v, err := strconv.ParseUint(m[2], 16, 32)
			require.NoError(t, err)
			c[m[1]] = luminance([3]uint8{uint8(v >> 16), uint8(v >> 8), uint8(v)})
		}
		for _, pair := range [][2]string{{"ink", "paper"}, {"dim", "paper"}, {"accent", "paper"}, {"ink", "raised"}, {"dim", "raised"}, {"ink", "warn"}, {"accent", "warn"}} {
			a, b := c[pair[0]], c[pair[1]]
			assert.GreaterOrEqual(t, (max(a, b)+0.05)/(min(a, b)+0.05), 4.5, "%v in %s", pair, block[1])
		}
	}
}

// luminance is the relative luminance of WCAG 2.1.
func luminance(c [3]uint8) float64 {
	l := 0.0
	for i, share := range [3]float64{0.2126, 0.7152, 0.0722} {
		v := float64(c[i]) / 255
		if v <= 0.03928 {
			v /= 12.92
		} else {
			v = math.Pow((v+0.055)/1.055, 2.4)
		}
		l += share * v
	}
	return l
}

// TestScaleIsEven: the lightness L* of CIE 15:2004 (8.2.1) grows along the colour
// map in even steps, which is what the map was made for; 2.5 of 100 is what six
// colours rounded to 8 bits and made even in another space (CAM02-UCS) leave.
func TestScaleIsEven(t *testing.T) {
	var l [len(viridis)]float64
	for i, c := range viridis {
		l[i] = 116*math.Cbrt(luminance(c)) - 16
	}
	step := (l[len(l)-1] - l[0]) / float64(len(l)-1)
	for i := 1; i < len(l); i++ {
		assert.InDelta(t, step, l[i]-l[i-1], 2.5)
	}
}

// TestInBrowser opens a page of 5,000 hostile buildings in Chromium.
func TestInBrowser(t *testing.T) {
	path := filepath.Join(t.TempDir(), Name)
	require.NoError(t, os.WriteFile(path, []byte(write(t, MaxBuildings)), 0o666))
	reporttest.InBrowser(t, "page.mjs", path)
}

func BenchmarkWrite(b *testing.B) {
	s := invented(MaxBuildings)
	b.ReportAllocs()
	for b.Loop() {
		var w bytes.Buffer
		require.NoError(b, Write(&w, Input{Objective: ranking.NetBenefit, Stock: s}))
		b.ReportMetric(float64(w.Len())/1e6, "MB")
	}
}

// TestPageSaysWhatItWasHeldAgainst: the sentence that make measured writes stands under
// the method, to the letter.
func TestPageSaysWhatItWasHeldAgainst(t *testing.T) {
	line, err := os.ReadFile("measured.txt")
	require.NoError(t, err)
	var page bytes.Buffer
	require.NoError(t, Write(&page, Input{Stock: invented(3)}))
	_, method, found := strings.Cut(page.String(), `id="cautions"`)
	require.True(t, found)
	assert.Contains(t, html.UnescapeString(method), strings.TrimSpace(string(line)))
}
