package field

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/hazard"
)

const head = "lon,lat,return_period_yr,pga,sa_0.2,sa_1\n"

// four is a valid 2 x 2 grid at 475 yr.
const four = "0,50,475,0.1,0.2,0.1\n1,50,475,0.1,0.2,0.1\n0,51,475,0.1,0.2,0.1\n1,51,475,0.1,0.2,0.1\n"

// want is the first problem expected for a bad file.
type want struct {
	line            int
	column, value   string
	rule, remedy    string // contained
	problems        int    // how many are reported
	atReturnPeriods []float64
	unit, crs       string
	onRock          bool
	class           hazard.SiteClass
}

func TestBadGrids(t *testing.T) {
	for _, c := range []struct {
		name, text string
		want       want
	}{
		{"empty", "", want{rule: "the file is empty", problems: 1}},
		{"header only", head, want{rule: "no row holds values", problems: 1}},
		{"only the sea", head + "0,50,475,,,\n", want{rule: "no row holds values", problems: 1}},
		{"no latitude", "lon,return_period_yr,pga,sa_1\n",
			want{line: 1, column: "lat", rule: "missing", remedy: "the header has lon, return_period_yr",
				problems: 1}},
		{"two latitudes", "lon,lat,latitude,return_period_yr,pga,sa_1\n",
			want{line: 1, column: "latitude", rule: "twice", problems: 1}},
		{"no peak", "lon,lat,return_period_yr,sa_0.2,sa_1\n",
			want{line: 1, column: "pga", rule: "missing", problems: 1}},
		{"two peaks", "lon,lat,return_period_yr,pga,sa_0,sa_1\n",
			want{line: 1, column: "sa_0", rule: "twice", problems: 1}},
		{"no spectrum", "lon,lat,return_period_yr,pga\n",
			want{line: 1, column: "sa_...", rule: "no spectral acceleration", problems: 1}},
		{"period twice", "lon,lat,return_period_yr,pga,sa_1,sa_1.0\n",
			want{line: 1, column: "sa_1.0", rule: "twice", problems: 1}},
		{"no period", "lon,lat,return_period_yr,pga,sa_one,sa_-1\n",
			want{line: 1, column: "sa_one", rule: "no period", problems: 3}},
		{"unit in a name", "lon,lat,return_period_yr,pga_g,sa_1\n0,50,475,1,2\n",
			want{line: 1, column: "pga_g", rule: "Unit says m/s2", problems: 1, unit: "m/s2"}},
		{"semicolons", "lon;lat;return_period_yr;pga;sa_1\n0;50;475;0,1;0,2\n",
			want{line: 1, rule: "one cell", remedy: "Comma", problems: 1}},
		{"ragged row", head + four + "2,50,475,0.1,0.2\n",
			want{line: 6, rule: "wrong number of fields", remedy: "as many cells", problems: 1}},
		{"stray quote", head + four + "2,50,475,0.1,\"0\"2,0.1\n", want{line: 6, rule: "quote", problems: 1}},
		{"a word", head + four + "2,50,475,0.1,low,0.1\n",
			want{line: 6, column: "sa_0.2", value: "low", rule: "not a number", problems: 1}},
		{"decimal comma", head + "0,50,475,\"0,1\",0.2,0.1\n",
			want{line: 2, column: "pga", value: "0,1", rule: "not a number", remedy: "decimal point",
				problems: 1}},
		{"NaN", head + "0,50,475,NaN,0.2,0.1\n", want{line: 2, column: "pga", value: "NaN",
			rule: "not a finite number", problems: 1}},
		{"infinite", head + "0,50,475,0.1,+Inf,0.1\n",
			want{line: 2, column: "sa_0.2", value: "+Inf", rule: "not a finite number", problems: 1}},
		{"negative", head + "0,50,475,0.1,-0.2,0.1\n",
			want{line: 2, column: "sa_0.2", value: "-0.2", rule: "above 0", problems: 1}},
		{"zero", head + "0,50,475,0,0.2,0.1\n", want{line: 2, column: "pga", value: "0", rule: "above 0",
			remedy: "all their digits", problems: 1}},
		{"out of this world", head + "0,50,475,1e30,0.2,0.1\n",
			want{line: 2, column: "pga", value: "1e30", rule: "no acceleration", problems: 1}},
		{"half a node", head + "0,50,475,0.1,,0.1\n",
			want{line: 2, column: "sa_0.2", rule: "the cell is empty", problems: 1}},
		{"frequency for return period", head + "0,50,0.0021,0.1,0.2,0.1\n",
			want{line: 2, column: "return_period_yr", value: "0.0021", rule: "no return period",
				remedy: "not a frequency", problems: 1}},
		{"axes exchanged", head + "50,-120,475,0.1,0.2,0.1\n",
			want{line: 2, column: "lat", value: "-120", rule: "no latitude", remedy: "exchanged",
				problems: 1}},
		{"projected", head + "500000,5500000,475,0.1,0.2,0.1\n",
			want{line: 2, column: "lat", value: "5500000", rule: "no latitude", remedy: "EPSG:4326",
				problems: 1}},
		{"longitude", head + "-200,50,475,0.1,0.2,0.1\n",
			want{line: 2, column: "lon", value: "-200", rule: "no longitude", problems: 1}},
		{"a node says two things", head + four + "1,50,475,0.1,0.2,0.11\n",
			want{line: 6, column: "return_period_yr", value: "475",
				rule: "node 1, 50 stands at line 3 with other values", problems: 1}},
		{"return periods differ", head + four + "1,50,975,0.2,0.3,0.2\n",
			want{line: 2, column: "return_period_yr", rule: "node 0, 50 lacks return period 975",
				problems: 3}},
		{"kinds differ", "kind," + head + "mean,0,50,475,0.1,0.2,0.1\nlargest,1,50,475,0.1,0.2,0.1\n",
			want{line: 3, column: "kind", value: "largest", rule: "mean", problems: 1}},
		{"no grid", head + "0,50,475,0.1,0.2,0.1\n1,50,475,0.1,0.2,0.1\n0.3,51,475,0.1,0.2,0.1\n" +
			"1.71234,51.3,475,0.1,0.2,0.1\n", want{column: "lon, lat", rule: "no regular grid",
			remedy: "scattered", problems: 1}},
		{"one node", head + "0,50,475,0.1,0.2,0.1\n",
			want{column: "lon, lat", rule: "no regular grid", problems: 1}},
		{"one row of nodes", head + "0,50,475,0.1,0.2,0.1\n1,50,475,0.1,0.2,0.1\n",
			want{column: "lon, lat", rule: "no regular grid", problems: 1}},
		{"nodes a hair apart", head + four + "1.0000005,50,475,0.1,0.2,0.1\n",
			want{line: 6, column: "lon, lat", value: "1.0000005, 50", rule: "lies on that of line 3",
				problems: 1}},
		{"rock without 1 s", "lon,lat,return_period_yr,pga,sa_0.2,sa_0.9\n" + four,
			want{column: "sa_...", rule: "outside the periods", problems: 1, onRock: true}},
		{"unit", head + four, want{column: "option Unit", value: "gal", rule: "unknown unit", problems: 1,
			unit: "gal"}},
		{"projection", head + four, want{column: "option CRS", value: "EPSG:2193", rule: "UTM", problems: 1,
			crs: "EPSG:2193"}},
		{"degrees declared as UTM", head + "0,50,475,0.1,0.2,0.1\n",
			want{line: 2, column: "lat", value: "50", rule: "no easting and northing", problems: 1,
				crs: "EPSG:32633"}},
		{"default class", head + four, want{column: "option DefaultClass", value: "F",
			rule: "no coefficients", problems: 1, onRock: true, class: 'F'}},
		{"no levels", head + four, want{column: "option ReturnPeriods", rule: "no return periods",
			problems: 1, atReturnPeriods: []float64{}}},
		{"levels descend", head + four, want{column: "option ReturnPeriods", value: "475", rule: "ascend",
			problems: 1, atReturnPeriods: []float64{975, 475}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			o := Options{ReturnPeriods: []float64{475}, SoilIncluded: !c.want.onRock, Unit: c.want.unit,
				CRS: c.want.crs, DefaultClass: c.want.class}
			if c.want.atReturnPeriods != nil {
				o.ReturnPeriods = c.want.atReturnPeriods
			}
			_, err := ReadGrid(strings.NewReader(c.text), "bad.csv", o)
			c.want.meets(t, err, "bad.csv")
		})
	}
}

func (w want) meets(t *testing.T, err error, file string) {
	t.Helper()
	var ps *Problems
	require.ErrorAs(t, err, &ps)
	first := ps.List[0]
	assert.Equal(t, file, first.File)
	assert.Equal(t, w.line, first.Line)
	assert.Equal(t, w.column, first.Column)
	if w.value != "" {
		assert.Equal(t, w.value, first.Value)
	}
	assert.Contains(t, first.Rule, w.rule)
	assert.Contains(t, first.Remedy, w.remedy)
	assert.NotEmpty(t, first.Remedy)
	assert.Len(t, ps.List, w.problems, "%v", err)
}

func TestProblemsAreCountedBeyondTwenty(t *testing.T) {
	_, err := ReadGrid(strings.NewReader(head+strings.Repeat("0,50,475,x,0.2,0.1\n", 50)), "bad.csv", asRead)
	var ps *Problems
	require.ErrorAs(t, err, &ps)
	assert.Len(t, ps.List, maxProblems)
	assert.Equal(t, 50-maxProblems, ps.More)
	lines := strings.Split(err.Error(), "\n")
	assert.Equal(t, `bad.csv:2: pga = "x": not a number; write digits with a decimal point`, lines[0])
	assert.Equal(t, "and 30 more", lines[maxProblems])
	var p Problem
	require.ErrorAs(t, err, &p)
	assert.Equal(t, 2, p.Line)
}

// A wrong column read as the return period gives one problem, not one for each row, and costs
// no more than reading the file.
func TestTooManyReturnPeriods(t *testing.T) {
	var b strings.Builder
	b.WriteString(head)
	for i := range 50_000 {
		fmt.Fprintf(&b, "%d,50,%d,0.1,0.2,0.1\n", i%300-150, 100+i)
	}
	_, err := ReadGrid(strings.NewReader(b.String()), "bad.csv", asRead)
	want{line: 50_001, column: "return_period_yr", rule: "more than 100 return periods", problems: 1}.meets(t,
		err, "bad.csv")
}

// A reader that fails half way is a problem of the file and does not give a partial field.
func TestBrokenReader(t *testing.T) {
	broken := io.MultiReader(strings.NewReader(head+four), failing{})
	_, err := ReadGrid(broken, "bad.csv", asRead)
	require.ErrorContains(t, err, "the disk is gone")
}

type failing struct{}

func (failing) Read([]byte) (int, error) { return 0, errors.New("the disk is gone") }

func TestOddButSoundGrids(t *testing.T) {
	for _, c := range []struct {
		name, text string
		unit       string
		notes      []string
	}{
		{"plain", head + four, "", nil},
		{"a row repeated", head + four + "1,50,475,0.1,0.2,0.1\n", "", []string{"1 rows repeat another"}},
		{"sea", head + four + "2,50,475,,,\n", "", []string{"1 rows hold no value"}},
		{"an unknown column", "lon,lat,return_period_yr,pga,sa_0.2,note\n" + four, "",
			[]string{`column "note" is not read`}},
		{"values in m/s2 read as g", head + strings.ReplaceAll(four, "0.1,0.2,0.1", "5.1,9.8,5.1"), "",
			[]string{"12 of 12 values are above 5 g (up to 9.8 g): is the unit right?",
				"half of the nodes have a peak of 5.1 g or more at 475 yr"}},
		{"the same, said", head + strings.ReplaceAll(four, "0.1,0.2,0.1", "5.1,9.8,5.1"), "m/s2", nil},
		{"falls with return period", head + four + strings.ReplaceAll(four, "475,0.1", "975,0.09"), "",
			[]string{"4 values are lower than at the next shorter return period"}},
		{"steep", head + strings.Replace(four, "0.2", "0.5", 1), "",
			[]string{"2 of 4 pairs of neighbouring nodes differ by more than a factor 2, most by 2.5 " +
				"between (0, 50) and (1, 50)"}},
		{"names in other case, spaces", "LON, Lat ,Return_Period_yr,PGA_g,SA_0.2_g,sa_1\n" + four, "", nil},
		{"kind", strings.ReplaceAll("kind,"+head+four, "\n", "\nmean,")[:len("kind,"+head+four)+20], "", nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			g, err := ReadGrid(strings.NewReader(c.text), "odd.csv",
				Options{ReturnPeriods: []float64{475}, SoilIncluded: true, Unit: c.unit})
			require.NoError(t, err)
			got := g.Coverage().Warnings
			require.Len(t, got, len(c.notes), "%q", got)
			for i, n := range c.notes {
				assert.Contains(t, got[i], n)
			}
		})
	}
}
