package plan

import (
	"io/fs"

	"plinth/pipeline/output"
)

// Confirm states how the shortlist is checked by time histories.
type Confirm struct {
	// how many of the foremost buildings
	Shortlist int `toml:"shortlist" min:"1" max:"1000"`
	// how many of the best measures of each, beside the building as it stands
	Measures int `toml:"measures" min:"1" max:"8"`
	// artificial records for each site: 7 for a look, 11 for a decision on isolation
	Records int `toml:"records" min:"1" max:"100"`
	// seed of the records: the same seed, the same records
	Seed int `toml:"seed" min:"0"`
	// significant duration (5 to 95 %) of the artificial records; 0 for that of the hazard at each site, or
	// where that is not known the 17 s that the damping coefficients of codes assume
	Duration float64 `toml:"significant_duration_s" unit:"s" min:"0" max:"120"`
	// let the weight above a storey push it further
	PDelta bool `toml:"p_delta"`
	// records of your own instead of artificial ones: files of time in s and acceleration in g
	RecordFiles []string `toml:"record_files"`
	// what is done to records of your own
	Fitting string `toml:"fitting" choices:"scaled|matched"`
	// how many of the foremost buildings confirm.html shows in pictures, each with its two best measures; 0
	// for none
	Pictures int `toml:"pictures" min:"0" max:"20"`
}

// Output states where to write which results.
type Output struct {
	// folder of the results
	Folder string `toml:"folder"`
	// let nobody but you read the results, where the system knows owners: a folder the run makes and every
	// file in it; one that was there and is open to others is refused
	Private bool `toml:"private"`
	// what to write: tables as Parquet and CSV, the foremost 50,000 rows of each as one workbook (xlsx), the
	// report as one page, and maps of the buildings in the
	// other formats (docs/methods/output-files.md); a GeoPackage of more than 50,000 buildings has vector
	// tiles beside it
	Formats Formats `toml:"formats"`
	// sums by area, as the table areas and a layer of the GeoPackage
	Areas Areas `toml:"areas"`
}

// Areas states whether and how buildings are added up by area.
type Areas struct {
	// none; group for the values of the register's column inventory.group; grid for near-square cells
	By string `toml:"by" choices:"none|group|grid"`
	// side of the cells of a grid
	Cell float64 `toml:"cell_m" unit:"m" min:"50" max:"100000"`
	// buildings of an area that gets a row of its own; areas of fewer are joined in one row, so that nobody
	// reads single buildings off
	Least int `toml:"least_buildings" min:"1" max:"1000"`
}

// The ways to add up buildings by area.
const (
	AreasByGroup = "group"
	AreasByGrid  = "grid"
)

// FileMode returns the mode of a file of results before umask.
func (o *Output) FileMode() fs.FileMode {
	if o.Private {
		return 0o600
	}
	return 0o666
}

// FormatReport is the format of the report: one page.
const FormatReport = "html"

// Formats are the formats of the results.
type Formats []string

// Choices returns the formats that a plan can name: those of tables and maps, then those of the
// workbook and of the report.
func (Formats) Choices() []string {
	return append(output.FormatNames(), output.FormatWorkbook, FormatReport)
}
