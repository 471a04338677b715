package inventory

import (
	"fmt"
	"io"
	"strings"

	"plinth/pipeline/inventory/cell"
)

// WriteTables writes the tables of fields, rules, uses and the data grade in
// Markdown, for the manual's page on registers.
func WriteTables(to io.Writer) error {
	var b strings.Builder
	writeFieldTable(&b)
	writeRuleTable(&b, true)
	writeRuleTable(&b, false)
	writeStoreyTable(&b)
	writeUseTable(&b)
	writeRubric(&b)
	_, err := io.WriteString(to, b.String())
	return err
}

func writeFieldTable(b *strings.Builder) {
	b.WriteString("### Fields\n\n| field | what | units, the one kept first | believed from, to | 0 means | words |\n| --- | --- | --- | --- | --- | --- |\n")
	for f := range Field(NumFields) {
		s := f.Spec()
		between := ""
		if s.Source != "" {
			between = fmt.Sprintf("%g, %g", s.Min, s.Max)
		}
		zero := ""
		if s.ZeroNull {
			zero = "not known"
		}
		words, _ := wordsOf(f)
		if f == UseField {
			words = []string{"see Uses"}
		}
		slug := "`" + s.Slug + "`"
		if s.Required {
			slug += " (required)"
		}
		fmt.Fprintf(b, "| %s | %s | %s | %s | %s | %s |\n", slug, s.Doc, strings.Join(s.Dimension.Units(), ", "), between, zero, strings.Join(words, ", "))
	}
	b.WriteString("\nThe ranges are wide and judgement, but for longitude and latitude: they catch slips of unit and pen, not unusual buildings.\n\n")
}

func writeRuleTable(b *strings.Builder, rejects bool) {
	title, effect := "Rules that note", " | best grade"
	if rejects {
		title, effect = "Rules that reject a row", ""
	}
	fmt.Fprintf(b, "### %s\n\n| rule | what was found | what to do%s |\n| --- | --- | --- |%s\n", title, effect, strings.Repeat(" --- |", strings.Count(effect, "|")))
	for r := range numRules {
		s := r.Spec()
		if s.Rejects != rejects {
			continue
		}
		fmt.Fprintf(b, "| `%s` | %s | %s |", s.Slug, s.Finding, s.Remedy)
		if !rejects {
			fmt.Fprintf(b, " %s |", s.Cap)
		}
		b.WriteString("\n")
	}
	b.WriteString("\n")
}

func writeStoreyTable(b *strings.Builder) {
	b.WriteString("### Words of storeys\n\n| language | what it says | words |\n| --- | --- | --- |\n")
	for _, row := range cell.StoreyRows() {
		fmt.Fprintf(b, "| %s | %s | %s |\n", row[0], row[1], strings.ReplaceAll(row[2], "|", ", "))
	}
	b.WriteString("\nUpper storeys are those above the one at ground level; roof storeys and mezzanines are not counted. " +
		"A word with \"behind\" may follow a number of floors.\n\n")
}

func writeUseTable(b *strings.Builder) {
	b.WriteString("### Uses\n\nAll numbers are judgement: averages over working hours and over the night, not the peak loads that codes give for the width of exits. They fill gaps only.\n\n" +
		"| use | what | storey height, m | m2 a person by day | by night | contents | form | class in codes |\n| --- | --- | --- | --- | --- | --- | --- | --- |\n")
	contents, _ := wordsOf(Contents)
	forms := [...]string{storeyed: "", loose: "flagged", setAside: "rejected"}
	for i := range usages {
		u := &usages[i]
		slug := "`" + u.slug + "`"
		if u.slug == "" {
			slug = "(not known)"
		}
		fmt.Fprintf(b, "| %s | %s | %g | %s | %s | %s | %s | %s |\n", slug, u.description, u.storey, orNobody(u.day), orNobody(u.night), contents[u.contents], forms[u.special], u.importance)
	}
	b.WriteString("\n")
}

func orNobody(area float64) string {
	if area == 0 {
		return "nobody"
	}
	return fmt.Sprintf("%g", area)
}

func writeRubric(b *strings.Builder) {
	b.WriteString("### Data grade\n\n| field | points | because it |\n| --- | --- | --- |\n")
	for _, r := range rubric {
		fmt.Fprintf(b, "| `%s` | %g | %s |\n", r.field, r.points, r.why)
	}
	b.WriteString("\nA field gives")
	for o, share := range originShare {
		fmt.Fprintf(b, " %g %% of its points if %s", 100*share, Origin(o))
		if o < len(originShare)-1 {
			b.WriteString(",")
		}
	}
	b.WriteString(".\n")
	for _, band := range bands {
		fmt.Fprintf(b, "Grade %s needs %g points. ", band.grade, band.least)
	}
	b.WriteString("\n")
}
