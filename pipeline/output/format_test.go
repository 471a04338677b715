package output

import (
	"bufio"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// idsFormat is a format of a test: the owner's ids, one a line, and a count of columns beside.
func idsFormat[R any]() format[R] {
	return format[R]{
		Format: Format{Name: "ids", Map: true},
		open: func(f *File, t *Table[R], _ About) (rowWriter[R], error) {
			return &ids[R]{t, bufio.NewWriter(f)}, nil
		},
		beside: []beside[R]{{
			ending: "ids.txt",
			suits:  func(t *Table[R]) bool { return t.Name == Buildings.Name },
			write: func(w io.Writer, t *Table[R], _ About) error {
				_, err := fmt.Fprintf(w, "%d columns", len(t.Columns))
				return err
			},
		}},
	}
}

type ids[R any] struct {
	t *Table[R]
	w *bufio.Writer
}

func (w *ids[R]) Write(row *R) error {
	_, err := fmt.Fprintln(w.w, w.t.id(row))
	return err
}

func (w *ids[R]) Close() error { return w.w.Flush() }

// A format is a declaration and nothing else: one that is declared here alone is written, named
// and counted as the others are, beside one of them.
func TestAFormatIsADeclaration(t *testing.T) {
	dir := t.TempDir()
	set, err := NewSet(dir, Claim{Plan: "plan"})
	require.NoError(t, err)
	s, err := newSheet(set, &Buildings, About{}, []format[Building]{idsFormat[Building](), csvFormat[Building]()})
	require.NoError(t, err)
	rs := rows(300)
	var want strings.Builder
	for i := range rs {
		require.NoError(t, s.Write(&rs[i]))
		fmt.Fprintln(&want, rs[i].ID)
	}
	require.NoError(t, s.Close())
	require.NoError(t, set.Commit(&Manifest{PlanSHA256: "plan"}))

	f := idsFormat[Building]()
	require.Equal(t, []string{"buildings.ids", "buildings.ids.txt"}, f.files(&Buildings))
	b, err := os.ReadFile(filepath.Join(dir, "buildings.ids"))
	require.NoError(t, err)
	assert.Equal(t, want.String(), string(b))
	b, err = os.ReadFile(filepath.Join(dir, "buildings.ids.txt"))
	require.NoError(t, err)
	assert.Equal(t, fmt.Sprintf("%d columns", len(Buildings.Columns)), string(b))
	m, err := ReadManifest(dir)
	require.NoError(t, err)
	for _, f := range m.Files {
		if f.Name == "buildings.ids" || f.Name == "buildings.csv" {
			assert.EqualValues(t, len(rs), f.Rows, f.Name)
		}
	}
	other := idsFormat[Candidate]()
	assert.Equal(t, []string{"candidates.ids"}, other.files(&Candidates), "nothing stands beside another table")
}

// Every format on the list writes the files that it names, and no others.
func TestFormatsNameTheirFiles(t *testing.T) {
	seen := make(map[string]bool)
	for _, f := range Formats() {
		assert.False(t, seen[f.Name], "%s is listed twice", f.Name)
		seen[f.Name] = true
		assert.Equal(t, strings.ToLower(f.Name), f.Name)
		entries, err := os.ReadDir(writeFormats(t, &Buildings, rows(3), f.Name))
		require.NoError(t, err)
		var names []string
		for _, e := range entries {
			if e.Name() != ManifestName {
				names = append(names, e.Name())
			}
		}
		assert.ElementsMatch(t, Buildings.Files(f.Name), names, f.Name)
		if _, ok := FormatNamed(f.Large); f.Large != "" {
			assert.True(t, ok, "%s: %s is no format", f.Name, f.Large)
		}
		assert.Equal(t, f.Map, Verdicts.Files(f.Name) == nil, "%s: verdicts have no points", f.Name)
	}
	_, ok := FormatNamed("docx")
	assert.False(t, ok)
	_, err := NewSheet(nil, &Verdicts, About{}, "docx")
	require.EqualError(t, err, `output verdicts: no format "docx": use parquet, csv, gpkg, geojson, geojsonl, mbtiles, pmtiles`)
	_, err = NewSheet(nil, &Verdicts, About{}, FormatTiles)
	require.EqualError(t, err, `output verdicts: has no points for format "mbtiles"`)
}
