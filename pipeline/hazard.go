package pipeline

import (
	"fmt"
	"io"
	"math"
	"os"
	"strconv"
	"strings"

	"plinth/archetypes"
	"plinth/hazard"
	"plinth/hazard/field"
	"plinth/pipeline/plan"
)

// openField returns the hazard of the plan as a field, ready for lookups at the
// plan's return periods.
func openField(h *plan.Hazard, soilIncluded bool) (field.Field, error) {
	opt := field.Options{
		ReturnPeriods: h.ReturnPeriods, Unit: h.Unit, CRS: h.CRS, K: h.K,
		MaxDistance:  h.MaxDistanceKM * 1000,
		SoilIncluded: soilIncluded,
	}
	if h.SiteClass != "" {
		class, err := hazard.ParseSiteClass(h.SiteClass)
		if err != nil {
			return nil, err
		}
		opt.DefaultClass = class
	}
	layout := field.Scattered
	if h.Layout == "grid" {
		layout = field.Regular
	}
	switch h.Kind {
	case "grid":
		return readField(h.Path, func(r io.Reader) (field.Field, error) { return field.ReadGrid(r, h.Path, opt) })
	case "points":
		return readField(h.Path, func(r io.Reader) (field.Field, error) { return field.ReadPoints(r, h.Path, opt) })
	case "curves":
		return readField(h.Path, func(r io.Reader) (field.Field, error) { return field.ReadCurves(r, h.Path, layout, opt) })
	case "zones":
		return readField(h.Path, func(r io.Reader) (field.Field, error) { return field.ReadZones(r, h.Path, opt) })
	case "rasters":
		return readRasters(h, opt)
	case "constant":
		return field.NewConstant(h.Periods, []field.Level{{ReturnPeriod: h.SingleLevel(), PGA: h.PGA, Sa: h.Sa}}, opt)
	case "asce7-16":
		if h.Path == "" {
			return field.NewParameters(field.Mapped{SS: h.SS, S1: h.S1, TL: h.TL}, h.SingleLevel(), opt)
		}
		return readField(h.Path, func(r io.Reader) (field.Field, error) {
			return field.ReadParameters(r, h.Path, layout, h.SingleLevel(), opt)
		})
	}
	return nil, fmt.Errorf("hazard kind %q is not read", h.Kind)
}

func readField(path string, read func(io.Reader) (field.Field, error)) (field.Field, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, hazardFileError(err)
	}
	defer f.Close()
	return read(f)
}

func hazardFileError(err error) error {
	return fmt.Errorf("hazard file cannot be read: %w; check hazard.path, which is relative to the plan", err)
}

// readRasters opens the file of each return period and period.
func readRasters(h *plan.Hazard, opt field.Options) (field.Field, error) {
	var list []field.Raster
	for _, path := range rasterPaths(h) {
		f, err := os.Open(path.file)
		if err != nil {
			return nil, hazardFileError(err)
		}
		defer f.Close()
		list = append(list, field.Raster{ReturnPeriod: path.level, Period: path.period, File: path.file, Content: f})
	}
	return field.ReadRasters(list, opt)
}

type rasterPath struct {
	level, period float64
	file          string
}

func rasterPaths(h *plan.Hazard) []rasterPath {
	number := func(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }
	var list []rasterPath
	for _, level := range h.Levels {
		for _, t := range h.Periods {
			name := strings.NewReplacer("{return_period}", number(level), "{period}", number(t)).Replace(h.Path)
			list = append(list, rasterPath{level, t, name})
		}
	}
	return list
}

// hazardFiles returns the files the hazard is read from.
func hazardFiles(h *plan.Hazard) []string {
	if h.Kind == "rasters" {
		var list []string
		for _, p := range rasterPaths(h) {
			list = append(list, p.file)
		}
		return list
	}
	if h.Path == "" {
		return nil
	}
	return []string{h.Path}
}

// designOf puts into d what codes design by at the site, for the strength of
// buildings of modern codes:
//
//	SDS = 2/3 max Sa,  SD1 = 2/3 Sa(1 s)   at 2475 years, on the site's ground
//	S1 = Sa(1 s)                           at 2475 years, on rock
//	PGA                                    at 475 years, on rock
//
// The mapped values of ASCE 7-16 (11.4) are risk-targeted; a uniform hazard of
// 2475 years stands in for them (judgement). Where the run has no such level the
// nearest one is scaled by H ~ a^-3 (EN 1998-1 2.1(4)). rock is nil where the
// hazard holds for the ground only; what needs it then stays unknown.
func designOf(site, rock *hazard.Site, d *archetypes.Description) {
	mce, k := nearestLevel(site.ReturnPeriod, 2475)
	sp := &site.Spectra[mce]
	d.SDS = max(sp.Sa(sp.TC), sp.Sa(0.2)) * k * 2 / 3
	d.SD1 = sp.Sa(1) * k * 2 / 3
	if rock == nil {
		return
	}
	d.S1 = rock.Spectra[mce].Sa(1) * k
	dbe, k := nearestLevel(site.ReturnPeriod, 475)
	d.PGA = rock.Spectra[dbe].PGA * k
}

// rockClass is the class of rock whose coefficients are all 1: class B, not
// measured (ASCE 7-16 11.4.3).
const rockClass = hazard.SiteClass('B')

// nearestLevel returns the level nearest to the return period tr in yr, by
// ratio, and the factor that carries its accelerations there.
func nearestLevel(levels []float64, tr float64) (i int, factor float64) {
	for j, t := range levels {
		if math.Abs(math.Log(t/tr)) < math.Abs(math.Log(levels[i]/tr)) {
			i = j
		}
	}
	const k = 3
	return i, math.Pow(tr/levels[i], 1./k)
}
