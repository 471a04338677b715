package screen

import (
	"slices"

	"plinth/pipeline/areas"
	"plinth/pipeline/assess"
	"plinth/pipeline/inventory"
	"plinth/pipeline/output"
	"plinth/pipeline/plan"
)

// area returns the area that the building is counted in, "" for none.
func (w *rowWriter) area(b *inventory.Building) string {
	switch by := &w.a.Study().Plan().Output.Areas; by.By {
	case plan.AreasByGroup:
		return b.Group
	case plan.AreasByGrid:
		return areas.Grid{Cell: by.Cell}.Name(b.Lon, b.Lat)
	}
	return ""
}

// areaTable returns the sums by area that the plan asks for, nil for none.
func areaTable(study *assess.Study) *areas.Table {
	switch by := &study.Plan().Output.Areas; by.By {
	case plan.AreasByGroup:
		return areas.ByGroup(by.Least)
	case plan.AreasByGrid:
		return areas.ByCell(areas.Grid{Cell: by.Cell}, by.Least)
	}
	return nil
}

// areaFormats returns the formats of the table of areas.
func areaFormats(formats []string) []string {
	list := tables(formats, false)
	if slices.Contains(formats, output.FormatGeoPackage) {
		list = append(list, output.Layer)
	}
	return list
}

// writeAreas writes the table of areas, if there is one.
func (s *sink) writeAreas(set *output.Set, about output.About, table *areas.Table) error {
	if table == nil {
		return nil
	}
	return output.WriteTable(set, &output.Areas, about, table.Rows(),
		areaFormats(s.study.Plan().Output.Formats)...)
}

// joinedBuildings is the number of buildings up to which the GeoPackage holds the plain tables too: they make
// it four times as large, 11 kB a building (judgement).
const joinedBuildings = 10_000

// layers returns the format by which plain tables join the buildings in their GeoPackage, if there is one
// and the stock is not too large.
func (s *sink) layers(formats []string) []string {
	if slices.Contains(formats, output.FormatGeoPackage) && s.counts.Out.Load() <= joinedBuildings {
		return []string{output.Layer}
	}
	return nil
}
