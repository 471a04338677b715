package output

import (
	"fmt"
	"image/color"
	"strings"

	"plinth/retrofit"
)

// A theme is one way to colour the same layer.
type theme struct {
	title string
	rules []themeRule // the first that holds draws
}

// A themeRule draws the rows that meet a condition, an expression of QGIS.
type themeRule struct {
	title, filter string
	symbol
}

// A symbol is how a row is drawn: a mark of a shape and a size in millimetres, or an outline that is
// filled if shape is "".
type symbol struct {
	shape     string
	size      float64
	fill, ink color.RGBA
}

var (
	dark  = color.RGBA{0, 0, 0, 255}
	light = color.RGBA{255, 255, 255, 255}
	quiet = color.RGBA{150, 150, 150, 255} // of what a theme does not ask about

	vermillion = color.RGBA{213, 94, 0, 255} // M. Okabe and K. Ito, "Color universal design", 2008
)

// steps are four even steps of the colour map viridis, the lightest first (S. van der Walt and N. Smith,
// 2015, CC0), as marks: what is to be seen first is larger, lighter and of another shape.
var steps = [4]symbol{
	{"star", 5, color.RGBA{0xFD, 0xE7, 0x25, 255}, dark},
	{"square", 3.4, color.RGBA{0x35, 0xB7, 0x79, 255}, dark},
	{"triangle", 3, color.RGBA{0x31, 0x68, 0x8E, 255}, light},
	{"circle", 1.8, color.RGBA{0x44, 0x01, 0x54, 255}, light},
}

// driftClasses are conditions on a storey drift in %, each with its title (judgement).
var driftClasses = []string{"{drift} >= 2|2 % and more", "{drift} >= 1|1 to 2 %", "{drift} >= 0.5|0.5 to 1 %",
	"{drift} < 0.5|below 0.5 %"}

// buildingThemes are the themes of buildings, the one that shows first at the front. Classes of rank and
// loss are shares of the stock, so that they tell buildings apart in a stock of any size.
func buildingThemes() []theme {
	share := func(column string, i int) string {
		return fmt.Sprintf(`"%s" <= ceil(%g * maximum("%s"))`, column, priorities[i].share, column)
	}
	var rank, loss, drift theme
	rank.title, loss.title, drift.title = "Priority", "Annual loss", "Storey drift"
	for i, p := range priorities {
		rank.rules = append(rank.rules, themeRule{p.word, fmt.Sprintf(`"priority" = '%s'`, p.word), steps[i]})
		loss.rules = append(loss.rules, themeRule{p.word + " by loss", share("rank_as_is", i), steps[i]})
		filter, says, _ := strings.Cut(driftClasses[i], "|")
		filter = strings.ReplaceAll(filter, "{drift}", `"drift_pct"`)
		drift.rules = append(drift.rules, themeRule{says, filter, steps[i]})
	}
	rest := func(title string) themeRule { return themeRule{title, "", symbol{"circle", 1.6, quiet, light}} }
	drift.rules = append(drift.rules, rest("not known"))
	look := theme{"Look now", []themeRule{
		{"an engineer should look now", `"look_now" IS NOT NULL`, symbol{"star", 5, vermillion, dark}},
		rest("not flagged, and not thereby safe")}}
	grade := theme{title: "Data grade"}
	for i, w := range gradeWords() {
		s := steps[len(steps)-1-i]
		s.size = 2.6
		filter := fmt.Sprintf(`"data_grade" = '%s'`, w.Value)
		grade.rules = append(grade.rules, themeRule{w.Value + ": " + w.Says, filter, s})
	}
	return []theme{rank, drift, loss, look, grade, measureTheme(rest("no measure could be judged"))}
}

// measureTheme marks buildings by their best measure as the pages of a run do.
func measureTheme(rest themeRule) theme {
	t := theme{title: "First measure"}
	shapes := map[retrofit.Shape]string{retrofit.Dot: "circle", retrofit.Circle: "circle",
		retrofit.Square: "square", retrofit.Diamond: "diamond", retrofit.Triangle: "triangle",
		retrofit.Plus: "cross_fill", retrofit.Cross: "x"}
	for _, k := range retrofit.Kinds() {
		s := symbol{shapes[k.Mark.Shape], 3, k.Mark.Colour, light}
		switch {
		case k.Mark.Shape == retrofit.Dot:
			s.size = 1.6
		case k.Mark.Hollow:
			s.fill, s.ink = light, k.Mark.Colour
		case k.Mark.Shape == retrofit.Cross:
			s.ink = k.Mark.Colour
		}
		t.rules = append(t.rules, themeRule{k.Name, fmt.Sprintf(`"best_measure" = '%s'`, k.Slug), s})
	}
	t.rules = append(t.rules, rest)
	return t
}

// exclusive returns the conditions of the rules of a theme, each without what the rules before it draw.
// A rule without a condition of its own draws what is left; QGIS calls that ELSE.
func (t *theme) exclusive() []string {
	list := make([]string, len(t.rules))
	var before []string
	for i, r := range t.rules {
		list[i] = strings.Join(append([]string{r.filter}, before...), " AND ")
		if before = append(before, "NOT ("+r.filter+")"); r.filter == "" {
			list[i] = "ELSE"
		}
	}
	return list
}
