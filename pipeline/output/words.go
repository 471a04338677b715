package output

import (
	"strings"

	"plinth/archetypes"
	"plinth/retrofit"
)

// A Word is one of the values that a Text column may hold, and what it says.
type Word struct{ Value, Says string }

// gradeWords are the grades of data.
func gradeWords() []Word {
	return []Word{{"A", "measured or reported"}, {"B", "most fields given"}, {"C", "some fields given"},
		{"D", "most fields assumed: find out more first"}}
}

// verdictWords are the verdicts of feasibility rules.
func verdictWords() []Word {
	return []Word{{retrofit.Clear.String(), "no rule speaks against it"},
		{retrofit.Missing.String(), "a fact is not known"}, {retrofit.Doubt.String(), "needs study first"},
		{retrofit.Bar.String(), "does not fit"}}
}

// measureWords are the measures, by their slugs.
func measureWords() []Word {
	var list []Word
	for _, k := range retrofit.Kinds() {
		list = append(list, Word{k.Slug, k.Name})
	}
	return list
}

// systemWords are the structural systems, by their slugs.
func systemWords() []Word {
	var list []Word
	for _, s := range archetypes.Systems() {
		list = append(list, Word{s.String(), strings.ReplaceAll(s.String(), "-", " ")})
	}
	return list
}

// A vocabulary is a list of words with a name of its own.
type vocabulary struct {
	name  string
	words func() []Word
}

// vocabularies holds those of columns by their names, which say the same in every table.
var vocabularies = func() map[string]vocabulary {
	list := map[string]vocabulary{}
	for _, v := range []struct {
		vocabulary
		columns string
	}{
		{vocabulary{"grades", gradeWords}, "data_grade"},
		{vocabulary{"verdicts", verdictWords}, "verdict best_verdict"},
		{vocabulary{"measures", measureWords},
			"measure best_measure first_measure best_by_life_safety pays_measure runner_up"},
		{vocabulary{"systems", systemWords}, "system"},
		{vocabulary{"priorities", priorityWords}, "priority"},
		{vocabulary{"areas", areaWords}, "kind"},
	} {
		for name := range strings.FieldsSeq(v.columns) {
			list[name] = v.vocabulary
		}
	}
	return list
}()

// vocabulary returns the words that the column may hold. ok is false where it may hold anything.
func (c *Column[R]) vocabulary() (v vocabulary, ok bool) {
	v, ok = vocabularies[c.Name]
	return v, ok && c.Text != nil
}

// spelled are the parts of names that a title spells otherwise.
var spelled = map[string]string{
	"id": "id", "lon": "longitude", "lat": "latitude", "sa": "Sa", "pga": "PGA", "accel": "acceleration",
	"asce41": "ASCE 41", "dm58": "DM 58", "pam": "PAM", "isv": "IS-V", "iv": "IV",
	"3pct": "at 3 %", "7pct": "at 7 %",
}

// unitEndings are the endings of names that say a unit, which a title has in brackets.
var unitEndings = []string{"_pct", "_m2", "_per_yr", "_yr", "_m", "_s", "_g"}

// title returns the name of the column for people: words, then the unit in brackets, money in the
// currency of the run.
//
//	drift_pct -> Drift (%)
func (c *Column[R]) title(currency string) string {
	name := c.Name
	if c.Unit != "" {
		for _, ending := range unitEndings {
			if rest, ok := strings.CutSuffix(name, ending); ok {
				name = rest
				break
			}
		}
	}
	parts := strings.Split(name, "_")
	for i, p := range parts {
		if s, ok := spelled[p]; ok {
			parts[i] = s
		}
	}
	name = strings.Join(parts, " ")
	name = strings.ToUpper(name[:1]) + name[1:]
	if c.Unit == "" {
		return name
	}
	unit := c.Unit
	if currency != "" {
		unit = strings.ReplaceAll(unit, "currency", currency)
	}
	return name + " (" + unit + ")"
}
