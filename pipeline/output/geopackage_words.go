package output

import "strings"

// describe writes what the table is, what its columns are called and mean, and what words they may
// hold.
func (g *GeoPackage[R]) describe() error {
	t := g.t
	notes := t.Doc
	for _, kv := range g.about.notes(t.ID) {
		if kv[0] == "caution" {
			notes += " " + kv[1]
			continue
		}
		notes += " " + kv[0] + ": " + kv[1] + "."
	}
	if err := g.register(notes); err != nil {
		return err
	}
	for i := range t.Columns {
		c := &t.Columns[i]
		words, err := g.constrain(c)
		if err != nil {
			return err
		}
		if _, err := g.tx.Exec("INSERT INTO gpkg_data_columns VALUES (?, ?, ?, ?, ?, NULL, ?)", t.Name, c.Name,
			c.Name, c.title(g.about.Currency), c.Doc, words); err != nil {
			return err
		}
	}
	return g.dress()
}

// dress writes the style of the layer into the table layer_styles, from which QGIS takes it before any
// file beside the GeoPackage, each layer its own.
func (g *GeoPackage[R]) dress() error {
	if _, ok := looks[g.t.Name]; !ok || g.geo == nil {
		return nil
	}
	var style strings.Builder
	if err := WriteThemes(&style, g.t, g.about); err != nil {
		return err
	}
	if _, err := g.tx.Exec(gpkgStyles); err != nil {
		return err
	}
	_, err := g.tx.Exec("INSERT INTO layer_styles VALUES (NULL, '', '', ?, 'geometry', ?, ?, '', 1, ?, '', NULL, ?)",
		g.t.Name, g.t.Name, style.String(), g.t.Title, gpkgTime)
	return err
}

// register enters the table into the lists of the file: as features, or as attributes without a place
// (clause 2.4).
func (g *GeoPackage[R]) register(notes string) error {
	const schema = "http://www.geopackage.org/spec130/#extension_schema"
	const rtree = "http://www.geopackage.org/spec130/#extension_rtree"
	if _, err := g.tx.Exec("INSERT INTO gpkg_extensions VALUES ('gpkg_data_columns', NULL, 'gpkg_schema', ?, "+
		"'read-write'), ('gpkg_data_column_constraints', NULL, 'gpkg_schema', ?, 'read-write')", schema,
		schema); err != nil {
		return err
	}
	kind, srs := "attributes", any(nil)
	if g.geo != nil {
		kind, srs = "features", gpkgSRS
	}
	if _, err := g.tx.Exec("INSERT INTO gpkg_contents VALUES (?, ?, ?, ?, ?, NULL, NULL, NULL, NULL, ?)",
		g.t.Name, kind, g.t.Title, notes, gpkgTime, srs); err != nil || g.geo == nil {
		return err
	}
	if _, err := g.tx.Exec("INSERT INTO gpkg_geometry_columns VALUES (?, 'geometry', ?, ?, 0, 0)", g.t.Name,
		strings.ToUpper(g.geo.kind()), gpkgSRS); err != nil {
		return err
	}
	_, err := g.tx.Exec("INSERT INTO gpkg_extensions VALUES (?, 'geometry', 'gpkg_rtree_index', ?, 'write-only')",
		g.t.Name, rtree)
	return err
}

// constrain writes the words that the column may hold (annex F.9, an enum) and returns the name of
// their list, nil where it may hold anything. A list that several columns share is written once.
func (g *GeoPackage[R]) constrain(c *Column[R]) (name any, err error) {
	list, ok := c.vocabulary()
	if !ok {
		return nil, nil
	}
	for _, w := range list.words() {
		if _, err := g.tx.Exec("INSERT OR IGNORE INTO gpkg_data_column_constraints VALUES (?, 'enum', ?, NULL, NULL, "+
			"NULL, NULL, ?)", list.name, w.Value, w.Says); err != nil {
			return nil, err
		}
	}
	return list.name, nil
}
