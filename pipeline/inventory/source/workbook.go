package source

import (
	"archive/zip"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"

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
