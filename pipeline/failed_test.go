package pipeline

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/hazard"
	"plinth/hazard/field"
	"plinth/pipeline/inventory"
	"plinth/pipeline/plan"
	"plinth/pipeline/sample"
	"plinth/retrofit/rating"
)

// A faultyField is a hazard with a mistake in it: it panics at one place.
type faultyField struct {
	field.Field
	lon, lat float64
}

func (f faultyField) Lookup(lon, lat float64, class hazard.SiteClass, site *hazard.Site) error {
	if lon == f.lon && lat == f.lat {
		var none []hazard.Spectrum
		site.Spectra[0] = none[len(none)]
	}
	return f.Field.Lookup(lon, lat, class, site)
}

// faultyRun opens the demo in dir with a hazard that panics at the place of a building.
func faultyRun(t testing.TB, dir, id string, change func(*plan.Plan)) *Run {
	t.Helper()
	p, err := plan.Load(filepath.Join(dir, sample.PlanFile))
	require.NoError(t, err)
	p.Uncertainty.Draws = 0
	if change != nil {
		change(p)
	}
	r, err := Open(p)
	require.NoError(t, err)
	a, err := r.AssessOne(t.Context(), id)
	require.NoError(t, err)
	r.field = faultyField{r.field, a.Building.Lon, a.Building.Lat}
	return r
}

// without removes the row of a building from the register in dir.
func without(t testing.TB, dir, id string) {
	t.Helper()
	path := filepath.Join(dir, sample.RegisterFile)
	b, err := os.ReadFile(path)
	require.NoError(t, err)
	lines := strings.SplitAfter(string(b), "\n")
	for i, line := range lines {
		if strings.HasPrefix(line, id+",") {
			lines = append(lines[:i:i], lines[i+1:]...)
			break
		}
	}
	require.NoError(t, os.WriteFile(path, []byte(strings.Join(lines, "")), 0o600))
}

const faulty = "CS-00002"

// A building that the program fails on is one reject that says so. Every other gets the
// bytes it has without that building, whoever works beside it, and nothing is lost.
func TestFailedBuildingIsRejected(t *testing.T) {
	dir := town(t, 120)
	var first []byte
	for _, workers := range []int{1, 4} {
		res, err := faultyRun(t, dir, faulty, nil).Screen(t.Context(), Settings{Workers: workers, Replace: true})
		require.NoError(t, err)
		c := res.Summary.Counts
		require.Equal(t, c.In, c.Out+c.Rejected)
		if first == nil {
			first = files(t, dir)["rejects.csv"]
		}
		require.Equal(t, string(first), string(files(t, dir)["rejects.csv"]))
	}
	got := files(t, dir)
	var found []map[string]string
	for _, row := range rows(t, got["rejects.csv"]) {
		if row["building_id"] == faulty {
			found = append(found, row)
		}
	}
	require.Len(t, found, 1)
	assert.Contains(t, found[0]["rule"], SolverFailed)
	assert.Contains(t, found[0]["remedy"], "report")
	assert.Contains(t, found[0]["raw_value"], "index out of range [0] with length 0 (pipeline.faultyField.Lookup, line ")
	assert.NotContains(t, found[0]["raw_value"], "/")
	assert.Less(t, len(found[0]["raw_value"]), 400)

	without(t, dir, faulty)
	screened(t, dir, Settings{})
	want := files(t, dir)
	tables := []string{"buildings.csv", "candidates.csv", "verdicts.csv", "buildings.parquet", "candidates.parquet"}
	for _, name := range tables {
		assert.True(t, bytes.Equal(want[name], got[name]), name)
	}
}

// What a failure leaves in the scratch space of a worker does not reach the building
// after it.
func TestScratchSpaceIsNewAfterAFailure(t *testing.T) {
	r := faultyRun(t, town(t, 20), faulty, nil)
	a := r.NewAssessment()
	next, err := r.AssessOne(t.Context(), "CS-00003")
	require.NoError(t, err)
	var failed *FailedError
	bad := *next.Building
	bad.ID, bad.Lon, bad.Lat = faulty, r.field.(faultyField).lon, r.field.(faultyField).lat
	require.NoError(t, a.Assess(next.Building))
	require.ErrorAs(t, a.Assess(&bad), &failed)
	assert.Empty(t, a.Site.Spectra)
	require.NoError(t, a.Assess(next.Building))
	assert.Equal(t, next.Before, a.Before)
	assert.Equal(t, next.Choice, a.Choice)
}

// A failure while the rows of a building are made is one of that building, and none of
// its rows is written.
func TestFailureInRowsIsRejected(t *testing.T) {
	r := faultyRun(t, town(t, 30), faulty, nil)
	r.scales = []rating.Scale{99} // none of the scales there are
	var written, rejected memory
	out, refused := screenedBuildings(t, r, Outlets{&written, &written, &written, &rejected})
	assert.Zero(t, out)
	assert.Empty(t, written)
	assert.Len(t, rejected, int(refused))
	assert.Contains(t, string(rejected[0]), SolverFailed)
}

// screenedBuildings takes the buildings of a small register through a Screener, as is done
// on many machines, and returns its counts.
func screenedBuildings(t testing.TB, r *Run, to Outlets) (out, rejected int64) {
	screener := r.NewScreener("buildings.csv", to)
	reader, err := r.Register(t.Context())
	require.NoError(t, err)
	defer reader.Close()
	var raw inventory.Raw
	var batch inventory.Batch
	require.NoError(t, reader.Read(&raw, &batch))
	for i := range batch.Buildings {
		require.NoError(t, screener.Building(&batch.Buildings[i]))
	}
	out, rejected = screener.Counts()
	assert.Equal(t, int64(len(batch.Buildings)), out+rejected)
	return out, rejected
}

// Every way to a building ends in a sentence about that building.
func TestFailedBuildingInEveryCommand(t *testing.T) {
	dir := town(t, 60)
	r := faultyRun(t, dir, faulty, func(p *plan.Plan) {
		p.Confirm.Shortlist, p.Confirm.Records, p.Confirm.Pictures = 2, 2, 1
	})
	s := Settings{Replace: true}

	_, err := r.AssessOne(t.Context(), faulty)
	require.ErrorContains(t, err, faulty)
	require.ErrorContains(t, err, SolverFailed)
	require.ErrorContains(t, err, "report it")

	c, err := r.Check(t.Context())
	require.NoError(t, err)
	assert.Equal(t, int64(1), c.Failed)
	assert.Equal(t, int64(c.Register.Tally.In), c.Usable()+c.Rejected())
	var text bytes.Buffer
	require.NoError(t, c.Write(&text))
	words := strings.Join(strings.Fields(text.String()), " ")
	assert.Contains(t, words, "1 building on which the program failed: line 3, CS-00002: "+SolverFailed)

	spending, err := r.Budget(t.Context(), s)
	require.NoError(t, err)
	assert.Equal(t, spending.Counts.In, spending.Counts.Out+spending.Counts.Rejected)
	search, err := r.Inspect(t.Context(), s)
	require.NoError(t, err)
	assert.Equal(t, search.Counts.In, search.Counts.Out+search.Counts.Rejected)
	confirmation, err := r.Confirm(t.Context(), s)
	require.NoError(t, err)
	assert.Equal(t, confirmation.Counts.In, confirmation.Counts.Out+confirmation.Counts.Rejected)

	var rejected memory
	screenedBuildings(t, r, Outlets{nowhere{}, nowhere{}, nowhere{}, &rejected})
	assert.Contains(t, string(bytes.Join(rejected, nil)), SolverFailed)
}

// A memory keeps the rows it is given.
type memory [][]byte

func (m *memory) Add(_, row []byte) error {
	*m = append(*m, bytes.Clone(row))
	return nil
}
