package source

import (
	"archive/zip"
	"context"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"

	"plinth/pipeline/inventory/fault"
)

// Limits of a workbook. No register comes near them; a file made to fill memory or disk
// does. Rows are bounded by the format itself (judgement, but for the rows).
const (
	mostPacked   = 256 << 20 // bytes of the file
	mostUnpacked = 1 << 30   // bytes of all its parts
	mostBeside   = 64 << 20  // bytes of its parts that are neither sheets nor texts
	mostEntries  = 10_000    // parts
	mostSheets   = 200
	mostSqueezed = 200     // bytes of a large part for each packed byte; sheets have some 20
	longestToken = 1 << 20 // bytes; a cell holds 32,767 characters
	mostRows     = 1 << 20 // of a sheet
)

// asText is the remedy for a workbook that is not read.
const asText = "export the sheet of the register as CSV (UTF-8)"

// guard checks the sizes that a workbook declares for its parts, to which unpacking holds
// it, and that each sheet and the table of texts are whole.
func (s *bookSource) guard(ctx context.Context, z *zip.Reader) error {
	refuse := func(format string, args ...any) error {
		return &fault.FileError{File: s.File, Rule: fmt.Sprintf(format, args...), Remedy: asText}
	}
	if len(z.File) > mostEntries {
		return refuse("the workbook has %d parts, more than the %d that are read", len(z.File), mostEntries)
	}
	var all, beside uint64
	sheets := 0
	for _, part := range z.File {
		sheet, texts := ofRows(part.Name)
		if all += part.UncompressedSize64; !sheet && !texts {
			beside += part.UncompressedSize64
		}
		if sheet {
			sheets++
		}
		large := part.UncompressedSize64 > longestToken
		switch {
		case part.UncompressedSize64 > mostUnpacked || all > mostUnpacked:
			return refuse("the workbook unpacks to more than %d MB", mostUnpacked>>20)
		case beside > mostBeside:
			return refuse("the workbook has more than %d MB beside its sheets, such as pictures", mostBeside>>20)
		case large && part.UncompressedSize64 > mostSqueezed*part.CompressedSize64:
			return refuse("a part of the workbook (%s) unpacks to more than %d times its size",
				fault.Clip(part.Name), mostSqueezed)
		case sheets > mostSheets:
			return refuse("the workbook has more than %d sheets", mostSheets)
		}
	}
	if sheets == 0 {
		return refuse("this is an archive without a sheet, no workbook")
	}
	for _, part := range z.File {
		if sheet, texts := ofRows(part.Name); sheet || texts {
			if err := whole(ctx, part); err != nil {
				return s.damaged("a part of the workbook ("+fault.Clip(part.Name)+") cannot be read", err)
			}
		}
	}
	return nil
}

// ofRows reports whether a part of a workbook is a sheet or the table of texts (ECMA-376
// part 1, 12.3.24 and 12.3.15; the names are common practice).
func ofRows(name string) (sheet, texts bool) {
	name = strings.ToLower(strings.ReplaceAll(name, `\`, "/"))
	return strings.HasPrefix(name, "xl/worksheets/") && strings.HasSuffix(name, ".xml"),
		name == "xl/sharedstrings.xml"
}

// whole reads a part of a workbook to its end. The error says that it is no XML, is cut
// short, or holds more than a sheet can.
func whole(ctx context.Context, part *zip.File) error {
	in, err := part.Open()
	if err != nil {
		return err
	}
	defer in.Close()
	left := &allowance{in: in, left: longestToken}
	d := xml.NewDecoder(left)
	for n, rows := 0, 0; ; n++ {
		if n%4096 == 0 && ctx.Err() != nil {
			return ctx.Err()
		}
		token, err := d.Token()
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return err
		}
		if e, is := token.(xml.StartElement); is && e.Name.Local == "row" {
			rows++
		}
		if rows > mostRows {
			return fmt.Errorf("more than %d rows", mostRows)
		}
		left.left = longestToken
	}
}

// An allowance ends with an error once more was read than is left of it.
type allowance struct {
	in   io.Reader
	left int
}

func (a *allowance) Read(p []byte) (int, error) {
	if a.left <= 0 {
		return 0, errors.New("a cell of more than 1 MB")
	}
	n, err := a.in.Read(p[:min(len(p), a.left)])
	a.left -= n
	return n, err
}
