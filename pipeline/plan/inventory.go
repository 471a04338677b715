package plan

// Inventory states how to read the register.
type Inventory struct {
	// register file
	Path string `toml:"path"`
	// format of the register; where it is silent the ending of the file decides: .geojson or .json, .geojsonl
	// or .ndjson, .gpkg, .parquet, .xlsx, and csv for .csv, .tsv, .txt and any other; geojson-lines is one feature
	// a line, parquet is GeoParquet too, xlsx is a workbook of a spreadsheet program
	Format string `toml:"format" choices:"csv|geojson|geojson-lines|geopackage|parquet|xlsx"`
	// table of a geopackage, where it has several
	Layer string `toml:"layer"`
	// sheet of a workbook, where several have something in them
	Sheet string `toml:"sheet"`
	// row of a csv or of a workbook's sheet that names the columns, the first of the file being 1; 0 finds it
	// among the first 30, so that titles above it are passed over
	HeaderRow int `toml:"header_row" min:"0" max:"1000000"`
	// coordinate reference system of the register's columns of coordinates, or of geometries whose file says
	// none; where it is silent EPSG:4326. EPSG:4326, OGC:CRS84; a system within about 2 m of it, taken as it
	// is (NAD83 4269, ETRS89 4258, JGD2011 6668, GDA2020 7844 and others); or, with eastings as lon and
	// northings as lat in m, Web Mercator (EPSG:3857) or a UTM zone on WGS 84 (EPSG:326xx north, 327xx
	// south), ETRS89 (258xx), NAD83 (269xx), GDA94 (283xx) or GDA2020 (78xx)
	CRS string `toml:"crs"`
	// the character between cells, or auto to find it by looking
	Delimiter string `toml:"delimiter"`
	// what the letters of a csv are; auto takes text that is not UTF-8 for windows-1252 and says so
	Encoding string `toml:"encoding" choices:"auto|utf-8|windows-1252|latin-1"`
	// the decimal mark in the register's numbers
	Decimal string `toml:"decimal" choices:".|,"`
	// words that mean no value, in any case
	Null []string `toml:"null"`
	// exchange longitude and latitude, where the register has them the wrong way round
	Swap bool `toml:"swap"`
	// column whose cells list the parts of a building: each part becomes a building, floor area and footprint
	// divided
	Explode string `toml:"explode"`
	// what stands between the parts in the cells of explode
	Separator string `toml:"explode_separator"`
	// the column of years holds effective years (of works, of occupancy), not of construction: they count as
	// assumed
	Effective bool `toml:"effective_year"`
	// column that names groups of like buildings, such as a site or an owner, for impute and for
	// output.areas.by
	Group string `toml:"group"`
	// what fills gaps: defaults is [inventory.assume] alone; stock looks first at like buildings of the
	// register (same group, use, era, then all), which reads it twice
	Impute string `toml:"impute" choices:"defaults|stock"`
	// rejected rows that a run may have and still end with exit code 0 in place of 3: a number of rows such
	// as 20, or a share of those read such as 2%; the flag --tolerate-rejects stands above it; changes no
	// result
	Tolerate string `toml:"tolerate_rejects"`
	// our field = their column
	Columns map[string]string `toml:"columns"`
	// our field = unit of their column
	Units map[string]string `toml:"units"`
	// for a field, their value = our word
	Values map[string]map[string]string `toml:"values"`
	// our field = value where the register has none
	Assume map[string]string `toml:"assume"`
}
