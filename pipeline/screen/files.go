package screen

import (
	"slices"

	"plinth/pipeline/assess"
	"plinth/pipeline/output"
	"plinth/pipeline/report"
)

// screenClaim returns the claim of a screening. It writes to the output folder itself, where
// a file of the user may have the name of one of its files: such a file is not overwritten.
func screenClaim(study *assess.Study, hash string, s assess.Settings) output.Claim {
	c := study.Claim(hash, s)
	c.Names = names(study)
	return c
}

// names returns the files a screening may write.
func names(study *assess.Study) []string {
	var names []string
	csv := func(table string) {
		names = append(names, table+"."+output.FormatCSV, table+".csv-metadata.json")
	}
	for _, table := range []string{output.Candidates.Name, output.Buildings.Name} {
		for _, format := range study.Plan().Output.Formats {
			switch format {
			case output.FormatCSV:
				csv(table)
			case formatHTML:
				names = append(names, report.Name)
			case output.FormatGeoPackage: // a large one has tiles beside it
				names = append(names, table+"."+format, table+".sld", table+"."+output.FormatTiles)
			default:
				names = append(names, table+"."+format)
			}
		}
	}
	for _, table := range []string{output.Verdicts.Name, output.Rules.Name, output.Rejects.Name} {
		csv(table)
	}
	return names
}

// formatHTML is the format of the report.
const formatHTML = "html"

// tables returns the formats that a table is written in. Formats of maps are for the table of
// buildings alone.
func tables(formats []string, maps bool) []string {
	var out []string
	for _, f := range formats {
		if f == output.FormatParquet || f == output.FormatCSV || maps && f != formatHTML {
			out = append(out, f)
		}
	}
	return out
}

// manyBuildings is the number of buildings above which a viewer is slow to draw one file
// (judgement).
const manyBuildings = 50_000

// withTiles adds vector tiles where there is a map of many buildings.
func withTiles(formats []string, buildings int64) []string {
	if buildings > manyBuildings && slices.Contains(formats, output.FormatGeoPackage) &&
		!slices.Contains(formats, output.FormatTiles) {
		return append(formats, output.FormatTiles)
	}
	return formats
}
