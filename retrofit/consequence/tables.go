package consequence

import (
	"fmt"
	"io/fs"
	"slices"
	"strings"
)

// DefaultOptions returns the embedded tables. Most rows are judgement and say so: replace them
// where better values are known.
func DefaultOptions() Options {
	sub, err := fs.Sub(embedded, "tables")
	if err == nil {
		var o Options
		if o, err = ReadOptions(sub); err == nil {
			return o
		}
	}
	panic("consequence: embedded tables are broken: " + err.Error())
}

// ReadOptions reads the tables states.csv, components.csv, splits.csv, values.csv, bands.csv,
// hours.csv and constants.csv, in the form of the embedded ones. An invalid value gives a *TableError.
func ReadOptions(fsys fs.FS) (Options, error) {
	var o Options
	for _, read := range []func(*Options, fs.FS) error{
		readStates, readComponents, readSplits, readWorths, readBands, readHours, readConstants,
	} {
		if err := read(&o, fsys); err != nil {
			return Options{}, err
		}
	}
	return o, o.check()
}

// OverlayOptions reads the tables of a folder, and the embedded table where the folder does not
// have one. It returns the names found in the folder. A file with any other name is an error,
// since a misspelt table would otherwise be ignored.
func OverlayOptions(fsys fs.FS) (o Options, found []string, err error) {
	entries, err := fs.ReadDir(fsys, ".")
	if err != nil {
		return Options{}, nil, fmt.Errorf("consequence tables: %w", err)
	}
	base, err := fs.Sub(embedded, "tables")
	if err != nil {
		return Options{}, nil, err
	}
	for _, e := range entries {
		if strings.HasPrefix(e.Name(), ".") {
			continue
		}
		if _, err := fs.Stat(base, e.Name()); err != nil {
			return Options{}, nil,
				fmt.Errorf("consequence table %s is not one of states.csv, components.csv, splits.csv, "+
					"values.csv, bands.csv, hours.csv, constants.csv", e.Name())
		}
		found = append(found, e.Name())
	}
	o, err = ReadOptions(overlay{fsys, base, found})
	return o, found, err
}

// overlay opens the files named in found from above and all others from below.
type overlay struct {
	above, below fs.FS
	found        []string
}

func (o overlay) Open(name string) (fs.File, error) {
	if slices.Contains(o.found, name) {
		return o.above.Open(name)
	}
	return o.below.Open(name)
}
