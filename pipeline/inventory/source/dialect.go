package source

import (
	"bytes"
	"encoding/csv"
	"io"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"

	"plinth/pipeline/inventory/fault"
	"plinth/pipeline/plan"
)

// byteOrderMark opens files of UTF-8 that spreadsheets write.
const byteOrderMark = "\uFEFF"

// delimiters are the delimiters that are looked for. The first wins a tie.
const delimiters = ",;\t|"

// A dialect says how a text file is written: what splits its cells, and how its letters are
// encoded.
type dialect struct {
	delimiter rune
	letters   *charmap.Charmap // nil for UTF-8
}

// understand takes the dialect from the plan, or from the head of the file where
// the plan leaves it open. all says that head is the whole file.
func (d *dialect) understand(inv *plan.Inventory, head []byte, all bool, f *Frame) *fault.FileError {
	if e := d.encoding(inv.Encoding, head, all, f); e != nil {
		return e
	}
	if e := d.split(inv, head, f); e != nil {
		return e
	}
	if d.letters != nil && d.delimiter >= utf8.RuneSelf {
		return &fault.FileError{Key: "inventory.delimiter", Value: string(d.delimiter),
			Rule: "not a delimiter in this encoding", Remedy: "save the register as UTF-8"}
	}
	return nil
}

// encoding sets the letters. Text that is not UTF-8 is taken for Windows-1252,
// which contains Latin-1 except for its control characters. Only the head is looked
// at. Letters further down that are not UTF-8 are replaced and counted.
func (d *dialect) encoding(word string, head []byte, all bool, f *Frame) *fault.FileError {
	switch word {
	case "utf-8":
	case "windows-1252":
		d.letters = charmap.Windows1252
	case "latin-1":
		d.letters = charmap.ISO8859_1
	case "", "auto":
		if !validHead(head, all) {
			d.letters = charmap.Windows1252
			f.Note("its letters are not UTF-8 and were read as Windows-1252; write encoding = " +
				"\"windows-1252\" under [inventory] to confirm, or save the register as UTF-8")
		}
	default:
		return &fault.FileError{Key: "inventory.encoding", Value: word, Rule: "not an encoding that is read",
			Remedy: "write utf-8, windows-1252 or latin-1"}
	}
	return nil
}

// validHead reports whether head is UTF-8. A letter may be cut at its end.
func validHead(head []byte, all bool) bool {
	if !all {
		for i := 1; i < utf8.UTFMax && i <= len(head); i++ {
			if utf8.RuneStart(head[len(head)-i]) {
				if !utf8.FullRune(head[len(head)-i:]) {
					head = head[:len(head)-i]
				}
				break
			}
		}
	}
	return utf8.Valid(head)
}

// split sets the delimiter.
func (d *dialect) split(inv *plan.Inventory, head []byte, f *Frame) *fault.FileError {
	d.delimiter = ','
	switch {
	case inv.Delimiter == "auto":
		d.delimiter = bestDelimiter(head, inv.Decimal)
		f.Note("cells are split at %q, found by looking", d.delimiter)
	case inv.Delimiter != "":
		d.delimiter, _ = utf8.DecodeRuneInString(inv.Delimiter)
		if utf8.RuneCountInString(inv.Delimiter) != 1 || strings.ContainsAny(inv.Delimiter, "\"\r\n\uFFFD") {
			return &fault.FileError{Key: "inventory.delimiter", Value: inv.Delimiter, Rule: "not a delimiter",
				Remedy: `write one character, such as "," or ";" or "\t", or "auto"`}
		}
	}
	if inv.Decimal == "," && d.delimiter == ',' {
		return &fault.FileError{Key: "inventory.decimal", Rule: "the decimal mark is also the delimiter",
			Remedy: `write delimiter = ";" if cells are split by semicolons`}
	}
	return nil
}

// bestDelimiter returns the delimiter that gives columns of the first rows, all of one width,
// behind the fewest titles, and of those the one that gives the most. The decimal mark is
// never a delimiter.
func bestDelimiter(head []byte, decimal string) rune {
	best, most, least := rune(delimiters[0]), 1, headRows
	if decimal == "," {
		best = rune(delimiters[1])
	}
	for _, c := range delimiters {
		if string(c) == decimal {
			continue
		}
		if n, titles := columnsAt(head, c); n > 1 && (titles < least || titles == least && n > most) {
			best, most, least = c, n, titles
		}
	}
	return best
}

// columnsAt returns the number of columns of the first rows if cells are split at
// c, 0 if they differ, and the number of rows above them that have one cell, as titles have.
// A row that the head cuts is not looked at.
func columnsAt(head []byte, c rune) (width, titles int) {
	r := csv.NewReader(bytes.NewReader(head[:bytes.LastIndexByte(head, '\n')+1]))
	r.Comma, r.ReuseRecord, r.FieldsPerRecord = c, true, -1
	for range headRows {
		cells, err := r.Read()
		switch {
		case err == io.EOF:
			return width, titles
		case err != nil:
		case width == 0 && len(cells) == 1:
			titles++
		case width == 0:
			width = len(cells)
		case len(cells) != width:
			return 0, 0
		}
	}
	return width, titles
}

// decoded returns a cell as UTF-8.
func (d *dialect) decoded(s string) string {
	if d.letters == nil || isASCII(s) {
		return s
	}
	var b strings.Builder
	for i := range len(s) {
		b.WriteRune(d.letters.DecodeByte(s[i]))
	}
	return b.String()
}

func isASCII(s string) bool {
	for i := range len(s) {
		if s[i] >= utf8.RuneSelf {
			return false
		}
	}
	return true
}
