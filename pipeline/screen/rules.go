package screen

import (
	"slices"
	"strings"

	"plinth/pipeline/assess"
	"plinth/pipeline/output"
	"plinth/retrofit"
)

// writeRules writes the rules that the measures of the run are held against.
func writeRules(study *assess.Study, set *output.Set, about output.About, joined []string) error {
	return output.WriteTable(set, &output.Rules, about, Rules(study), append([]string{output.FormatCSV}, joined...)...)
}

// Rules returns the rows of the rules that the measures of the run are held against.
func Rules(study *assess.Study) []output.Rule {
	var rows []output.Rule
	for i := range retrofit.DefaultRules() {
		rule := &retrofit.DefaultRules()[i]
		var used []string
		for _, k := range retrofit.Kinds() {
			if slices.Contains(k.Rules, rule.Name) && slices.Contains(study.Plan().Measures.Use, k.Slug) {
				used = append(used, k.Slug)
			}
		}
		if len(used) == 0 {
			continue
		}
		row := output.Rule{
			Rule: rule.Name, Measures: strings.Join(used, " "), Criterion: rule.Criterion.String(),
			Unit:       rule.Criterion.Unit(),
			Comparison: rule.Compare.String(), Note: rule.Note, Doubt: rule.Doubt, Bar: rule.Bar, Source: rule.Source,
		}
		if rule.Against != 0 {
			row.Against = rule.Against.String()
		}
		rows = append(rows, row)
	}
	return rows
}
