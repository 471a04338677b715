package plan

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
)

// hazard checks the keys that the kind of hazard needs.
func (c *checker) hazard(h *Hazard) {
	switch h.Kind {
	case "":
		table := setting{key: "hazard", value: reflect.ValueOf(*h)}
		for _, s := range table.keys() {
			if s.name == "kind" {
				c.add(s.key, nil, "missing", oneOf(s.choices))
			}
		}
	case "grid", "points", "curves", "zones":
		if h.Path == "" {
			c.add("hazard.path", nil, "missing for kind "+h.Kind, `write path = "your-hazard-file"`)
		}
	case "rasters":
		c.rasters(h)
	case "constant":
		c.constant(h)
	default:
		c.standard(h)
	}
	c.soil(h)
	c.levels(h)
	c.shaking(h)
}

// shaking checks the lists that say how the ground shakes.
func (c *checker) shaking(h *Hazard) {
	for _, list := range []struct {
		key  string
		have int
	}{{"magnitude", len(h.Magnitude)}, {"source_distance_km", len(h.SourceDistance)},
		{"significant_duration_s", len(h.Duration)}, {"pulse_period_s", len(h.PulsePeriod)}} {
		if list.have > 1 && list.have != len(h.ReturnPeriods) {
			c.add("hazard."+list.key, nil, fmt.Sprintf("has %d values for %d return periods", list.have,
				len(h.ReturnPeriods)), "give one for all, or one each of return_periods_yr")
		}
	}
	if (len(h.Magnitude) > 0) != (len(h.SourceDistance) > 0) {
		c.add("hazard.source_distance_km", nil, "magnitude and source_distance_km say something together only",
			"give both, or neither")
	}
}

func (c *checker) rasters(h *Hazard) {
	for _, word := range []string{"{return_period}", "{period}"} {
		if !strings.Contains(h.Path, word) {
			c.add("hazard.path", h.Path, "has no "+word+" in it",
				`write a pattern such as path = "sa_{period}s_{return_period}yr.asc"`)
		}
	}
	if len(h.Levels) == 0 {
		c.add("hazard.raster_return_periods_yr", nil, "missing for kind rasters",
			"list the return periods there are files for")
	}
	if len(h.Periods) == 0 || h.Periods[0] != 0 {
		c.add("hazard.periods_s", nil, "must begin with 0, the peak ground acceleration, for kind rasters",
			"list the periods there are files for, such as [0, 0.2, 1]")
	}
}

func (c *checker) constant(h *Hazard) {
	if len(h.Periods) == 0 || len(h.Periods) != len(h.Sa) {
		c.add("hazard.sa", nil, fmt.Sprintf("has %d values for %d periods", len(h.Sa), len(h.Periods)),
			"give periods_s and sa as two lists of one length")
	}
	for i, t := range h.Periods {
		if t <= 0 || i > 0 && t <= h.Periods[i-1] {
			c.add("hazard.periods_s", t, "not above 0 and ascending",
				"list the periods from short to long, each once; the peak ground acceleration is pga")
		}
	}
	for _, a := range h.Sa {
		if a <= 0 {
			c.add("hazard.sa", a, "not a spectral acceleration", "write values above 0")
		}
	}
	if h.PGA <= 0 {
		c.add("hazard.pga", nil, "missing for kind constant", "write the peak ground acceleration, above 0")
	}
}

// standard checks the parameters of a standard.
func (c *checker) standard(h *Hazard) {
	byFile := h.Path != ""
	const remedy = ", or the path of a CSV of them by location"
	switch {
	case h.Kind == "asce7-16" && !byFile && (h.SS <= 0 || h.S1 <= 0):
		c.add("hazard.ss", nil, "ss and s1 are needed for kind asce7-16", "write the mapped ss and s1 in g"+remedy)
	case h.Kind == "en1998-1" && !byFile && h.AG <= 0:
		c.add("hazard.ag", nil, "missing for kind en1998-1", "write ag on type A ground"+remedy)
	case h.Kind == "nzs1170.5" && !byFile && h.Z <= 0:
		c.add("hazard.z", nil, "missing for kind nzs1170.5", "write the hazard factor of Table 3.3"+remedy)
	case h.Kind == "japan-1457" && h.Z <= 0:
		c.add("hazard.z", nil, "missing for kind japan-1457", "write the zone factor, 0.7 to 1.0")
	case h.Kind == "japan-1457" && h.SingleLevel() <= h.Moderate:
		c.add("hazard.moderate_return_period_yr", h.Moderate, "not below that of the severe level",
			"write a shorter one, such as 50")
	case h.Kind == "ntc2018" && !byFile:
		n := len(h.Levels2018)
		if n == 0 || len(h.AG2018) != n || len(h.F02018) != n || len(h.TC2018) != n {
			c.add("hazard.ntc_return_periods_yr", nil,
				fmt.Sprintf("has %d values for %d of ntc_ag, %d of ntc_f0 and %d of ntc_tc_s", n, len(h.AG2018),
					len(h.F02018), len(h.TC2018)),
				"write four lists of one length"+remedy)
		}
	}
	if h.Direction == "maximum" && h.Kind != "asce7-16" {
		c.add("hazard.direction", h.Direction, "is of files and of asce7-16: kind "+h.Kind+" states no such values",
			`leave it out`)
	}
}

// soil checks that the plan says whether the spectra hold for rock or soil.
func (c *checker) soil(h *Hazard) {
	switch {
	case h.OfStandard():
		if h.SoilIncluded != nil && *h.SoilIncluded {
			c.add("hazard.soil_included", true, "cannot be for kind "+h.Kind+": its parameters hold for rock",
				"write false, and a site_class")
		}
		if h.SoilStandard != "" && h.SoilStandard != h.Kind {
			c.add("hazard.soil_standard", h.SoilStandard, "is not that of kind "+h.Kind,
				"leave it out: the kind decides")
		}
	case h.SoilIncluded == nil && h.Kind == "japan-1457":
		c.add("hazard.soil_included", nil,
			"missing: the spectrum holds for bedrock of 400 m/s, without the amplification Gs of the layers above",
			"write true to take the sites for bedrock, false to amplify by soil_standard")
	case h.SoilIncluded == nil:
		c.add("hazard.soil_included", nil, "missing: spectra for rock and for soil differ by a factor of two",
			"write true if the file's spectra hold for the ground at each site, false if they hold for rock")
	case *h.SoilIncluded && h.SiteZones != "":
		c.add("hazard.site_zones", h.SiteZones, "is not used: the spectra hold for the ground already",
			"leave it out, or write soil_included = false")
	}
}

// levels checks the return periods.
func (c *checker) levels(h *Hazard) {
	if len(h.ReturnPeriods) == 0 {
		c.add("hazard.return_periods_yr", nil, "empty", "list at least one return period, such as [475]")
	}
	for i := 1; i < len(h.ReturnPeriods); i++ {
		if h.ReturnPeriods[i] <= h.ReturnPeriods[i-1] {
			c.add("hazard.return_periods_yr", h.ReturnPeriods[i], "not ascending",
				"list the return periods from short to long, each once")
		}
	}
	if !slices.Contains(h.ReturnPeriods, h.Design) {
		c.add("hazard.design_return_period_yr", h.Design, "not one of return_periods_yr",
			"add it to the list or choose one of the list")
	}
	single := h.Kind == "constant" || h.Kind == "asce7-16" || h.Kind == "en1998-1"
	if single && h.K <= 0 && (len(h.ReturnPeriods) != 1 || h.ReturnPeriods[0] != h.SingleLevel()) {
		c.add("hazard.k", nil, "missing: one spectrum cannot give other return periods by itself",
			"declare the exponent, such as k = 3 (EN 1998-1 2.1(4)), or set return_periods_yr and "+
				"design_return_period_yr to the reference_return_period_yr alone")
	}
}
