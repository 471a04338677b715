package screen

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/assess"
	"plinth/pipeline/internal/trial"
	"plinth/pipeline/inventory"
	"plinth/pipeline/output"
	"plinth/pipeline/plan"
)

// A screening writes one workbook of the same bytes whatever the workers, its manifest lists it,
// and a sheet of it is a register again.
func TestWorkbookOfAScreening(t *testing.T) {
	var docs [][]byte
	for _, workers := range []int{1, 2} {
		study := trial.Small(t, trial.OnRock+"[output]\nformats = [\"xlsx\"]\n", "C,,\nB,-30.5,40.6,timber-frame,2,300,C,,\nC,x,y,timber-frame,2,300,C,,")
		_, err := Stock(context.Background(), study, assess.Settings{Workers: workers})
		require.NoError(t, err)
		folder := study.Plan().Output.Folder
		path := filepath.Join(folder, output.WorkbookName)
		doc, err := os.ReadFile(path)
		require.NoError(t, err)
		docs = append(docs, doc)
		m, err := output.ReadManifest(folder)
		require.NoError(t, err)
		var listed []string
		for _, f := range m.Files {
			listed = append(listed, f.Name)
		}
		assert.Contains(t, listed, output.WorkbookName)
		assert.NotContains(t, listed, "buildings.csv")

		r, err := inventory.Open(&plan.Inventory{Path: path, Format: "xlsx", Sheet: "buildings",
			Columns: map[string]string{"id": "building_id", "lon": "lon", "lat": "lat", "system": "system",
				"storeys": "storeys", "floor_area": "floor_area_m2"},
			Units: map[string]string{"floor_area": "m2"}}, inventory.Options{})
		require.NoError(t, err)
		var raw inventory.Raw
		var b inventory.Batch
		require.NoError(t, r.Read(&raw, &b))
		require.NoError(t, r.Close())
		require.Len(t, b.Buildings, 2)
		areas := map[string]float64{}
		for _, bl := range b.Buildings {
			areas[bl.ID] = bl.FloorArea
		}
		assert.Equal(t, map[string]float64{"A": 2000, "B": 300}, areas)
	}
	assert.Equal(t, docs[0], docs[1])
}
