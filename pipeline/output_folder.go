package pipeline

import (
	"path/filepath"
	"plinth/pipeline/output"
)

// aside opens a folder within the output folder for the files of one command, and returns
// the hash of the plan. More are paths that the command reads besides those of every run.
func (r *Run) aside(name string, s Settings, more ...string) (*output.Set, string, error) {
	hash, err := output.HashPlan(r.plan.Effective())
	if err != nil {
		return nil, "", err
	}
	set, err := r.openSet(name, s, r.claim(hash, s, more...))
	return set, hash, err
}

// openSet opens a folder within the output folder, "" for itself, under a claim.
func (r *Run) openSet(name string, s Settings, c output.Claim) (*output.Set, error) {
	if err := r.mayHold(s); err != nil {
		return nil, err
	}
	return output.NewSet(filepath.Join(r.plan.Output.Folder, name), c)
}

// mayHold returns an error if the output folder is one that needs the user's word.
func (r *Run) mayHold(s Settings) error {
	if s.Here {
		return nil
	}
	return output.Crowded(r.plan.Output.Folder, r.plan.File())
}

// claim returns what the manifest of a finished run must agree with: the plan of the given
// hash and its inputs. More are paths that the command reads besides those of every run.
func (r *Run) claim(hash string, s Settings, more ...string) output.Claim {
	inputs := func() ([]output.Input, error) { return r.inputs(more...) }
	return output.Claim{
		Plan: hash, Version: s.Version, Inputs: inputs, Reads: r.Reads(),
		Replace: s.Replace, Private: r.plan.Output.Private,
	}
}
