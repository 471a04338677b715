package source

import (
	"fmt"
	"math"
	"path"
	"strings"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/project"

	"plinth/hazard/field"
	"plinth/pipeline/inventory/fault"
	"plinth/pipeline/plan"
)

// noSystem is the system of a file that says its system is not known.
const noSystem = "unknown"

// settle decides in which system of coordinates the geometries of a register are. The file
// says it, or else the plan. Where the plan maps columns of longitude and latitude, its system
// is that of those columns.
func (f *Frame) settle(inv *plan.Inventory) error {
	if !f.Drawn {
		return nil
	}
	said, system := strings.TrimSpace(inv.CRS), f.system
	if inv.Columns["lon"] != "" && inv.Columns["lat"] != "" {
		said = ""
	}
	switch {
	case system == noSystem && said == "":
		return &fault.FileError{File: f.File, Key: "inventory.crs",
			Rule:   "the register says that the system of its coordinates is not known",
			Remedy: "write it under [inventory], such as crs = \"EPSG:4326\" for longitude and latitude"}
	case system == noSystem, system == "":
		system = said
	case said != "" && !sameSystem(said, system):
		return &fault.FileError{File: f.File, Key: "inventory.crs",
			Value:  said + " and " + fault.Clip(system),
			Rule:   "the plan and the register name two systems of coordinates",
			Remedy: "leave crs out of the plan, or correct the register"}
	}
	to, err := field.ProjectionOf(system)
	switch {
	case err != nil:
		return notDegrees(f.File, system)
	case to != nil && inv.Swap:
		return &fault.FileError{File: f.File, Key: "inventory.swap",
			Rule:   "the coordinates are eastings and northings, of which none are exchanged",
			Remedy: "remove the key"}
	case to != nil:
		f.Note("its coordinates are eastings and northings in %s and were taken to longitude and latitude",
			system)
	case field.NearWGS84(system) != "":
		f.Note("its coordinates are on %s (%s), within about 2 m of WGS 84, and were taken as they are",
			field.NearWGS84(system), system)
	}
	f.project = to
	return nil
}

// sameSystem reports whether two names stand for one system, or for two that are both taken
// for longitude and latitude on WGS 84.
func sameSystem(a, b string) bool {
	to, err := field.ProjectionOf(a)
	from, wrong := field.ProjectionOf(b)
	return strings.EqualFold(a, b) || err == nil && wrong == nil && to == nil && from == nil
}

// systemOf returns the short form of the name of a system, as GeoJSON once had them:
// urn:ogc:def:crs:EPSG::26910, or an address whose last part is the code.
func systemOf(name string) string {
	if strings.Contains(name, "CRS84") {
		return "OGC:CRS84"
	}
	code := path.Base(name[strings.LastIndexByte(name, ':')+1:])
	if strings.Contains(name, "EPSG") {
		return "EPSG:" + code
	}
	return name
}

// Unproject takes the geometries of rows from a map grid to degrees. A geometry with a
// point outside the grid becomes a point at infinity, and its row is rejected for that.
func (f *Frame) Unproject(rows *Rows) {
	if f.project == nil {
		return
	}
	for i, g := range rows.Shapes {
		if g == nil {
			continue
		}
		inside := true
		rows.Shapes[i] = project.Geometry(g, func(p orb.Point) orb.Point {
			lon, lat := f.project(p[0], p[1])
			inside = inside && !math.IsNaN(lon+lat)
			return orb.Point{lon, lat}
		})
		if !inside {
			rows.Shapes[i] = orb.Point{math.Inf(1), math.Inf(1)}
		}
	}
}

// notDegrees is the error of a file whose coordinates are in a system that is not read.
func notDegrees(file, system string) error {
	return &fault.FileError{File: file, Value: fault.Clip(system),
		Rule: "its coordinates are in a system that is not read",
		Remedy: fmt.Sprintf("reproject the register to EPSG:%d and export it again: any desktop GIS does, "+
			"as ogr2ogr -t_srs EPSG:%[1]d new.gpkg old.gpkg does", wgs84)}
}
