package plan

import (
	"fmt"
	"slices"
	"strings"

	"plinth/archetypes"
	"plinth/retrofit"
)

// meaning checks what one key alone cannot show: that a plan with the right
// shape says enough and does not contradict itself.
func (c *checker) meaning(p *Plan) {
	c.inventory(&p.Inventory)
	c.hazard(&p.Hazard)
	c.archetypes(&p.Archetypes)
	c.measures(p.Measures.Use)
	if p.Output.Folder == "" {
		c.add("output.folder", nil, "no folder for the results", `write folder = "out"`)
	}
	if len(p.Output.Formats) == 0 {
		c.add("output.formats", nil, "no format for the results", `write formats = ["parquet", "csv"]`)
	}
}

// archetypes checks that the tables know the region and its zone.
func (c *checker) archetypes(a *Archetypes) {
	tables := archetypes.Default()
	region, err := tables.ParseRegion(a.Region)
	if err != nil {
		c.add("archetypes.region", a.Region, "not a region of the table of code eras", oneOf(tables.Regions()))
		return
	}
	if _, err := tables.ParseZone(region, a.Zone); err != nil {
		c.add("archetypes.zone", a.Zone, "not a zone of region "+a.Region, oneOf(tables.Zones(region))+", or leave it out")
	}
}

// measures checks that each measure is known and listed once.
func (c *checker) measures(use []string) {
	var known []string
	for _, d := range retrofit.Measures() {
		if d.Slug != "none" {
			known = append(known, d.Slug)
		}
	}
	for i, slug := range use {
		switch {
		case slug == "none":
			c.add("measures.use", slug, "doing nothing is always compared", "leave it out of the list")
		case !slices.Contains(known, slug):
			remedy := oneOf(known)
			if near := nearest(slug, known); near != "" {
				remedy = "did you mean " + near + "? " + remedy
			}
			c.add("measures.use", slug, "not a measure", remedy)
		case slices.Contains(use[:i], slug):
			c.add("measures.use", slug, "listed twice", "list each measure once")
		}
	}
	if len(use) == 0 {
		c.add("measures.use", nil, "no measure to try", `write use = ["lead-rubber", "viscous", "strengthen"] or others`)
	}
}

func (c *checker) inventory(in *Inventory) {
	if in.Path == "" {
		c.add("inventory.path", nil, "missing", `write path = "your-register.csv"`)
	}
	if n := len([]rune(in.Delimiter)); n != 1 && in.Delimiter != "auto" {
		c.add("inventory.delimiter", in.Delimiter, "not one character", `write one character, such as "," or ";" or "\t", or "auto"`)
	}
	if in.Explode != "" && in.Separator == "" {
		c.add("inventory.explode_separator", in.Separator, "empty, so that no cell can be split", `write what stands between the parts, such as ";"`)
	}
	if in.Group != "" && in.Impute != "stock" {
		c.add("inventory.group", in.Group, "is not used without impute = \"stock\"", `write impute = "stock", or remove the key`)
	}
	if in.Columns["id"] == "" {
		c.add("inventory.columns.id", nil, "missing: every result is joined back by it", `name the register's id column under [inventory.columns], such as id = "BUILDING_ID"`)
	}
	for _, field := range []string{"lon", "lat"} {
		if in.Columns[field] == "" && in.Format == "csv" { // elsewhere the geometry may give them
			c.add("inventory.columns."+field, nil, "missing: the hazard is read by location", "name the column under [inventory.columns]")
		}
	}
}

func (c *checker) hazard(h *Hazard) {
	switch h.Kind {
	case "":
		c.add("hazard.kind", nil, "missing", oneOf([]string{"grid", "points", "curves", "zones", "rasters", "constant", "asce7-16"}))
	case "grid", "points", "curves", "zones":
		if h.Path == "" {
			c.add("hazard.path", nil, "missing for kind "+h.Kind, `write path = "your-hazard-file"`)
		}
	case "rasters":
		c.rasters(h)
	case "constant":
		c.constant(h)
	case "asce7-16":
		if h.Path == "" && (h.SS <= 0 || h.S1 <= 0) {
			c.add("hazard.ss", nil, "ss and s1 are needed for kind asce7-16", "write the mapped ss and s1 in g, or the path of a CSV of them by location")
		}
	}
	c.soil(h)
	c.levels(h)
}

func (c *checker) rasters(h *Hazard) {
	for _, word := range []string{"{return_period}", "{period}"} {
		if !strings.Contains(h.Path, word) {
			c.add("hazard.path", h.Path, "has no "+word+" in it", `write a pattern such as path = "sa_{period}s_{return_period}yr.asc"`)
		}
	}
	if len(h.Levels) == 0 {
		c.add("hazard.raster_return_periods_yr", nil, "missing for kind rasters", "list the return periods there are files for")
	}
	if len(h.Periods) == 0 || h.Periods[0] != 0 {
		c.add("hazard.periods_s", nil, "must begin with 0, the peak ground acceleration, for kind rasters", "list the periods there are files for, such as [0, 0.2, 1]")
	}
}

func (c *checker) constant(h *Hazard) {
	if len(h.Periods) == 0 || len(h.Periods) != len(h.Sa) {
		c.add("hazard.sa", nil, fmt.Sprintf("has %d values for %d periods", len(h.Sa), len(h.Periods)), "give periods_s and sa as two lists of one length")
	}
	for i, t := range h.Periods {
		if t <= 0 || i > 0 && t <= h.Periods[i-1] {
			c.add("hazard.periods_s", t, "not above 0 and ascending", "list the periods from short to long, each once; the peak ground acceleration is pga")
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

// soil checks that the plan says whether the spectra hold for rock or soil.
func (c *checker) soil(h *Hazard) {
	switch {
	case h.Kind == "asce7-16":
		if h.SoilIncluded != nil && *h.SoilIncluded {
			c.add("hazard.soil_included", true, "cannot be for kind asce7-16: ss and s1 are rock values", "write false, and a site_class")
		}
	case h.SoilIncluded == nil:
		c.add("hazard.soil_included", nil, "missing: spectra for rock and for soil differ by a factor of two",
			"write true if the file's spectra hold for the ground at each site, false if they hold for rock")
	}
}

// levels checks the return periods.
func (c *checker) levels(h *Hazard) {
	if len(h.ReturnPeriods) == 0 {
		c.add("hazard.return_periods_yr", nil, "empty", "list at least one return period, such as [475]")
	}
	for i := 1; i < len(h.ReturnPeriods); i++ {
		if h.ReturnPeriods[i] <= h.ReturnPeriods[i-1] {
			c.add("hazard.return_periods_yr", h.ReturnPeriods[i], "not ascending", "list the return periods from short to long, each once")
		}
	}
	if !slices.Contains(h.ReturnPeriods, h.Design) {
		c.add("hazard.design_return_period_yr", h.Design, "not one of return_periods_yr", "add it to the list or choose one of the list")
	}
	single := h.Kind == "constant" || h.Kind == "asce7-16"
	if single && h.K <= 0 && (len(h.ReturnPeriods) != 1 || h.ReturnPeriods[0] != h.SingleLevel()) {
		c.add("hazard.k", nil, "missing: one spectrum cannot give other return periods by itself",
			"declare the exponent, such as k = 3 (EN 1998-1 2.1(4)), or set return_periods_yr and design_return_period_yr to the reference_return_period_yr alone")
	}
}
