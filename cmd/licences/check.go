package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/google/licensecheck"
)

// accepted lists the licences that may be linked, by their SPDX identifiers, with the reason:
// none requires more of a program that links it than to carry its text. Any other licence must
// be read before its module is used.
var accepted = map[string]string{
	"Apache-2.0":        "carry the text and the notices; say what was changed (nothing is)",
	"BSD-2-Clause":      "carry the text",
	"BSD-3-Clause":      "carry the text; do not advertise with the authors' names",
	"CC-BY-4.0":         "give credit and a link to the licence, which its text does",
	"FTL":               "say that the FreeType Project's work is in it, which its text does",
	"GooglePatentsFile": "a grant of patents beside the BSD licence of Go",
	"MIT":               "carry the text",
	"OFL-1.1":           "fonts may be part of any program; they are not sold by themselves",
	"blessing":          "SQLite: in the public domain",
}

// covered is the least share of a licence file, in per cent of its words, that must match known
// licences. The rest are names and notices; a file with more text of its own is read by hand.
// Judgement.
const covered = 75

// licences returns the licences of a file, sorted and without repeats, or an error if it must
// be read by hand. A notice has no licence of its own.
func (f file) licences() ([]string, error) {
	if r, ok := byHand[f.sum()]; ok {
		return r.Licences, nil
	}
	base := f.Name[strings.LastIndexByte(f.Name, '/')+1:]
	c := licensecheck.Scan(f.Text)
	var list []string
	for _, m := range c.Match {
		if !slices.Contains(list, m.ID) && !m.IsURL {
			list = append(list, m.ID)
		}
	}
	if len(list) == 0 && strings.HasPrefix(strings.ToLower(base), "notice") {
		return nil, nil
	}
	if len(list) == 0 || c.Percent < covered {
		return nil, fmt.Errorf("%s: %.0f %% of it is the text of a known licence: read it, and say in "+
			"cmd/licences/byhand.go what it is (its sum: %s)", f.Name, c.Percent, f.sum())
	}
	return list, nil
}

// licences returns the licences of all files of a module, sorted and without repeats.
func (m module) licences() []string {
	var list []string
	for _, f := range m.Files {
		ids, _ := f.licences()
		for _, id := range ids {
			if !slices.Contains(list, id) {
				list = append(list, id)
			}
		}
	}
	return list
}

// check returns the reasons not to link a module.
func (m module) check() []error {
	var wrong []error
	for _, f := range m.Files {
		ids, err := f.licences()
		if err != nil {
			wrong = append(wrong, fmt.Errorf("%s %s: %w", m.Path, m.Version, err))
		}
		for _, id := range ids {
			if accepted[id] == "" {
				wrong = append(wrong,
					fmt.Errorf("%s %s: %s: %s is not among the accepted licences: do without the module, "+
						"or read the licence and accept it in cmd/licences/check.go with the reason", m.Path,
						m.Version, f.Name, id))
			}
		}
	}
	if len(wrong) == 0 && len(m.licences()) == 0 {
		wrong = append(wrong, fmt.Errorf("%s %s: no licence in it: do without the module", m.Path, m.Version))
	}
	return wrong
}
