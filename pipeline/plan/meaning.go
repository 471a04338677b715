package plan

import (
	"slices"

	"plinth/archetypes"
	"plinth/hazard/field"
	"plinth/retrofit"
)

// meaning checks what no single key shows: that a plan of the right shape states enough and does
// not contradict itself.
func (c *checker) meaning(p *Plan) {
	c.inventory(&p.Inventory)
	c.groups(p)
	if !c.bare {
		c.hazard(&p.Hazard)
	}
	c.archetypes(&p.Archetypes)
	c.measures(p.Measures.Use)
	c.target(p)
	if p.Objective.RankBy == "weighted" && p.Objective.Weights == (Weights{}) {
		c.add("objective.weights", nil, "missing for rank_by = \"weighted\"",
			"declare the points of one unit of each objective, such as weights = {net-benefit = 1, life-safety = 5e6}")
	}
	if n := p.Uncertainty.Draws; n > 0 && n < leastDraws {
		c.add("uncertainty.draws", n, "too few to tell what one draw in twenty exceeds", "write 0 for none, or 199")
	}
	if p.Output.Folder == "" {
		c.add("output.folder", nil, "no folder for the results", `write folder = "out"`)
	}
	if len(p.Output.Formats) == 0 {
		c.add("output.formats", nil, "no format for the results", `write formats = ["parquet", "csv"]`)
	}
}

// leastDraws is the least number of draws with one order statistic outside a 90 % interval on each
// side.
const leastDraws = 19

// archetypes checks that the tables know the region and its zone.
func (c *checker) archetypes(a *Archetypes) {
	if a.Eras != "" {
		return // its regions are not known before it is read
	}
	tables := archetypes.Default()
	region, err := tables.ParseRegion(a.Region)
	if err != nil {
		c.add("archetypes.region", a.Region, "not a region of the table of code eras", oneOf(tables.Regions()))
		return
	}
	if _, err := tables.ParseZone(region, a.Zone); err != nil {
		c.add("archetypes.zone", a.Zone, "not a zone of region "+a.Region,
			oneOf(tables.Zones(region))+", or leave it out")
	}
}

// measures checks that each measure is known and listed once.
func (c *checker) measures(use []string) {
	var known []string
	for _, k := range retrofit.Kinds() {
		if k.Options != nil {
			known = append(known, k.Slug)
		}
	}
	for i, slug := range use {
		switch {
		case slug == "none":
			c.add("measures.use", slug, "doing nothing is always compared", "leave it out of the list")
		case !slices.Contains(known, slug):
			c.add("measures.use", slug, "not a measure", suggest(slug, known, oneOf(known)))
		case slices.Contains(use[:i], slug):
			c.add("measures.use", slug, "listed twice", "list each measure once")
		}
	}
	if len(use) == 0 {
		c.add("measures.use", nil, "no measure to try",
			`write use = ["lead-rubber", "viscous", "strengthen"] or others`)
	}
}

// groups checks that a column of groups serves something, and that what it serves has it.
func (c *checker) groups(p *Plan) {
	in, byGroup := &p.Inventory, p.Output.Areas.By == AreasByGroup
	if in.Group != "" && in.Impute != "stock" && !byGroup {
		c.add("inventory.group", in.Group, "is not used without impute = \"stock\" or areas by group",
			`write impute = "stock", or output.areas.by = "group", or remove the key`)
	}
	if in.Group == "" && byGroup {
		c.add("output.areas.by", p.Output.Areas.By, "needs the column of groups",
			`name it under [inventory], such as group = "DISTRICT", or write by = "grid"`)
	}
}

func (c *checker) inventory(in *Inventory) {
	if in.Path == "" {
		c.add("inventory.path", nil, "missing", `write path = "your-register.csv"`)
	}
	if in.Format == "" {
		if rule, remedy := notRead(in.Path); rule != "" {
			c.add("inventory.path", in.Path, rule, remedy)
			return // what else is missing depends on the format
		}
		in.Format = FormatOf(in.Path)
	}
	if n := len([]rune(in.Delimiter)); n != 1 && in.Delimiter != "auto" {
		c.add("inventory.delimiter", in.Delimiter, "not one character",
			`write one character, such as "," or ";" or "\t", or "auto"`)
	}
	if _, err := field.ProjectionOf(in.CRS); err != nil {
		c.add("inventory.crs", in.CRS, "not a system of coordinates that is read",
			"write EPSG:4326 or a UTM zone such as EPSG:32610, or reproject the register")
	}
	if in.Explode != "" && in.Separator == "" {
		c.add("inventory.explode_separator", in.Separator, "empty, so that no cell can be split",
			`write what stands between the parts, such as ";"`)
	}
	if _, err := ParseTolerance(in.Tolerate); err != nil {
		c.add("inventory.tolerate_rejects", in.Tolerate, "neither a number of rows nor a share of them",
			`write a number of rows such as "20", or a share such as "2%"`)
	}
	if in.Columns["id"] == "" {
		c.add("inventory.columns.id", nil, "missing: every result is joined back by it",
			`name the register's id column under [inventory.columns], such as id = "BUILDING_ID"`)
	}
	for _, field := range []string{"lon", "lat"} {
		if in.Columns[field] == "" && in.Format == "csv" { // elsewhere the geometry may give them
			c.add("inventory.columns."+field, nil, "missing: the hazard is read by location",
				"name the column under [inventory.columns]")
		}
	}
}
