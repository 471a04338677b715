package main

import (
	"bytes"
	_ "embed"
	"encoding/csv"
	"fmt"
	"io/fs"
	"strings"
)

// foundCSV lists published values that the tables cannot take as they are.
//
//go:embed found.csv
var foundCSV string

const head = `# Evidence

What the rows of the embedded tables rest on, counted from their sources by ` + "`go run ./cmd/evidence`" + `.
A number is not better for having a source: most sources speak of other places, other times or
single elements. What is said here of a table holds for its embedded form; an owner's table brings its own.

| word | means |
| --- | --- |
| read | the text of a standard or a paper was read for the value |
| made here | a definition, a law of statics, or a measurement of the project's own time histories |
| from memory | a standard or a paper is named whose text was not at hand |
| beside it | the source quotes a published value that was read: it confirms the row or differs |
| none found | a search found no published value that could be read |

`

const middle = `
Columns with two numbers: rows with a published value beside them / rows for which none was found.
What was measured on buildings, tests and damaged towns is kept apart, to hold the program
against: no value of a table comes from observed damage or from a measured building.

## Published value found, to be built in

Values that a table cannot take as one number: they need rows, components or mechanics that the
program does not have. *Read*: the number was seen. *Computed here from data*: a statistic of
data that were read.

`

// write returns the page on evidence of the repository at root.
func write(root fs.FS) (*bytes.Buffer, error) {
	list, err := tables(root)
	if err != nil {
		return nil, err
	}
	page := bytes.NewBufferString(head)
	page.WriteString("| table | rows | read | made here | from memory | common practice | judgement |\n" +
		"| --- | --- | --- | --- | --- | --- | --- |\n")
	all := table{path: "all"}
	for _, t := range list {
		t.line(page)
		for b := range numBases {
			all.beside[b] += t.beside[b]
			all.alone[b] += t.alone[b]
		}
	}
	all.line(page)
	page.WriteString(middle)
	return page, found(page)
}

// line writes the counts of a table.
func (t *table) line(page *bytes.Buffer) {
	var rows int
	var cells strings.Builder
	for b := range numBases {
		rows += t.beside[b] + t.alone[b]
		if b < remembered {
			fmt.Fprintf(&cells, " %d |", t.alone[b])
		} else {
			fmt.Fprintf(&cells, " %d / %d |", t.beside[b], t.alone[b])
		}
	}
	fmt.Fprintf(page, "| %s | %d |%s\n", t.path, rows, &cells)
}

// found writes the list of values to be built in.
func found(page *bytes.Buffer) error {
	rows, err := csv.NewReader(strings.NewReader(foundCSV)).ReadAll()
	if err != nil {
		return fmt.Errorf("found.csv: %w", err)
	}
	page.WriteString("| table | row | now | published | source | how known | needs |\n" +
		"| --- | --- | --- | --- | --- | --- | --- |\n")
	for _, row := range rows[1:] {
		page.WriteString("| " + strings.Join(row, " | ") + " |\n")
	}
	return nil
}
