package screen

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/assess"
	"plinth/pipeline/internal/town"
	"plinth/pipeline/internal/trial"
	"plinth/pipeline/inventory"
	"plinth/pipeline/plan"
)

// A building that the program fails on is one reject that says so. Every other gets the
// bytes it has without that building, whoever works beside it, and nothing is lost.
func TestFailedBuildingIsRejected(t *testing.T) {
	dir := town.New(t, 120)
	var first []byte
	for _, workers := range []int{1, 4} {
		res, err := Stock(t.Context(), trial.Faulty(t, dir, trial.FaultyID, nil),
			assess.Settings{Workers: workers, Replace: true})
		require.NoError(t, err)
		c := res.Summary.Counts
		require.Equal(t, c.In, c.Out+c.Rejected)
		if first == nil {
			first = town.Files(t, dir)["rejects.csv"]
		}
		require.Equal(t, string(first), string(town.Files(t, dir)["rejects.csv"]))
	}
	got := town.Files(t, dir)
	var found []map[string]string
	for _, row := range town.Rows(t, got["rejects.csv"]) {
		if row["building_id"] == trial.FaultyID {
			found = append(found, row)
		}
	}
	require.Len(t, found, 1)
	assert.Contains(t, found[0]["rule"], assess.SolverFailed)
	assert.Contains(t, found[0]["remedy"], "report")
	assert.Contains(t, found[0]["raw_value"],
		"index out of range [0] with length 0 (trial.faultyField.Lookup, line ")
	assert.NotContains(t, found[0]["raw_value"], "/")
	assert.Less(t, len(found[0]["raw_value"]), 400)

	trial.Without(t, dir, trial.FaultyID)
	screened(t, dir, assess.Settings{})
	want := town.Files(t, dir)
	tables := []string{"buildings.csv", "candidates.csv", "verdicts.csv", "buildings.parquet",
		"candidates.parquet"}
	for _, name := range tables {
		assert.True(t, bytes.Equal(want[name], got[name]), name)
	}
}

// A failure while the rows of a building are made is one of that building, and none of
// its rows is written.
func TestFailureInRowsIsRejected(t *testing.T) {
	study := trial.Faulty(t, town.New(t, 30), trial.FaultyID,
		func(p *plan.Plan) { p.Rating.Scales = []string{"asce-41"} })
	study.Scales()[0] = 99 // none of the scales there are
	var written, rejected memory
	out, refused := screenedBuildings(t, study, Outlets{&written, &written, &written, &rejected})
	assert.Zero(t, out)
	assert.Empty(t, written)
	assert.Len(t, rejected, int(refused))
	assert.Contains(t, string(rejected[0]), assess.SolverFailed)
}

// A Screener writes a building that the program fails on as a reject.
func TestFailedBuildingOfAScreener(t *testing.T) {
	study := trial.Faulty(t, town.New(t, 60), trial.FaultyID, nil)
	var written, rejected memory
	screenedBuildings(t, study, Outlets{&written, &written, &written, &rejected})
	assert.NotEmpty(t, written)
	assert.Contains(t, string(bytes.Join(rejected, nil)), assess.SolverFailed)
}

// screenedBuildings takes the buildings of a small register through a Screener, as is done
// on many machines, and returns its counts.
func screenedBuildings(t testing.TB, study *assess.Study, to Outlets) (out, rejected int64) {
	screener := NewScreener(study, "buildings.csv", to)
	reader, err := study.Register(t.Context())
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

// A memory keeps the rows it is given.
type memory [][]byte

func (m *memory) Add(_, row []byte) error {
	*m = append(*m, bytes.Clone(row))
	return nil
}
