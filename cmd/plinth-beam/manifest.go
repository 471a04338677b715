package main

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"

	"plinth/pipeline/assess"
	"plinth/pipeline/disk"
	"plinth/pipeline/output"
	"plinth/pipeline/screen"
)

func init() {
	beam.RegisterDoFn(&manifestFn{})
}

// manifestFn checks that no row was lost and writes the manifest. It is the last file: a folder
// with a manifest holds a whole run.
type manifestFn struct{ Job job }

// ProcessElement adds up the counts and files of all workers.
func (f *manifestFn) ProcessElement(_ []byte, tallies func(*tally) bool, inputs func(*input) bool, pieces func(*piece) bool) error {
	run, err := openRun(f.Job.Plan)
	if err != nil {
		return err
	}
	n := whole(tallies)
	total := output.Counts{In: n.In, Out: n.Out, Rejected: n.Rejected}
	var registers []input
	for in := (input{}); inputs(&in); {
		registers = append(registers, in)
	}
	slices.SortFunc(registers, func(a, b input) int { return cmp.Compare(a.Register, b.Register) })
	list := make([]output.Input, len(registers))
	for i := range registers {
		list[i] = registers[i].File
	}
	m, err := screen.Manifest(run, run.About(f.Job.Version), total, list)
	if err != nil {
		return err
	}
	written := make(map[string]int64) // rows by table and format
	for p := (piece{}); pieces(&p); {
		m.Files = append(m.Files, p.File)
		written[fmt.Sprint(p.Table, filepath.Ext(p.File.Name))] += p.File.Rows
	}
	for _, format := range formats(run.Plan()) {
		if n := written[fmt.Sprint(buildingsTable, "."+format)]; n != total.Out {
			return fmt.Errorf("%w: %d buildings, but %d rows of %s", output.ErrUnbalanced, total.Out, n, format)
		}
	}
	if n := written[fmt.Sprint(rejectsTable, "."+output.FormatCSV)]; n != total.Rejected {
		return fmt.Errorf("%w: %d rejects, but %d rows of them", output.ErrUnbalanced, total.Rejected, n)
	}
	rules, err := f.rules(run)
	if err != nil {
		return err
	}
	m.Files = append(m.Files, rules)
	slices.SortFunc(m.Files, func(a, b output.Written) int { return strings.Compare(a.Name, b.Name) })
	m.Notes = append(m.Notes, f.Job.Engine)
	if err := sweep(f.Job.Folder); err != nil {
		return err
	}
	var text bytes.Buffer
	if err := m.Write(&text); err != nil {
		return err
	}
	path := filepath.Join(f.Job.Folder, output.ManifestName)
	return disk.Write(path, mode(run), func(w io.Writer) error { _, err := text.WriteTo(w); return err })
}

// rules writes the table of rules. It is one file.
func (f *manifestFn) rules(run *assess.Study) (output.Written, error) {
	file, err := openPiece(&f.Job, run, &output.Rules, output.Rules.Name+"."+output.FormatCSV, output.FormatCSV)
	if err != nil {
		return output.Written{}, err
	}
	defer file.abort()
	for _, r := range screen.Rules(run) {
		if err := file.rows.Write(&r); err != nil {
			return output.Written{}, err
		}
		file.Rows++
	}
	err = file.commit()
	return file.Written, err
}
