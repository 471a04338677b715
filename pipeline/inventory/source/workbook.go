package source

import (
	"archive/zip"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"
	"github.com/xuri/nfp"

	"plinth/pipeline/inventory/fault"
	"plinth/pipeline/plan"
)

// A bookSource gives the rows of one sheet of a workbook (ECMA-376, SpreadsheetML), one at
// a time. A cell is what a CSV of the sheet would hold: a text as it is, a number with all
// its digits whatever its format shows, a date as 1966-05-12, a formula as the value that
// the workbook keeps of it. Rows without anything in them are passed over.
type bookSource struct {
	Frame
	ctx     context.Context // whose end ends the reading
	book    *excelize.File
	sheet   string
	rows    *excelize.Rows
	line    int        // of the sheet, of the row read last
	head    [][]string // rows read ahead, and the lines they stand on
	lines   []int
	at      []int // places of the picked columns
	decimal bool  // the register's decimal mark is a comma
	held    []string
	heldAt  int // line of the held row, which may be a row of totals
}

// openWorkbook opens a sheet and reads up to its header.
func openWorkbook(ctx context.Context, file string, in io.Reader, inv *plan.Inventory) (s *bookSource, err error) {
	s = &bookSource{Frame: Frame{File: file}, ctx: ctx, decimal: inv.Decimal == ","}
	defer s.guarded(&err)
	packed, err := io.ReadAll(io.LimitReader(in, mostPacked+1))
	switch {
	case err != nil:
		return nil, s.Broken(err)
	case len(packed) > mostPacked:
		return nil, &fault.FileError{File: file, Remedy: asText,
			Rule: fmt.Sprintf("the workbook has more than %d MB", mostPacked>>20)}
	case bytes.HasPrefix(packed, []byte(compoundMark)):
		return nil, &fault.FileError{File: file, Remedy: asText,
			Rule: "the workbook is of the old kind, or locked with a password"}
	case !bytes.HasPrefix(packed, []byte("PK")):
		return nil, &fault.FileError{File: file, Key: "inventory.format", Rule: "this is no workbook",
			Remedy: "export the register again, or write its format"}
	}
	z, err := zip.NewReader(bytes.NewReader(packed), int64(len(packed)))
	if err != nil {
		return nil, s.damaged("the workbook cannot be unpacked", err)
	}
	if err := s.guard(ctx, z); err != nil {
		return nil, err
	}
	s.book, err = excelize.OpenReader(bytes.NewReader(packed), excelize.Options{UnzipSizeLimit: mostUnpacked})
	if err != nil {
		return nil, s.damaged("the workbook cannot be read", err)
	}
	if err := errors.Join(s.choose(inv.Sheet), s.plainNumbers()); err != nil {
		return nil, errors.Join(err, s.Close())
	}
	if s.rows, err = s.book.Rows(s.sheet); err != nil {
		return nil, errors.Join(s.damaged("the sheet cannot be read", err), s.Close())
	}
	if err := s.readHead(inv); err != nil {
		return nil, errors.Join(err, s.Close())
	}
	return s, nil
}

// guarded turns a panic of the library into an error: bad data never panics.
func (s *bookSource) guarded(err *error) {
	if r := recover(); r != nil {
		*err = s.damaged("the workbook cannot be read", fmt.Errorf("%v", r))
	}
}

// Close removes what was unpacked to disk.
func (s *bookSource) Close() error {
	var err error
	if s.rows != nil {
		err = s.rows.Close()
	}
	if s.book != nil {
		err = errors.Join(err, s.book.Close())
	}
	return err
}

func (s *bookSource) Pick(at []int) { s.at = at }

// choose finds the sheet to read: the one that the plan names, or the only one that is shown
// and has anything in it.
func (s *bookSource) choose(name string) error {
	e := &fault.FileError{File: s.File, Key: "inventory.sheet", Value: name,
		Rule: "the workbook has no such sheet", Remedy: fault.DidYouMean(name, s.book.GetSheetList())}
	if name != "" {
		if s.sheet = name; !slices.Contains(s.book.GetSheetList(), name) {
			return e
		}
		return nil
	}
	full := s.sheets()
	switch len(full) {
	case 0:
		e.Key, e.Rule, e.Remedy = "", "no sheet of the workbook has anything in it", "export the register again"
		return e
	case 1:
		s.sheet = full[0]
		return nil
	}
	e.Rule = fmt.Sprintf("the workbook has %d sheets with something in them", len(full))
	e.Remedy = fmt.Sprintf("name the register's under [inventory], such as sheet = %q; there are %s", full[0],
		strings.Join(full, ", "))
	return e
}

// sheets returns the names of the sheets that are shown and have anything in them.
func (s *bookSource) sheets() []string {
	var full []string
	for _, name := range s.book.GetSheetList() {
		shown, err := s.book.GetSheetVisible(name)
		if err != nil || !shown {
			continue
		}
		rows, err := s.book.Rows(name)
		for err == nil && rows.Next() {
			if cells, wrong := rows.Columns(); wrong == nil && told(cells) != "" {
				full = append(full, name)
				break
			}
		}
		if err == nil {
			rows.Close()
		}
	}
	return full
}

// plainNumbers makes the library give every number with all its digits and every date as
// 1966-05-12, whatever the formats of the cells show.
func (s *bookSource) plainNumbers() error {
	if _, err := s.book.GetStyle(0); err != nil {
		return s.damaged("the formats of the workbook's cells cannot be read", err)
	}
	day, err := s.book.NewStyle(&excelize.Style{CustomNumFmt: new("yyyy-mm-dd")})
	if err != nil {
		return s.damaged("the formats of the workbook's cells cannot be read", err)
	}
	formats := s.book.Styles.CellXfs.Xf
	asDay, plain := formats[day].NumFmtID, new(plainFormat)
	for i := range formats[:day] {
		style, err := s.book.GetStyle(i)
		formats[i].NumFmtID = plain
		if err == nil && isDate(style) {
			formats[i].NumFmtID = asDay
		}
	}
	return nil
}

// plainFormat is the number of no format.
const plainFormat = 1 << 20

// isDate reports whether cells of a style show a day. The numbers are those of the formats
// that need no code (ECMA-376 part 1, 18.8.30).
func isDate(style *excelize.Style) bool {
	if style.CustomNumFmt == nil {
		n := style.NumFmt
		return n >= 14 && n <= 17 || n == 22 || n >= 27 && n <= 31 || n == 36 || n >= 50 && n <= 54 || n >= 57 && n <= 58
	}
	p := nfp.NumberFormatParser()
	for _, section := range p.Parse(*style.CustomNumFmt) {
		for _, token := range section.Items {
			if token.TType == nfp.TokenTypeDateTimes && strings.ContainsAny(token.TValue, "yYdDeE") {
				return true
			}
		}
	}
	return false
}

// number is what the library gives for the cell of a number.
var number = regexp.MustCompile(`^-?\d+\.\d+$`)

// thousands is a number that is another one where a dot parts thousands.
var thousands = regexp.MustCompile(`^-?\d{1,3}\.\d{3}$`)

// marked writes a number with the register's decimal mark. A text that looks like a number
// stays as it is: where that would be another number, the workbook is asked for its kind.
func (s *bookSource) marked(cells []string) error {
	for i, c := range cells {
		if !s.decimal || !number.MatchString(c) {
			continue
		}
		if thousands.MatchString(c) {
			name, err := excelize.CoordinatesToCellName(i+1, s.line)
			if err != nil {
				return err
			}
			kind, err := s.book.GetCellType(s.sheet, name)
			if err != nil {
				return err
			}
			if kind == excelize.CellTypeSharedString || kind == excelize.CellTypeInlineString {
				continue
			}
		}
		cells[i] = strings.Replace(c, ".", ",", 1)
	}
	return nil
}

// Sheets returns the names of the sheets of a workbook that are shown and have anything in
// them. Open says what is wrong with one that cannot be read.
func Sheets(in io.Reader) (names []string, err error) {
	s := &bookSource{Frame: Frame{File: "workbook"}}
	defer s.guarded(&err)
	if s.book, err = excelize.OpenReader(in, excelize.Options{UnzipSizeLimit: mostUnpacked}); err != nil {
		return nil, err
	}
	return s.sheets(), s.Close()
}
