package sheet

import (
	_ "embed" // the page
	"io"

	"plinth/pipeline/report"
)

var (
	//go:embed sheet.html
	sheetText string
	//go:embed sheet.css
	sheetStyle string

	sheetPage = report.NewPlain(sheetText, sheetStyle)
)

// WriteHTML writes the sheet as a page in the style of the report. It is one file that opens
// without a network, runs no script and prints to A4.
func (s *Sheet) WriteHTML(to io.Writer) error {
	return sheetPage.Write(to, s.Title, struct {
		*Sheet
		NoteHead, CautionHead string
	}{s, noteHead, cautionHead})
}
