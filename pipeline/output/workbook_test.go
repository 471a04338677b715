package output

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"
)

// bookOf returns a workbook of rows, added to their sheets at once.
func bookOf(t *testing.T, candidates []Candidate, buildings []Building, rejects []Reject) []byte {
	t.Helper()
	w := NewWorkbook(About{Version: "1.2.3", Currency: "crowns"})
	var all sync.WaitGroup
	all.Go(func() {
		for i := range candidates {
			AddToWorkbook(w, &Candidates, &candidates[i])
		}
	})
	all.Go(func() {
		for i := range buildings {
			AddToWorkbook(w, &Buildings, &buildings[i])
		}
	})
	for i := range rejects {
		AddToWorkbook(w, &Rejects, &rejects[i])
	}
	all.Wait()
	var b bytes.Buffer
	s := &Summary{Counts: Counts{In: 10, Out: int64(len(buildings))}, First: buildings[:min(3, len(buildings))]}
	require.NoError(t, w.Write(&b, s))
	return b.Bytes()
}

// Every cell of the workbook is that of the CSV, which is checked by itself: texts as texts,
// ids among them, also those that look like a number or a formula.
func TestWorkbookHoldsWhatTheCSVHolds(t *testing.T) {
	rs := rows(40)
	for i, id := range []string{"0012", "1E5", "=1+1", "-3", "007.0", "TRUE"} {
		rs[i].ID = id
	}
	doc := bookOf(t, nil, rs, nil)
	assert.True(t, bytes.Equal(doc, bookOf(t, nil, rs, nil)), "equal rows give equal bytes")

	var text bytes.Buffer
	c := NewCSV(&text, &Buildings)
	for i := range rs {
		require.NoError(t, c.Write(&rs[i]))
	}
	require.NoError(t, c.Close())
	want, err := csv.NewReader(&text).ReadAll()
	require.NoError(t, err)

	book, err := excelize.OpenReader(bytes.NewReader(doc))
	require.NoError(t, err)
	defer book.Close()
	assert.Equal(t, []string{"answer", "candidates", "buildings", "rejects", "columns"}, book.GetSheetList())
	got, err := book.GetRows("buildings", excelize.Options{RawCellValue: true})
	require.NoError(t, err)
	require.Len(t, got, len(want))
	for i, row := range want {
		for j, cell := range row {
			col := &Buildings.Columns[j]
			if i > 0 && col.Text != nil {
				cell = RawText(cell)
			}
			if i > 0 && col.Bool != nil {
				cell = map[string]string{"true": "1", "false": "0"}[cell]
			}
			has := ""
			if j < len(got[i]) {
				has = strings.ReplaceAll(got[i][j], "\r\n", "\n") // as the reader of CSV does
			}
			require.True(t, cell == has || i > 0 && col.Text == nil && sameNumber(cell, has), "row %d, %s: %q, not %q", i,
				col.Name, has, cell)
		}
	}
	at := 0
	for j := range Buildings.Columns {
		if Buildings.Columns[j].Name == Buildings.ID {
			at = j + 1
		}
	}
	for i := range rs {
		name, err := excelize.CoordinatesToCellName(at, i+2)
		require.NoError(t, err)
		kind, err := book.GetCellType("buildings", name)
		require.NoError(t, err)
		assert.Equal(t, excelize.CellTypeInlineString, kind, name)
		formula, err := book.GetCellFormula("buildings", name)
		require.NoError(t, err)
		assert.Empty(t, formula)
	}
}

func sameNumber(a, b string) bool {
	var x, y float64
	_, errA := fmt.Sscan(a, &x)
	_, errB := fmt.Sscan(b, &y)
	return errA == nil && errB == nil && x == y
}

// Every name of a column stays in view and has its meaning as a note; money and percentages
// have their formats; the last sheet is the data dictionary.
func TestWorkbookSaysWhatItHolds(t *testing.T) {
	book, err := excelize.OpenReader(bytes.NewReader(bookOf(t, nil, rows(2), nil)))
	require.NoError(t, err)
	defer book.Close()
	panes, err := book.GetPanes("buildings")
	require.NoError(t, err)
	assert.True(t, panes.Freeze && panes.YSplit == 1)
	notes, err := book.GetComments("buildings")
	require.NoError(t, err)
	require.Len(t, notes, len(Buildings.Columns))
	for i := range Buildings.Columns {
		c := &Buildings.Columns[i]
		name, err := excelize.CoordinatesToCellName(i+1, 2)
		require.NoError(t, err)
		if c.missing(&rows(1)[0]) {
			continue
		}
		id, err := book.GetCellStyle("buildings", name)
		require.NoError(t, err)
		style, err := book.GetStyle(id)
		require.NoError(t, err)
		want := string(c.cellLook())
		assert.Equal(t, want, *style.CustomNumFmt, c.Name)
	}
	all := map[string]string{}
	for _, n := range notes {
		all[n.Cell] = n.Text
	}
	assert.Contains(t, all["A1"], Buildings.Columns[0].Doc)
	columns, err := book.GetRows("columns")
	require.NoError(t, err)
	assert.Len(t, columns, 1+len(Candidates.Columns)+len(Buildings.Columns)+len(Rejects.Columns))
	answer, err := book.GetRows("answer")
	require.NoError(t, err)
	assert.Equal(t, Caution, answer[1][0])
}

// Rows beyond the limit are left out and the first sheet says so.
func TestWorkbookLimit(t *testing.T) {
	rejects := make([]Reject, WorkbookRows+2)
	for i := range rejects {
		rejects[i] = Reject{Line: int64(i), Rule: "missing-id"}
	}
	book, err := excelize.OpenReader(bytes.NewReader(bookOf(t, nil, rows(1), rejects)))
	require.NoError(t, err)
	defer book.Close()
	n := 0
	in, err := book.Rows("rejects")
	require.NoError(t, err)
	for in.Next() {
		n++
	}
	require.NoError(t, in.Close())
	assert.Equal(t, WorkbookRows+1, n)
	answer, err := book.GetRows("answer")
	require.NoError(t, err)
	var said []string
	for _, row := range answer {
		said = append(said, strings.Join(row, " "))
	}
	assert.Contains(t, strings.Join(said, "\n"), "rejects the first 50000 of 50002 rows; the other files have all")
}
