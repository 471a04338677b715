package measured

import "io/fs"

// A Comparison is everything the page says: each part of the folder beside the program.
type Comparison struct {
	why       reasons
	buildings *buildings
	damage    *damage
	limits    []limit
	astray    []element // rows of elements.csv that name no limit
	codes     []printed
	laws      []regression
}

// Compare reads the folder testdata/measured and takes every case in it through the
// program. The error names the row that cannot be read or run.
func Compare(fsys fs.FS) (*Comparison, error) {
	c := &Comparison{}
	var err error
	if c.why, err = readReasons(fsys); err != nil {
		return nil, err
	}
	if c.buildings, err = compareBuildings(fsys, c.why); err != nil {
		return nil, err
	}
	if c.damage, err = compareDamage(fsys); err != nil {
		return nil, err
	}
	if c.limits, c.astray, err = compareElements(fsys); err != nil {
		return nil, err
	}
	if c.codes, err = compareCodes(fsys, c.why); err != nil {
		return nil, err
	}
	c.laws, err = compareRegressions(fsys, c.why)
	return c, err
}
