package screen

import (
	"slices"

	"plinth/pipeline/assess"
	"plinth/pipeline/output"
	"plinth/pipeline/plan"
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
	for _, files := range []func(format string) []string{output.Candidates.Files, output.Buildings.Files} {
		for _, name := range study.Plan().Output.Formats {
			format, _ := output.FormatNamed(name)
			names = append(append(names, files(name)...), files(format.Large)...)
		}
	}
	if areaTable(study) != nil {
		for _, name := range areaFormats(study.Plan().Output.Formats) {
			if name != output.Layer { // it becomes a part of another file
				names = append(names, output.Areas.Files(name)...)
			}
		}
	}
	if slices.Contains(study.Plan().Output.Formats, plan.FormatReport) {
		names = append(names, report.Name)
	}
	if slices.Contains(study.Plan().Output.Formats, output.FormatWorkbook) {
		names = append(names, output.WorkbookName)
	}
	names = append(names, output.Verdicts.Files(output.FormatCSV)...)
	names = append(names, output.Rules.Files(output.FormatCSV)...)
	return append(names, output.Rejects.Files(output.FormatCSV)...)
}

// tables returns the formats that a table is written in. Formats of maps are for the table of
// buildings alone.
func tables(formats []string, maps bool) []string {
	var out []string
	for _, f := range formats {
		if format, ok := output.FormatNamed(f); ok && (maps || !format.Map) {
			out = append(out, f)
		}
	}
	return out
}

// manyBuildings is the number of buildings above which a viewer is slow to draw one file
// (judgement).
const manyBuildings = 50_000

// withLarge adds the formats that also are written where there is a map of many buildings.
func withLarge(formats []string, buildings int64) []string {
	if buildings <= manyBuildings {
		return formats
	}
	out := slices.Clone(formats)
	for _, f := range formats {
		if format, _ := output.FormatNamed(f); format.Large != "" && !slices.Contains(out, format.Large) {
			out = append(out, format.Large)
		}
	}
	return out
}
