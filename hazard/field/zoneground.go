package field

import (
	"encoding/json"
	"io"

	"github.com/paulmach/orb"

	"plinth/hazard"
)

// GroundZones are areas with one site class each, as in microzonation maps. They never change
// once made.
type GroundZones struct {
	areas areas
	class []hazard.SiteClass // of each feature
	notes notes
}

// ReadGround reads areas from a GeoJSON FeatureCollection: features of Polygon or
// MultiPolygon geometry with one of the properties
//
//	site_class  a letter of the standard, A to F
//	vs30        mean shear wave velocity of the upper 30 m in m/s, classified by the standard
//
// and a name for problems (optional). A place takes the first area of the file that contains
// it.
func ReadGround(r io.Reader, file string, standard hazard.SoilStandard) (*GroundZones, error) {
	var ps Problems
	data, err := io.ReadAll(r)
	if err != nil {
		ps.add(Problem{File: file, Rule: err.Error(), Remedy: "mend the file"})
		return nil, ps.err()
	}
	g := &GroundZones{}
	var names []string
	features := readFeatures(data, file, &ps)
	if len(features) == 0 && ps.err() == nil {
		ps.add(Problem{File: file, Column: "features", Rule: "there are none", Remedy: "give at least one"})
	}
	for i := range features {
		f := &features[i]
		bad := func(column, value, rule, remedy string) {
			ps.add(Problem{File: file, Line: f.line, Column: f.name() + ": " + column, Value: value,
				Rule: rule, Remedy: remedy})
		}
		if f.Geometry == nil {
			g.notes.add("%s has no geometry and is not read", f.name())
			continue
		}
		if t := f.Geometry.Type; t != "Polygon" && t != "MultiPolygon" {
			bad("geometry", t, "no area", "write a Polygon or a MultiPolygon")
			continue
		}
		polygons, err := f.Geometry.polygons()
		if err != nil {
			bad("geometry", "", err.Error(), "mend the geometry")
			continue
		}
		class, column, err := f.ground(standard)
		if err != nil {
			bad(column, string(f.Properties[column]), err.Error(),
				"give site_class a letter, or vs30 a number in m/s")
			continue
		}
		for _, p := range polygons {
			g.areas.list = append(g.areas.list, area{p, p.Bound(), len(g.class)})
		}
		g.class, names = append(g.class, class), append(names, f.name())
	}
	if err := ps.err(); err != nil {
		return nil, err
	}
	g.areas.sort()
	g.areas.overlaps(names, &g.notes)
	return g, nil
}

// ground returns the class of a feature and the property that gives it.
func (f *feature) ground(standard hazard.SoilStandard) (hazard.SiteClass, string, error) {
	if raw, ok := f.Properties["site_class"]; ok && string(raw) != "null" {
		var letter string
		if err := json.Unmarshal(raw, &letter); err != nil {
			return 0, "site_class", err
		}
		c, err := hazard.ParseSiteClass(letter)
		return c, "site_class", err
	}
	var v float64
	if raw, ok := f.Properties["vs30"]; ok {
		if err := json.Unmarshal(raw, &v); err != nil {
			return 0, "vs30", err
		}
	}
	c, err := standard.Class(v)
	return c, "vs30", err
}

// At returns the class of the ground at a place, 0 outside the areas.
func (g *GroundZones) At(lon, lat float64) hazard.SiteClass {
	lon, ok := place(lon, lat)
	if !ok {
		return 0
	}
	if i := g.areas.holding(orb.Point{lon, lat}); i >= 0 {
		return g.class[g.areas.list[i].feature]
	}
	return 0
}

// Warnings returns the notes that a user should read before the areas are used.
func (g *GroundZones) Warnings() []string { return g.notes }
