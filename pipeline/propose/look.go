// Package propose looks at a register and proposes a plan for it.
//
// Input. A register in any format that package source reads.
//
// Result. A Proposal: which column is which field, in which unit, what the owner's words
// mean, what is missing. TOML writes it as a plan with comments, in which the hazard is left
// to do. Write tells it in one screen.
//
// Rules. A column is taken by its name (column_words.csv) if its values fit the field, and by its
// values alone for ids and for words of a field. Everything that was not plain is said beside
// the line of the plan. A word is mapped only where it means one of ours (cell_words.csv, or our
// own words); for the others the plan has a line to fill in. Nothing is asked.
//
// Errors. They are those of opening and reading the register.
package propose

import (
	"context"
	"errors"
	"io"
	"os"
	"strings"

	"plinth/pipeline/inventory/cell"
	"plinth/pipeline/inventory/fault"
	"plinth/pipeline/inventory/source"
	"plinth/pipeline/plan"
)

// lookedAt is the most rows of a register that are looked at (judgement: enough for the words
// of a column).
const lookedAt = 20_000

// A table is what was seen of a register.
type table struct {
	inv    plan.Inventory
	frame  *source.Frame
	header []string
	cells  [][]string // of each column
	rows   int
	bad    int
	more   bool // the register has more rows than were looked at
}

// Look reads the register at path and proposes a plan for it.
func Look(ctx context.Context, path string) (*Proposal, error) {
	inv := plan.Default().Inventory
	inv.Path, inv.Format = path, plan.FormatOf(path)
	if inv.Format == "csv" {
		inv.Delimiter = "auto"
	}
	t, err := see(ctx, inv)
	if err != nil {
		return lookAtSheets(ctx, inv, err)
	}
	if t.commas() {
		inv.Decimal = ","
		if t, err = see(ctx, inv); err != nil {
			return nil, err
		}
	}
	return t.named(ctx).propose(), nil
}

// lookAtSheets proposes a plan for the sheet of a workbook in which the most fields are found,
// the first of several.
func lookAtSheets(ctx context.Context, inv plan.Inventory, because error) (*Proposal, error) {
	var e *fault.FileError
	if inv.Format != "xlsx" || !errors.As(because, &e) || e.Key != "inventory.sheet" {
		return nil, because
	}
	names, err := sheets(inv.Path)
	if err != nil {
		return nil, err
	}
	var best *Proposal
	for _, name := range names {
		inv.Sheet, inv.Decimal = name, ""
		t, err := see(ctx, inv)
		if err == nil && t.commas() {
			inv.Decimal = ","
			t, err = see(ctx, inv)
		}
		if err != nil {
			continue
		}
		if p := t.propose(); best == nil || len(p.columns) > len(best.columns) {
			best = p
		}
	}
	if best == nil {
		return nil, because
	}
	return best, nil
}

func sheets(path string) ([]string, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return source.Sheets(f)
}

// see reads the first rows of a register.
func see(ctx context.Context, inv plan.Inventory) (*table, error) {
	f, err := os.Open(inv.Path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	src, err := source.Open(ctx, f, inv.Path, &inv)
	if err != nil {
		return nil, err
	}
	defer source.Close(src)
	t := &table{inv: inv, frame: src.About(), header: src.About().Header}
	at := make([]int, len(t.header))
	for i := range at {
		at[i] = i
	}
	src.Pick(at)
	t.cells = make([][]string, len(at))
	var rows source.Rows
	for err == nil && t.rows < lookedAt {
		rows.Reset()
		err = src.Next(&rows, 1024)
		for i, c := range rows.Cells {
			t.cells[i%len(at)] = append(t.cells[i%len(at)], strings.TrimSpace(strings.Clone(c)))
		}
		t.rows, t.bad = t.rows+rows.N, t.bad+len(rows.Bad)
	}
	t.more = err == nil
	if err != nil && err != io.EOF {
		return nil, err
	}
	return t, nil
}

// commas reports whether more cells of numbers have a comma as their decimal mark than have
// a dot. Three digits behind one may be thousands and do not count.
func (t *table) commas() bool {
	if t.frame.Typed {
		return false
	}
	commas, dots := 0, 0
	for _, column := range t.cells {
		for _, c := range column {
			whole, part, found := strings.Cut(c, ",")
			if found && digits(whole) && digits(part) && len(part) != 3 {
				commas++
			}
			whole, part, found = strings.Cut(c, ".")
			if found && digits(whole) && digits(part) && len(part) != 3 {
				dots++
			}
		}
	}
	return commas > dots
}

// digits reports whether s is a whole number.
func digits(s string) bool {
	s = strings.TrimPrefix(s, "-")
	return s != "" && strings.Trim(s, "0123456789") == ""
}

// named returns the table with the character that splits its cells named, since a plan
// should not leave that to a look.
func (t *table) named(ctx context.Context) *table {
	if t.inv.Format != "csv" {
		return t
	}
	for _, d := range []string{",", ";", "\t", "|"} {
		inv := t.inv
		if inv.Delimiter = d; d == inv.Decimal {
			continue
		}
		if other, err := see(ctx, inv); err == nil && len(other.header) == len(t.header) {
			return other
		}
	}
	return t
}

// null reports whether a cell means no value.
func (t *table) null(c string) bool {
	if c == "" {
		return true
	}
	for _, words := range [][]string{cell.NullWords, t.inv.Null} {
		for _, w := range words {
			if strings.EqualFold(c, w) {
				return true
			}
		}
	}
	return false
}
