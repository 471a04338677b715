package output

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"io/fs"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"
)

// lines writes rows of cells to a sheet.
func (w *Workbook) lines(name string, widths []float64, rows [][]any) error {
	stream, err := w.book.NewStreamWriter(name)
	if err != nil {
		return err
	}
	for i, width := range widths {
		err = errors.Join(err, stream.SetColWidth(i+1, i+1, width))
	}
	for i, row := range rows {
		err = errors.Join(err, stream.SetRow(fmt.Sprintf("A%d", i+1), row))
	}
	return errors.Join(err, stream.Flush())
}

// answer writes the first sheet: what the run found, in short, and what must be said of it.
func (w *Workbook) answer(s *Summary) error {
	bold := func(v any) any { return excelize.Cell{StyleID: w.head, Value: v} }
	text := func(v string) any { return excelize.Cell{StyleID: w.style(lookText), Value: cleanText(v)} }
	money := func(v float64) any {
		if v-v != 0 {
			return nil
		}
		return excelize.Cell{StyleID: w.style(lookMoney), Value: Round(v, DefaultDigits)}
	}
	rows := [][]any{{bold("Which buildings first, and with what")}, {Caution}, {},
		{"Rows read", s.Counts.In}, {"Buildings ranked", s.Counts.Out}, {"Rows rejected", s.Counts.Rejected},
		{"Ranked by", s.RankBy}, {"Currency", text(w.about.Currency)}, {"Price date", text(w.about.PriceDate)},
		{"Program", "Plinth " + w.about.Version}}
	if w.about.BuiltIn != "" {
		rows = append(rows, []any{"Money rests on built-in defaults", w.about.BuiltIn})
	}
	if s.Now > 0 {
		rows = append(rows, []any{"Have an engineer look now, whatever the rank", s.Now,
			text("column look_now; the first: " + strings.Join(s.NowFirst, ", "))})
	}
	for _, sheet := range w.sheets {
		if sheet.rows > WorkbookRows {
			rows = append(rows, []any{bold(sheet.name), fmt.Sprintf("the first %d of %d rows; the other files have all",
				WorkbookRows, sheet.rows)})
		}
	}
	rows = append(rows, []any{}, []any{bold("Rank"), bold("Building"), bold("Name"), bold("Best measure"),
		bold("Likely cost"), bold("Net benefit"), bold("Data grade"), bold("Look now")})
	for i := range s.First {
		b := &s.First[i]
		rows = append(rows, []any{b.Rank, text(b.ID), text(b.Name), text(b.Best), money(b.BestCostLikely),
			money(b.BestNetBenefit), b.DataGrade, b.LookNow})
	}
	return w.lines("answer", []float64{34, 24, 34, 22, 16, 16, 12, 12}, rows)
}

// meanings writes the last sheet: the data dictionary of the tables in the workbook.
func (w *Workbook) meanings() error {
	const name = "columns"
	if _, err := w.book.NewSheet(name); err != nil {
		return err
	}
	head := []any{"sheet", "column", "type", "unit", "meaning"}
	for i, h := range head {
		head[i] = excelize.Cell{StyleID: w.head, Value: h}
	}
	rows := [][]any{head}
	rows = columnRows(rows, &Candidates)
	rows = columnRows(rows, &Buildings)
	rows = columnRows(rows, &Rejects)
	return w.lines(name, []float64{22, 34, 14, 14, 110}, rows)
}

func columnRows[R any](rows [][]any, t *Table[R]) [][]any {
	for i := range t.Columns {
		c := &t.Columns[i]
		rows = append(rows, []any{t.Name, c.Name, c.Type(), c.Unit, c.Doc})
	}
	return rows
}

// A sortedZip packs parts and writes them in the order of their names and without a time, so
// that equal rows give equal bytes.
type sortedZip struct {
	to    io.Writer
	parts []*zipPart
}

// A zipPart is one part, packed.
type zipPart struct {
	name   string
	packed bytes.Buffer
	flate  *flate.Writer
	size   uint64
	crc    uint32
}

// Create begins a part.
func (z *sortedZip) Create(name string) (io.Writer, error) {
	p := &zipPart{name: name}
	var err error
	p.flate, err = flate.NewWriter(&p.packed, flate.DefaultCompression)
	z.parts = append(z.parts, p)
	return p, err
}

// Write adds bytes to the part.
func (p *zipPart) Write(b []byte) (int, error) {
	p.size += uint64(len(b))
	p.crc = crc32.Update(p.crc, crc32.IEEETable, b)
	return p.flate.Write(b)
}

// AddFS is of the interface of the library and never called.
func (z *sortedZip) AddFS(fs.FS) error { return errors.New("output: a workbook has no folder") }

// Close writes the parts.
func (z *sortedZip) Close() error {
	slices.SortFunc(z.parts, func(a, b *zipPart) int { return strings.Compare(a.name, b.name) })
	w := zip.NewWriter(z.to)
	for _, p := range z.parts {
		if err := p.flate.Close(); err != nil {
			return err
		}
		raw, err := w.CreateRaw(&zip.FileHeader{Name: p.name, Method: zip.Deflate, CRC32: p.crc,
			CompressedSize64: uint64(p.packed.Len()), UncompressedSize64: p.size})
		if err != nil {
			return err
		}
		if _, err := p.packed.WriteTo(raw); err != nil {
			return err
		}
	}
	return w.Close()
}
