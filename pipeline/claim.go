package pipeline

import (
	"os"
	"path/filepath"
	"slices"

	"plinth/pipeline/output"
	"plinth/pipeline/plan"
	"plinth/pipeline/report"
)

// Reads returns the paths of every file the run reads: the plan, the register, and all
// that the plan names.
func (r *Run) Reads() []string {
	p := r.plan
	paths := append([]string{p.Inventory.Path}, r.files()...)
	paths = append(paths, p.Confirm.RecordFiles...)
	for _, path := range []string{p.File(), p.Budget.Terms} {
		if path != "" {
			paths = append(paths, path)
		}
	}
	if p.Consequence.Tables != "" {
		entries, _ := os.ReadDir(p.Consequence.Tables) // a folder without tables has been refused
		for _, e := range entries {
			paths = append(paths, filepath.Join(p.Consequence.Tables, e.Name()))
		}
	}
	return paths
}

// mayHold returns an error if the output folder is one that needs the user's word.
func (r *Run) mayHold(s Settings) error {
	if s.Here {
		return nil
	}
	return output.Crowded(r.plan.Output.Folder, r.plan.File())
}

// claim says what a run of the plan with the given hash is, which reads more beside what
// every run of the plan reads.
func (r *Run) claim(hash string, s Settings, more ...string) output.Claim {
	inputs := func() ([]output.Input, error) { return r.inputs(more...) }
	return output.Claim{
		Plan: hash, Version: s.Version, Inputs: inputs, Reads: r.Reads(), Names: r.names(),
		Replace: s.Replace, Private: r.plan.Output.Private,
	}
}

// names returns the files a screening may write. Other commands write to folders of
// their own, where none of these stands.
func (r *Run) names() []string {
	var names []string
	for _, files := range []func(format string) []string{output.Candidates.Files, output.Buildings.Files} {
		for _, name := range r.plan.Output.Formats {
			format, _ := output.FormatNamed(name)
			names = append(append(names, files(name)...), files(format.Large)...)
		}
	}
	if slices.Contains(r.plan.Output.Formats, plan.FormatReport) {
		names = append(names, report.Name)
	}
	names = append(names, output.Verdicts.Files(output.FormatCSV)...)
	names = append(names, output.Rules.Files(output.FormatCSV)...)
	return append(names, output.Rejects.Files(output.FormatCSV)...)
}
