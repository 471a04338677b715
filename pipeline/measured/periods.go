package measured

import (
	"io/fs"
	"math"
	"strings"

	"plinth/archetypes"
)

// heights are where a regression is compared with the program, in m.
var heights = []float64{10, 25, 50}

// A regression is one published law of periods and the program's median over it.
type regression struct {
	row
	ratios []float64 // program over regression, one a height
	unused string
}

// feet is the international foot in m.
const feet = 0.3048

// compareRegressions puts the program's median period beside published laws.
func compareRegressions(fsys fs.FS, why reasons) ([]regression, error) {
	words := []string{"id", "system", "quantity", "form", "height_unit", "amplitude", "place", "basis", "note"}
	rows, err := readRows(fsys, "periods.csv", words, []string{"c", "x", "n"})
	if err != nil {
		return nil, err
	}
	tables := archetypes.Default()
	var out []regression
	for _, r := range rows {
		one := regression{row: r, unused: why.of(key{"periods", r.text("id"), "", ""}, whyUnused)}
		if one.unused != "" {
			out = append(out, one)
			continue
		}
		s, err := archetypes.ParseSystem(r.text("system"))
		if err != nil {
			return nil, err
		}
		t := tables.Traits(s)
		for _, h := range heights {
			low, high := t.Range(h)
			one.ratios = append(one.ratios, math.Sqrt(low*high)/one.at(h, t.StoreyHeight))
		}
		out = append(out, one)
	}
	return out, nil
}

// at returns the law at a height in m.
func (r *regression) at(h, storey float64) float64 {
	x := r.number("x")
	if !strings.Contains(r.text("form"), "^x") {
		x = 1
	}
	switch r.text("height_unit") {
	case "ft":
		h /= feet
	case "storeys":
		h /= storey
	}
	return r.number("c") * math.Pow(h, x)
}
