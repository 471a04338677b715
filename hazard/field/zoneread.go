package field

import (
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"

	"github.com/paulmach/orb"

	"plinth/hazard"
)

// zoneReader converts features to areas and nodes, and their properties to a table with one
// node for each feature that has a geometry.
type zoneReader struct {
	file string
	unit string
	ps   *Problems

	names []string  // of the members of hazard in the first feature, sorted
	level int       // index of the return period among names
	ord   ordinates // indices of the spectrum among names
	notes notes

	shakes shakingColumns // indices among names

	areas  areas
	called []string // the features of the table
	node   []orb.Point
	of     []int // feature of each node, counted as in the table
}

func (z *zoneReader) read(features []feature) *table {
	got := rows{file: z.file, name: func(p orb.Point) string { return z.called[int(p[0])] }}
	for i := range features {
		f := &features[i]
		if f.Geometry == nil {
			z.notes.add("feature %d has no geometry and is not read", f.number)
			continue
		}
		n := len(z.called)
		z.called = append(z.called, f.name())
		z.place(f, n)
		z.spectra(f, func(period float64, ln []float64, shaking hazard.Shaking) {
			got.add(orb.Point{float64(n), 0}, period, f.line, ln, shaking)
		})
	}
	if z.ps.err() != nil {
		return nil
	}
	if len(got.node) == 0 {
		z.ps.add(Problem{File: z.file, Column: "features", Rule: "none has a geometry",
			Remedy: "give at least one"})
		return nil
	}
	t := got.table(z.ord.periods, z.ps)
	t.notes = z.notes
	return t
}

// name identifies the feature.
func (f *feature) name() string {
	var name string
	if json.Unmarshal(f.Properties["name"], &name) == nil && name != "" {
		return fmt.Sprintf("feature %d (%s)", f.number, name)
	}
	return fmt.Sprintf("feature %d", f.number)
}

// bad records a problem of the feature.
func (z *zoneReader) bad(f *feature, column, value, rule, remedy string) {
	z.ps.add(Problem{File: z.file, Line: f.line, Column: f.name() + ": " + column, Value: value, Rule: rule,
		Remedy: remedy})
}

// place reads the geometry of the feature that is node n of the table.
func (z *zoneReader) place(f *feature, n int) {
	switch g := f.Geometry; g.Type {
	case "Polygon", "MultiPolygon":
		m, err := g.polygons()
		if err != nil {
			z.bad(f, "geometry", "", err.Error(), "mend the geometry")
		}
		for _, p := range m {
			z.areas.list = append(z.areas.list, area{p, p.Bound(), n})
		}
	case "Point":
		p, err := g.point()
		if err != nil {
			z.bad(f, "geometry", "", err.Error(), "mend the geometry")
		}
		z.node, z.of = append(z.node, p), append(z.of, n)
	default:
		z.bad(f, "geometry", g.Type, "neither area nor node", "write a Polygon, a MultiPolygon or a Point")
	}
}

// spectra reads the property hazard.
func (z *zoneReader) spectra(f *feature, yield func(period float64, ln []float64, s hazard.Shaking)) {
	var levels []map[string]json.RawMessage
	raw, ok := f.Properties["hazard"]
	if !ok {
		z.bad(f, "hazard", "", "the property is missing",
			"give an array with an object for each return period")
		return
	}
	if err := json.Unmarshal(raw, &levels); err != nil || len(levels) == 0 {
		z.bad(f, "hazard", "", "the property is no array of objects", "give an object for each return period")
		return
	}
	for i, l := range levels {
		names := slices.Sorted(maps.Keys(l))
		if z.names == nil && !z.head(f, names) {
			return
		}
		column := fmt.Sprintf("hazard[%d]", i)
		if !slices.Equal(names, z.names) {
			z.bad(f, column, "", fmt.Sprintf("its members are %q and those before are %q", names, z.names),
				"give all the same")
			return
		}
		period, ok := z.number(f, column, l, z.level)
		if ok && !isReturnPeriod(period) {
			z.bad(f, column+"."+z.names[z.level], number(period), "no return period between 0.01 and 1e9 yr",
				"give years, not a frequency")
			ok = false
		}
		ln := make([]float64, 1+len(z.ord.sa))
		for k, at := range append([]int{z.ord.pga}, z.ord.sa...) {
			v, good := z.number(f, column, l, at)
			v *= units[z.unit]
			if good && !isAcceleration(v) {
				z.bad(f, column+"."+z.names[at], number(v), "no acceleration of the ground",
					"check the number and its unit")
				good = false
			}
			ln[k] = math.Log(v)
			ok = ok && good
		}
		shaking, good := z.shakes.read(func(at int) (float64, bool) { return z.number(f, column, l, at) },
			func(at int, rule, remedy string) {
				z.bad(f, column+"."+z.names[at], string(l[z.names[at]]), rule, remedy)
			})
		if ok && good {
			yield(period, ln, shaking)
		}
	}
}

// head takes the member names of the first object of the file, which all others must share.
func (z *zoneReader) head(f *feature, names []string) bool {
	z.level = slices.Index(names, "return_period_yr")
	if z.level < 0 {
		z.bad(f, "hazard[0].return_period_yr", "", "the member is missing", "give it in years")
		return false
	}
	z.shakes = findShaking(func(name string) int { return slices.Index(names, name) })
	sound := true
	z.ord = findOrdinates(names, z.unit, &z.notes, func(column, rule, remedy string) {
		sound = false
		z.bad(f, "hazard[0]."+column, "", rule, remedy)
	}, append(z.shakes.known(), z.level)...)
	z.shakes.look(&z.notes)
	if sound {
		z.names = names
	}
	return sound
}

// number returns the number in the member named column of l.
func (z *zoneReader) number(f *feature, column string, l map[string]json.RawMessage, at int) (float64, bool) {
	name := z.names[at]
	v, err := strconv.ParseFloat(string(l[name]), 64)
	if err != nil {
		z.bad(f, column+"."+name, string(l[name]), "not a number", "write digits without quotes")
	}
	return v, err == nil
}
