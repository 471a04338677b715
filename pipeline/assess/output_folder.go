package assess

import (
	"path/filepath"

	"plinth/pipeline/output"
)

// OpenFolder opens a folder within the output folder for the files of one command, and returns
// the hash of the plan. More are paths that the command reads besides those of every run.
func (study *Study) OpenFolder(name string, s Settings, more ...string) (*output.Set, string, error) {
	hash, err := output.HashPlan(study.plan.Effective())
	if err != nil {
		return nil, "", err
	}
	set, err := study.OpenSet(name, s, study.Claim(hash, s, more...))
	return set, hash, err
}

// OpenSet opens a folder within the output folder, "" for itself, under a claim.
func (study *Study) OpenSet(name string, s Settings, c output.Claim) (*output.Set, error) {
	if err := study.MayHold(s); err != nil {
		return nil, err
	}
	return output.NewSet(filepath.Join(study.plan.Output.Folder, name), c)
}

// MayHold returns an error if the output folder needs the user's consent, such as the home
// folder (Settings.Here).
func (study *Study) MayHold(s Settings) error {
	if s.Here {
		return nil
	}
	return output.Crowded(study.plan.Output.Folder, study.plan.File())
}

// Claim returns what the manifest of a finished run must agree with: the plan of the given
// hash and its inputs. More are paths that the command reads besides those of every run.
func (study *Study) Claim(hash string, s Settings, more ...string) output.Claim {
	inputs := func() ([]output.Input, error) { return study.Inputs(more...) }
	return output.Claim{
		Plan: hash, Version: s.Version, Inputs: inputs, Reads: study.Reads(),
		Replace: s.Replace, Private: study.plan.Output.Private,
	}
}
