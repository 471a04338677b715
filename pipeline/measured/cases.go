package measured

import (
	"fmt"
	"io/fs"
	"strings"
)

// The bases of a value that count in means: somebody read the number, or it was computed
// from data that were read. A value from memory is shown apart.
func read(basis string) bool { return basis == "seen" || basis == "computed here from data" }

// A structure is a building in one event or one run of a shake table.
type structure struct {
	row
	id      string
	pga     float64 // g, at the foot; NaN unknown
	record  string  // file of the foot motion, or empty
	device  string  // slug of a measure, or none
	usable  string  // what can be asked: period, response, both, none
	basis   string
	storeys int
}

// A value is one measured number of a structure.
type value struct {
	structure       *structure
	quantity, level string
	measured        float64
	basis           string
	why             reasons
}

// key returns the name of the value.
func (v *value) key() key { return key{"measured", v.structure.id, v.quantity, v.level} }

// counts reports whether the value enters means: it and its case were read, and nobody
// says why it should stand apart.
func (v *value) counts() bool {
	return read(v.basis) && read(v.structure.basis) && v.why.of(v.key(), whyApart) == ""
}

// readCases reads structures and what was measured of them.
func readCases(fsys fs.FS, why reasons) ([]structure, []value, error) {
	rows, err := readRows(fsys, "structures.csv",
		[]string{"id", "name", "system", "region", "zone", "use", "profile", "soil_class", "device", "event",
			"record", "usable", "basis", "note"},
		[]string{"year", "storeys", "height_m", "width_m", "length_m", "floor_area_m2", "pga_g"})
	if err != nil {
		return nil, nil, err
	}
	structures := make([]structure, len(rows))
	byID := map[string]*structure{}
	for i, r := range rows {
		s := &structures[i]
		*s = structure{row: r, id: r.text("id"), pga: r.number("pga_g"), record: r.text("record"),
			device: r.text("device"), usable: r.text("usable"), basis: r.text("basis"), storeys: r.whole("storeys")}
		if byID[s.id] != nil {
			return nil, nil, fmt.Errorf("structures.csv:%d: id %s stands twice", r.line, s.id)
		}
		byID[s.id] = s
	}
	rows, err = readRows(fsys, "measured.csv", []string{"id", "quantity", "level", "basis"}, []string{"value"})
	if err != nil {
		return nil, nil, err
	}
	var values []value
	for _, r := range rows {
		s := byID[r.text("id")]
		if s == nil {
			return nil, nil, fmt.Errorf("measured.csv:%d: no structure %q in structures.csv", r.line, r.text("id"))
		}
		v := value{structure: s, quantity: r.text("quantity"), level: r.text("level"), measured: r.number("value")}
		v.basis, v.why = r.text("basis"), why
		values = append(values, v)
	}
	return structures, values, nil
}

// asks reports whether the structure may be asked for a part: period or response.
func (s *structure) asks(part string) bool {
	for _, word := range strings.Fields(s.usable) {
		if word == part {
			return true
		}
	}
	return false
}
