package archetypes

import (
	_ "embed"
	"io"
	"math"
	"slices"
	"strings"
	"sync"
)

//go:embed systems.csv
var systemsCSV string

//go:embed eras.csv
var erasCSV string

// Tables hold the data behind archetypes: the structural systems and the code eras of the
// regions. They never change once made and are safe for concurrent use.
type Tables struct {
	systems [numSystems]SystemTraits
	rows    []systemRow
	regions []region
}

// Default returns the embedded tables.
var Default = sync.OnceValue(func() *Tables {
	t, err := new(Tables).WithSystems(strings.NewReader(systemsCSV), "systems.csv")
	if err == nil {
		t, err = t.WithEras(strings.NewReader(erasCSV), "eras.csv")
	}
	if err != nil {
		panic("archetypes: embedded tables: " + err.Error())
	}
	return t
})

// Traits returns the traits of a system.
func (t *Tables) Traits(s System) *SystemTraits {
	if s >= numSystems {
		panic("archetypes: system outside the table")
	}
	return &t.systems[s]
}

// WithSystems returns tables in which the rows read from r replace or extend those of t. The
// format is that of the embedded file: a CSV with the columns system, quantity, value, source
// and confidence, where the system "any" stands for every system without its own row. A fault
// is a *TableError, with file as the name of r.
func (t *Tables) WithSystems(r io.Reader, file string) (*Tables, error) {
	rows, err := readSystemRows(r, file)
	if err != nil {
		return nil, err
	}
	out := &Tables{rows: append(slices.Clip(t.rows), rows...), regions: t.regions}
	if err := out.build(file); err != nil {
		return nil, err
	}
	return out, nil
}

// WithEras returns tables in which every region named in r has only the eras given there. The
// format is that of the embedded file: see readEras. A fault is a *TableError.
func (t *Tables) WithEras(r io.Reader, file string) (*Tables, error) {
	regions, err := readEras(r, file)
	if err != nil {
		return nil, err
	}
	out := *t
	out.regions = slices.Clone(t.regions)
	for _, g := range regions {
		if i := slices.IndexFunc(out.regions, func(o region) bool { return o.slug == g.slug }); i >= 0 {
			out.regions[i] = g
		} else {
			out.regions = append(out.regions, g)
		}
	}
	if len(out.regions) > math.MaxUint8+1 {
		return nil, &TableError{File: file, Rule: "with the regions there are, more than 256"}
	}
	return &out, nil
}
