package output

import (
	"errors"
	"fmt"
	"io"
	"sync"

	"github.com/xuri/excelize/v2"
)

// FormatWorkbook is the format of one workbook for people who work in spreadsheets.
const FormatWorkbook = "xlsx"

// WorkbookName is the file of that format.
const WorkbookName = "results.xlsx"

// WorkbookRows is how many rows of a table the workbook holds, the foremost first. A
// spreadsheet program is slow with more columns of that many (judgement); the format ends at
// 1,048,576.
const WorkbookRows = 50_000

// A Workbook collects rows of tables for one workbook (ECMA-376, SpreadsheetML): the answer,
// a sheet for each table, and what the columns mean. Ids and other texts are cells of text,
// so that no spreadsheet takes 0012 or 1E5 for a number or a text for a formula. Money and
// percentages have their formats, and every name of a column has its meaning as a note.
//
// Several goroutines may add rows. A nil Workbook takes rows and does nothing.
type Workbook struct {
	mu     sync.Mutex
	about  About
	book   *excelize.File
	sheets []*bookSheet
	err    error // the first
	looks  map[cellLook]int
	head   int // style of the names of columns
}

// A bookSheet is the sheet of one table.
type bookSheet struct {
	name   string
	rows   int64
	stream *excelize.StreamWriter
	styles []int
	cells  []any
}

// A cellLook is how the cells of a column are shown.
type cellLook string

// The looks. Text is not read as a number, whatever it looks like; columns of % hold 2.5 for
// 2.5 %.
const (
	lookText    cellLook = "@"
	lookMoney   cellLook = "#,##0"
	lookPercent cellLook = `0.00"%"`
	lookWhole   cellLook = "0"
	lookNumber  cellLook = "General"
)

// NewWorkbook returns a workbook with a sheet for each of the tables of a screening.
func NewWorkbook(about About) *Workbook {
	w := &Workbook{about: about, book: excelize.NewFile(), looks: make(map[cellLook]int)}
	w.keep(w.book.SetSheetName("Sheet1", "answer"))
	var err error
	w.head, err = w.book.NewStyle(&excelize.Style{Font: &excelize.Font{Bold: true},
		Alignment: &excelize.Alignment{Vertical: "top"}})
	w.keep(err)
	addSheet(w, &Candidates)
	addSheet(w, &Buildings)
	addSheet(w, &Rejects)
	return w
}

func (w *Workbook) keep(err error) {
	if w.err == nil && err != nil {
		w.err = fmt.Errorf("%s: %w", WorkbookName, err)
	}
}

// style returns the style of a cellLook.
func (w *Workbook) style(l cellLook) int {
	if id, ok := w.looks[l]; ok {
		return id
	}
	code := string(l)
	id, err := w.book.NewStyle(&excelize.Style{CustomNumFmt: &code})
	w.keep(err)
	w.looks[l] = id
	return id
}

// cellLook returns how the cells of the column are shown.
func (c *Column[R]) cellLook() cellLook {
	switch {
	case c.Text != nil:
		return lookText
	case c.Unit == "currency" || c.Unit == "currency/yr":
		return lookMoney
	case c.Unit == "%":
		return lookPercent
	case c.Int != nil:
		return lookWhole
	}
	return lookNumber
}

// meaning returns the text of the note of a column.
func (c *Column[R]) meaning() string {
	if c.Unit == "" {
		return c.Doc
	}
	return c.Doc + " (" + c.Unit + ")"
}

// addSheet begins the sheet of a table with the names of its columns.
func addSheet[R any](w *Workbook, t *Table[R]) {
	s := &bookSheet{name: t.Name, styles: make([]int, len(t.Columns)), cells: make([]any, len(t.Columns))}
	_, err := w.book.NewSheet(s.name)
	w.keep(err)
	for i := range t.Columns {
		c := &t.Columns[i]
		s.styles[i] = w.style(c.cellLook())
		cell, err := excelize.CoordinatesToCellName(i+1, 1)
		w.keep(err)
		w.keep(w.book.AddComment(s.name, excelize.Comment{Author: "Plinth", Cell: cell, Text: c.meaning(),
			Width: 260, Height: 110}))
		s.cells[i] = excelize.Cell{StyleID: w.head, Value: c.Name}
	}
	s.begin(w)
	w.sheets = append(w.sheets, s)
}

// begin writes the names of the columns, which stay in view.
func (s *bookSheet) begin(w *Workbook) {
	var err error
	if s.stream, err = w.book.NewStreamWriter(s.name); err != nil {
		w.keep(err)
		return
	}
	w.keep(s.stream.SetPanes(&excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"}))
	w.keep(s.stream.SetColWidth(1, max(1, len(s.cells)), 16))
	w.keep(s.stream.SetRow("A1", s.cells))
}

// AddToWorkbook adds a row of a table of NewWorkbook. Rows beyond WorkbookRows are counted
// and left out. Write returns the error of a row that could not be added.
func AddToWorkbook[R any](w *Workbook, t *Table[R], row *R) {
	if w == nil {
		return
	}
	w.mu.Lock()
	defer w.mu.Unlock()
	for _, s := range w.sheets {
		if s.name != t.Name || w.err != nil {
			continue
		}
		if s.rows++; s.rows > WorkbookRows {
			return
		}
		for i := range t.Columns {
			s.cells[i] = nil
			if c := &t.Columns[i]; !c.missing(row) {
				s.cells[i] = excelize.Cell{StyleID: s.styles[i], Value: c.inBook(row)}
			}
		}
		w.keep(s.stream.SetRow(fmt.Sprintf("A%d", s.rows+1), s.cells))
	}
}

// inBook returns the value of row in the column as a workbook holds it.
func (c *Column[R]) inBook(row *R) any {
	if c.Bool != nil {
		return *c.Bool(row)
	}
	return c.stored(row)
}

// Write ends the workbook with the answer and the meanings, and writes it.
func (w *Workbook) Write(to io.Writer, s *Summary) error {
	w.mu.Lock()
	defer w.mu.Unlock()
	for _, sheet := range w.sheets {
		if w.err == nil {
			w.keep(sheet.stream.Flush())
		}
	}
	if w.err == nil {
		w.keep(errors.Join(w.answer(s), w.meanings()))
	}
	w.book.SetZipWriter(func(out io.Writer) excelize.ZipWriter { return &sortedZip{to: out} })
	if w.err == nil {
		w.keep(w.book.Write(to))
	}
	w.keep(w.book.Close())
	return w.err
}
