package assess

import (
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"

	"plinth/hazard"
	"plinth/hazard/field"
	"plinth/pipeline/plan"
)

// openField returns the hazard of the plan as a field, ready for lookups at the
// plan's return periods and the rungs of annual values.
func openField(h *plan.Hazard, soilIncluded bool, rungs []float64) (field.Field, error) {
	opt, err := fieldOptions(h, soilIncluded)
	opt.Between = rungs
	if err != nil {
		return nil, err
	}
	layout := field.Scattered
	if h.Layout == "grid" {
		layout = field.Regular
	}
	switch h.Kind {
	case "grid":
		return readField(h.Path, func(r io.Reader) (field.Field, error) {
			return field.ReadGrid(r, h.Path, opt)
		})
	case "points":
		return readField(h.Path, func(r io.Reader) (field.Field, error) {
			return field.ReadPoints(r, h.Path, opt)
		})
	case "curves":
		return readField(h.Path, func(r io.Reader) (field.Field, error) {
			return field.ReadCurves(r, h.Path, layout, opt)
		})
	case "zones":
		return readField(h.Path, func(r io.Reader) (field.Field, error) {
			return field.ReadZones(r, h.Path, opt)
		})
	case "rasters":
		return readRasters(h, opt)
	case "constant":
		return field.NewConstant(h.Periods,
			[]field.Level{{ReturnPeriod: h.SingleLevel(), PGA: h.PGA, Sa: h.Sa}}, opt)
	case "japan-1457":
		return field.NewJapan(h.Z, h.SingleLevel(), h.Moderate, opt)
	case "asce7-16":
		if h.Path == "" {
			return field.NewParameters(field.Mapped{SS: h.SS, S1: h.S1, TL: h.TL}, h.SingleLevel(), opt)
		}
		return readField(h.Path, func(r io.Reader) (field.Field, error) {
			return field.ReadParameters(r, h.Path, layout, h.SingleLevel(), opt)
		})
	}
	return openCode(h, layout, opt)
}

// fieldOptions returns the options of the plan for reading its hazard.
func fieldOptions(h *plan.Hazard, soilIncluded bool) (field.Options, error) {
	opt := field.Options{
		ReturnPeriods: h.ReturnPeriods, Unit: h.Unit, CRS: h.CRS, K: h.K,
		MaxDistance:  h.MaxDistanceKM * 1000,
		SoilIncluded: soilIncluded, LargestDirection: h.Direction == "maximum",
		Eurocode8: eurocode8(h),
	}
	var err error
	if h.Kind != "ntc2018" { // its classes are no rule for maps
		opt.Soil, err = hazard.ParseSoilStandard(h.SoilSlug())
	}
	if err == nil && h.SiteClass != "" {
		opt.DefaultClass, err = hazard.ParseSiteClass(h.SiteClass)
	}
	return opt, err
}

func eurocode8(h *plan.Hazard) hazard.Eurocode8Parameters {
	if h.SpectrumType == 2 {
		return hazard.Eurocode8Type2
	}
	return hazard.Eurocode8Type1
}

// openCode returns the field of a standard's parameters.
func openCode(h *plan.Hazard, layout field.Layout, opt field.Options) (field.Field, error) {
	var standard field.Standard
	var levels []field.CodeLevel
	switch h.Kind {
	case "en1998-1":
		factor, err := hazard.ImportanceFactor(h.Importance)
		if err != nil {
			return nil, err
		}
		standard = field.Eurocode8{Parameters: eurocode8(h), Importance: factor, Reference: h.SingleLevel()}
		levels = []field.CodeLevel{{Values: []float64{h.AG}}}
	case "nzs1170.5":
		standard, levels = field.NZS1170{}, []field.CodeLevel{{Values: []float64{h.Z}}}
	case "ntc2018":
		standard = field.NTC2018{Topography: h.Topography}
		for i, tr := range h.Levels2018 {
			levels = append(levels, field.CodeLevel{ReturnPeriod: tr,
				Values: []float64{h.AG2018[i], h.F02018[i], h.TC2018[i]}})
		}
	default:
		return nil, fmt.Errorf("hazard kind %q is not read", h.Kind)
	}
	if h.Path == "" {
		return field.NewCode(standard, levels, opt)
	}
	return readField(h.Path, func(r io.Reader) (field.Field, error) {
		return field.ReadCode(r, h.Path, layout, standard, opt)
	})
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
		list = append(list, field.Raster{ReturnPeriod: path.level, Period: path.period, File: path.file,
			Content: f})
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
			name := strings.NewReplacer("{return_period}", number(level), "{period}",
				number(t)).Replace(h.Path)
			list = append(list, rasterPath{level, t, name})
		}
	}
	return list
}

// hazardFiles returns the files the hazard is read from.
func hazardFiles(h *plan.Hazard) []string {
	var list []string
	if h.Kind == "rasters" {
		for _, p := range rasterPaths(h) {
			list = append(list, p.file)
		}
	} else if h.Path != "" {
		list = append(list, h.Path)
	}
	if h.SiteZones != "" {
		list = append(list, h.SiteZones)
	}
	return list
}
