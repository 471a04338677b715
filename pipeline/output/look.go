package output

import (
	"fmt"
	"image/color"
	"strings"
)

// A look is how a layer opens in QGIS. Texts in quotes are expressions of QGIS.
type look struct {
	themes    func() []theme
	order     string // column in whose descending order rows are drawn, "" for any
	label     string // expression
	placement int    // of the label: 0 round a point, 1 over the middle of an outline
	labelled  int    // scale 1:labelled and larger has labels
	preview   string // expression that names a row
	tip       string // HTML; [% %] holds an expression
}

// looks are those of the layers by the names of their tables.
var looks = map[string]look{
	Buildings.Name: {
		themes: buildingThemes,
		order:  "rank",
		label: `if("priority" IN ('` + priorities[0].word + `', '` + priorities[1].word + `') OR ` +
			`@map_scale < 5000, "label", NULL)`,
		labelled: 25000,
		preview:  `"label"`,
		tip:      `<b>[% "label" %]</b><br/>[% "priority" %], rank [% "rank" %]<br/>[% "reason" %]`,
	},
	Areas.Name: {
		themes:    areaThemes,
		label:     `if("kind" = '` + AreaGroup + `', "area" || '\n', '') || "buildings"`,
		placement: 1,
		labelled:  100000,
		preview:   `"area"`,
		tip: `<b>[% "area" %]</b><br/>[% "buildings" %] buildings, an engineer should look at [% "look_now" %]` +
			` now<br/>expected loss [% format_number("annual_loss", 0) %] [% "currency" %] a year` +
			`<br/>what pays costs about [% format_number("paying_cost_likely", 0) %] [% "currency" %]`,
	},
}

// areaThemes are the themes of areas. Money is in quarters of the areas; the other classes are judgement.
func areaThemes() []theme {
	quarters := func(title, column string) theme {
		return areaTheme(title, fmt.Sprintf(`"%[1]s" >= q3("%[1]s")|upper quarter of areas`, column),
			fmt.Sprintf(`"%[1]s" >= median("%[1]s")|second quarter`, column),
			fmt.Sprintf(`"%[1]s" >= q1("%[1]s")|third quarter`, column),
			fmt.Sprintf(`"%[1]s" < q1("%[1]s")|lowest quarter`, column))
	}
	shares := func(title, part, last string) theme {
		return areaTheme(title, part+" >= 0.5|half of the buildings or more", part+" >= 0.2|a fifth or more",
			part+" > 0|some", part+" = 0|"+last)
	}
	return []theme{
		quarters("Annual loss", "annual_loss"),
		shares("Look now", `"look_now" / "buildings"`, "none, and not thereby safe"),
		areaTheme("Median drift", driftClasses...),
		quarters("Net benefit of what pays", "paying_net_benefit"),
		shares("Data of grade C or D", `("grade_c_share" + "grade_d_share")`, "none"),
	}
}

// areaTheme returns a theme of outlines from conditions, each with the title of its class after a |. The
// fill lets a map below it be seen.
func areaTheme(title string, classes ...string) theme {
	t := theme{title: title}
	for i, class := range classes {
		filter, says, _ := strings.Cut(class, "|")
		fill := steps[i].fill
		fill.A = 170
		filter = strings.ReplaceAll(filter, "{drift}", `"median_drift_pct"`)
		t.rules = append(t.rules, themeRule{says, filter, symbol{fill: fill, ink: quiet}})
	}
	t.rules = append(t.rules, themeRule{"not known", "", symbol{fill: color.RGBA{255, 255, 255, 0}, ink: quiet}})
	return t
}
