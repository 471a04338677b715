package source

import (
	"regexp"
	"strings"

	"github.com/xuri/excelize/v2"
	"github.com/xuri/nfp"
)

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
		return n >= 14 && n <= 17 || n == 22 || n >= 27 && n <= 31 || n == 36 || n >= 50 && n <= 54 ||
			n >= 57 && n <= 58
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
