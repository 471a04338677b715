package output

import (
	"fmt"
	"io"
	"strings"
)

// WriteDictionary writes the data dictionary of all tables as Markdown.
func WriteDictionary(w io.Writer) error {
	var b strings.Builder
	b.WriteString(`# Data dictionary

Made from the tables in package pipeline/output; a test fails if it is out of date.

` + Caution + `

- One rule for missing values: an empty cell in CSV, a null in Parquet. Zero is a value.
- Numbers are rounded to six significant digits (longitude and latitude to ten), the same in every format. The digits are
  for joining and checking; they say nothing of accuracy.
- Money is in the currency of the row's column ` + "`currency`" + `, at the price date in the manifest. % columns hold 2.5 for 2.5 %.
- Ids are the owner's text, never renumbered: join on ` + "`building_id`" + `, as text. In CSV a text that a spreadsheet could run as a
  formula (it begins with =, +, -, @, tab or a line end) has one single quote in front; Parquet and the workbook have it as it was.
- Blanks at the ends of an id are taken off: ` + "`A` and `A `" + ` are one id, and the second row of it is a duplicate. A row whose id
  holds a control character or a mark that turns the direction of text is rejected (` + "`unseen-id`" + `): nobody could join by it.
- In every other text such characters are replaced by U+FFFD, in every format; tabs and ends of line stay.
- A Parquet file of a table with ` + "`lon` and `lat`" + ` is GeoParquet 1.1 and has two columns more: ` + "`geometry`" + `, the point as well-known
  binary, longitude first, OGC:CRS84, and ` + "`bbox`" + `, its bounding box; both are null where the coordinates are.
`)
	dictionary(&b, &Candidates)
	dictionary(&b, &Buildings)
	dictionary(&b, &Areas)
	dictionary(&b, &Verdicts)
	dictionary(&b, &Rules)
	dictionary(&b, &Rejects)
	dictionary(&b, &Confirmeds)
	dictionary(&b, &Programme)
	dictionary(&b, &Inspections)
	_, err := io.WriteString(w, b.String())
	return err
}

func dictionary[R any](b *strings.Builder, t *Table[R]) {
	fmt.Fprintf(b, "\n## %s\n\n%s. %s\n\n", t.Name, t.Title, t.Doc)
	b.WriteString("| column | type | unit | always there | meaning |\n| --- | --- | --- | --- | --- |\n")
	for i := range t.Columns {
		c := &t.Columns[i]
		always := ""
		if c.Required || c.Bool != nil {
			always = "yes"
		}
		fmt.Fprintf(b, "| `%s` | %s | %s | %s | %s |\n", c.Name, c.Type(), c.Unit, always, c.Doc)
	}
}
