package inventory

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/csv"
	"fmt"
	"io"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"plinth/pipeline/inventory/source"
	"plinth/pipeline/plan"
)

// book returns a workbook of sheets of rows, in the order of names.
func book(t testing.TB, names []string, sheets ...[][]any) []byte {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	for i, rows := range sheets {
		if i == 0 {
			require.NoError(t, f.SetSheetName("Sheet1", names[i]))
		} else {
			_, err := f.NewSheet(names[i])
			require.NoError(t, err)
		}
		for n, row := range rows {
			require.NoError(t, f.SetSheetRow(names[i], fmt.Sprintf("A%d", n+1), &row))
		}
	}
	return packed(t, f)
}

func packed(t testing.TB, f *excelize.File) []byte {
	t.Helper()
	b, err := f.WriteToBuffer()
	require.NoError(t, err)
	return b.Bytes()
}

func value[T any](p *T) any {
	if p == nil {
		return nil
	}
	return *p
}

// stockBook writes the rows as a sheet, with titles above its header or without.
func stockBook(t testing.TB, rows []stockRow, titles bool) []byte {
	var sheet [][]any
	if titles {
		sheet = [][]any{{"Register of buildings"}, {"as of", time.Date(2024, 5, 1, 0, 0, 0, 0, time.UTC)}, {}}
	}
	sheet = append(sheet, []any{"ref", "name", "lon", "lat", "built", "floors", "height", "area", "type"})
	for _, r := range rows {
		p := r.At.(orb.Point)
		sheet = append(sheet, []any{r.Ref, value(r.Name), p[0], p[1], value(r.Built), value(r.Floors), value(r.Height),
			value(r.Area), r.Type})
	}
	if titles {
		sheet = append(sheet, []any{}, []any{"Total", nil, nil, nil, nil, nil, nil, 12345.0})
	}
	return book(t, []string{"Buildings"}, sheet)
}

// allCells returns the header and every cell of a register.
func allCells(t testing.TB, doc []byte, inv *plan.Inventory) (header, cells []string, fr *source.Frame) {
	t.Helper()
	s, err := source.Open(context.Background(), bytes.NewReader(doc), "register", inv)
	require.NoError(t, err)
	defer source.Close(s)
	at := make([]int, len(s.About().Header))
	for i := range at {
		at[i] = i
	}
	s.Pick(at)
	var rows source.Rows
	for err == nil {
		err = s.Next(&rows, 7)
	}
	require.ErrorIs(t, err, io.EOF)
	require.Empty(t, rows.Bad)
	return s.About().Header, rows.Cells, s.About()
}

// Every cell of a workbook is what a CSV of the same data holds: texts with their zeros,
// numbers with all digits whatever their format shows, dates by ISO 8601, the kept values of
// formulas. The first row of each pair is what the workbook was given.
func TestWorkbookCells(t *testing.T) {
	f := excelize.NewFile()
	style := func(code string) int {
		id, err := f.NewStyle(&excelize.Style{CustomNumFmt: &code})
		require.NoError(t, err)
		return id
	}
	day, err := f.NewStyle(&excelize.Style{NumFmt: 14})
	require.NoError(t, err)
	cells := []struct {
		given any
		style int
		want  string
	}{
		{"0042", 0, "0042"}, {"12.5", 0, "12.5"}, {"1.776", 0, "1.776"}, {" spaced ", 0, " spaced "},
		{1234567.891, style("#,##0"), "1234567.891"}, {0.125, style("0%"), "0.125"}, {12.5, style("0.00 \"m\""), "12.5"},
		{time.Date(1966, 5, 12, 0, 0, 0, 0, time.UTC), day, "1966-05-12"},
		{time.Date(1966, 5, 12, 0, 0, 0, 0, time.UTC), style("dd.mm.yyyy"), "1966-05-12"},
		{time.Date(1966, 5, 12, 0, 0, 0, 0, time.UTC), style("[$-409]mmm yy"), "1966-05-12"},
		{-0.25, 0, "-0.25"}, {1e21, 0, "1000000000000000000000"}, {int64(1966), 0, "1966"}, {true, 0, "TRUE"},
		{"=1+1", 0, "=1+1"}, {"", 0, ""}, {"Māori №3", 0, "Māori №3"},
	}
	var want []string
	for i, c := range cells {
		name, err := excelize.CoordinatesToCellName(i+1, 1)
		require.NoError(t, err)
		require.NoError(t, f.SetCellStr("Sheet1", name, fmt.Sprintf("column %c", 'a'+i)))
		name, err = excelize.CoordinatesToCellName(i+1, 2)
		require.NoError(t, err)
		require.NoError(t, f.SetCellValue("Sheet1", name, c.given))
		require.NoError(t, f.SetCellStyle("Sheet1", name, name, c.style))
		want = append(want, c.want)
	}
	last, err := excelize.CoordinatesToCellName(len(cells)+1, 2)
	require.NoError(t, err)
	require.NoError(t, f.SetCellStr("Sheet1", strings.TrimSuffix(last, "2")+"1", "sum"))
	require.NoError(t, f.SetCellInt("Sheet1", last, 7)) // the value that the workbook keeps
	require.NoError(t, f.SetCellFormula("Sheet1", last, "3+4"))
	want = append(want, "7")
	doc := packed(t, f)

	header, got, _ := allCells(t, doc, &plan.Inventory{Format: "xlsx"})
	assert.Equal(t, want, got)

	var text bytes.Buffer
	w := csv.NewWriter(&text)
	require.NoError(t, w.Write(header))
	require.NoError(t, w.Write(want))
	w.Flush()
	sameHeader, same, _ := allCells(t, text.Bytes(), &plan.Inventory{Format: "csv", Delimiter: ",", Encoding: "utf-8"})
	assert.Equal(t, header, sameHeader)
	assert.Equal(t, got, same)
}

// Where the decimal mark is a comma, a number has one too, and a text that looks like a
// number stays as it was written.
func TestWorkbookDecimalComma(t *testing.T) {
	doc := book(t, []string{"A"}, [][]any{{"a", "b", "c", "d", "e"}, {1.776, "1.776", "1.776,50", 15.2, 1776}})
	_, got, _ := allCells(t, doc, &plan.Inventory{Format: "xlsx", Decimal: ","})
	assert.Equal(t, []string{"1,776", "1.776", "1.776,50", "15,2", "1776"}, got)
}

// Titles above the header and a row of totals below the table are passed over and told, in a
// workbook and, but for the totals, in a CSV.
func TestTitlesAboveTheHeader(t *testing.T) {
	rows := madeRows(12, false)
	_, plain, _ := allCells(t, stockBook(t, rows, false), &plan.Inventory{Format: "xlsx"})
	named := map[string]string{"id": "ref", "system": "type"}
	for name, inv := range map[string]*plan.Inventory{
		"found by shape":     {Format: "xlsx"},
		"found by its names": {Format: "xlsx", Columns: named},
		"named":              {Format: "xlsx", HeaderRow: 4},
	} {
		header, cells, fr := allCells(t, stockBook(t, rows, true), inv)
		assert.Equal(t, "ref", header[0], name)
		assert.Equal(t, plain, cells, name)
		notes := strings.Join(fr.Notes, "\n")
		assert.Contains(t, notes, `the header stands on line 4; above it 3 lines were passed over, such as "Register`)
		assert.Contains(t, notes, `line 18, the last, was taken for a row of totals and left out`)
	}
	text := "Register;;\nas of 2024, draft;;\n\nref;name;area\n1;A;10\n2;B;20\n"
	for name, inv := range map[string]*plan.Inventory{
		"found by shape": {}, "found by its names": {Columns: named}, "named": {HeaderRow: 4},
	} {
		inv.Format, inv.Delimiter = "csv", ";"
		header, cells, fr := allCells(t, []byte(text), inv)
		assert.Equal(t, []string{"ref", "name", "area"}, header, name)
		assert.Equal(t, []string{"1", "A", "10", "2", "B", "20"}, cells, name)
		assert.Contains(t, strings.Join(fr.Notes, "\n"), "the header stands on line 4")
	}
	_, _, fr := allCells(t, []byte(text[strings.Index(text, "ref"):]), &plan.Inventory{Format: "csv", Delimiter: ";"})
	assert.Empty(t, fr.Notes)
	for broken, want := range map[string]string{
		"ref,na\"me\"s,area\n1,A,10\n":              "r.csv:1: the header cannot be read",
		"The \"old\" town\nref,name,area\n1,A,10\n": "",
	} {
		_, err := source.Open(context.Background(), strings.NewReader(broken), "r.csv",
			&plan.Inventory{Format: "csv", Delimiter: ","})
		if want == "" {
			assert.NoError(t, err, "a title may hold a quotation mark")
		} else {
			assert.ErrorContains(t, err, want)
		}
	}
	_, err := source.Open(context.Background(), strings.NewReader(text), "r.csv",
		&plan.Inventory{Format: "csv", Delimiter: ";", HeaderRow: 3})
	assert.ErrorContains(t, err, "r.csv: inventory.header_row: no row with anything in it")
}

// A row in the middle that begins with a word for a total, and a last one that is full, are
// rows as any other.
func TestRowsThatAreNoTotals(t *testing.T) {
	doc := book(t, []string{"A"}, [][]any{{"id", "x", "y"}, {"Total"}, {"a", 1, 2}, {"Total"}, {"Sum"}, {"total", 1, 2}})
	_, cells, _ := allCells(t, doc, &plan.Inventory{Format: "xlsx"})
	assert.Equal(t, []string{"Total", "", "", "a", "1", "2", "Total", "", "", "Sum", "", "", "total", "1", "2"}, cells)
}

// The sheet is named, or is the only one with anything in it.
func TestWorkbookSheets(t *testing.T) {
	data := [][]any{{"id", "name"}, {"a", "b"}}
	two := book(t, []string{"Legend", "Empty", "Data"}, [][]any{{"x", "y"}}, nil, data)
	_, cells, _ := allCells(t, two, &plan.Inventory{Format: "xlsx", Sheet: "Data"})
	assert.Equal(t, []string{"a", "b"}, cells)
	_, cells, _ = allCells(t, book(t, []string{"Empty", "Data"}, nil, data), &plan.Inventory{Format: "xlsx"})
	assert.Equal(t, []string{"a", "b"}, cells)
	for sheet, want := range map[string]string{
		"":      `inventory.sheet: the workbook has 2 sheets with something in them; name the register's under [inventory], such as sheet = "Legend"; there are Legend, Data`,
		"Dataa": "inventory.sheet: the workbook has no such sheet (Dataa); did you mean Data?",
	} {
		_, err := source.Open(context.Background(), bytes.NewReader(two), "r", &plan.Inventory{Format: "xlsx", Sheet: sheet})
		assert.ErrorContains(t, err, want)
	}
}

// archive packs parts by name.
func archive(t testing.TB, parts ...string) []byte {
	t.Helper()
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for i := 0; i < len(parts); i += 2 {
		p, err := w.Create(parts[i])
		require.NoError(t, err)
		_, err = io.WriteString(p, parts[i+1])
		require.NoError(t, err)
	}
	require.NoError(t, w.Close())
	return b.Bytes()
}

// hostile returns files that are no workbook of a register, with what is said of each.
func hostile(t testing.TB) map[string][]byte {
	good := book(t, []string{"A"}, [][]any{{"id", "name"}, {"a", "b"}})
	var many []string
	for i := range 300 {
		many = append(many, fmt.Sprintf("xl/worksheets/sheet%d.xml", i), "<worksheet/>")
	}
	sheet := "xl/worksheets/sheet1.xml"
	return map[string][]byte{
		"cannot be unpacked":                    good[:len(good)/2],
		"more than 200 times its size":          archive(t, sheet, strings.Repeat(" ", 50<<20)),
		"more than 200 sheets":                  archive(t, many...),
		"an archive without a sheet":            archive(t, "readme.txt", "hello"),
		"(xl/worksheets/sheet1.xml) cannot be":  archive(t, sheet, "<worksheet><sheetData><row><c><v>1</v>"),
		"of the old kind, or locked with a":     []byte("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1 and more"),
		"this is no workbook":                   []byte("id,name\n1,2\n"),
		"no sheet of the workbook has anything": book(t, []string{"A"}, nil),
	}
}

// A file made to fill the memory, one that is cut short and one that is something else are
// refused with what to do.
func TestHostileWorkbooks(t *testing.T) {
	tall := bytes.NewBufferString("<worksheet>")
	for i := range 1<<20 + 1 {
		fmt.Fprintf(tall, "<row r=\"%d\"/>", i+1)
	}
	tall.WriteString("</worksheet>")
	files := hostile(t)
	files["more than 1048576 rows"] = archive(t, "xl/worksheets/sheet1.xml", tall.String())
	for want, doc := range files {
		_, err := source.Open(context.Background(), bytes.NewReader(doc), "r.xlsx", &plan.Inventory{Format: "xlsx"})
		if assert.ErrorContains(t, err, want) {
			assert.Contains(t, err.Error(), "export the", want)
		}
	}
}

// FuzzWorkbook: no bytes panic, and rows in are buildings and rejects out.
func FuzzWorkbook(f *testing.F) {
	f.Add(stockBook(f, madeRows(3, false), true))
	f.Add(archive(f, "xl/worksheets/sheet1.xml", "<worksheet/>"))
	for _, doc := range hostile(f) {
		if len(doc) < 1<<16 {
			f.Add(doc)
		}
	}
	f.Fuzz(func(t *testing.T, doc []byte) {
		inv := stockPlan("xlsx")
		inv.Columns["lon"], inv.Columns["lat"] = "lon", "lat"
		r, err := NewReader(bytes.NewReader(doc), "r", inv, Options{})
		if err != nil {
			return
		}
		defer r.Close()
		var raw Raw
		var b Batch
		for err == nil {
			err = r.Read(&raw, &b)
		}
		tally := r.Report().Tally
		require.NoError(t, tally.Check())
	})
}
