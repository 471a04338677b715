package measured

import (
	"fmt"
	"io/fs"
	"strings"

	"plinth/retrofit/consequence"
)

// years are those of a class of the standard where the system is given by its row.
var years = map[string]int{"A": 1900, "B": 1940, "C1": 1980, "C": 1980, "D": 1990}

// A curve is one published fragility and what the program says of its class.
type curve struct {
	row
	published fragility
	buildings []typical
	program   []fragility
	unused    string
}

// compareCurves puts the program beside the curves of fragilities.csv.
func compareCurves(fsys fs.FS, ask func(typical) (states, error)) ([]curve, error) {
	words := []string{"set", "event", "class", "class_words", "system", "storeys", "grade", "intensity", "basis"}
	rows, err := readRows(fsys, "damage/fragilities.csv", words, []string{"median", "beta", "n"})
	if err != nil {
		return nil, err
	}
	var out []curve
	for _, r := range rows {
		c := curve{row: r, published: fragility{r.number("median"), r.number("beta")}}
		state, ok := stateOf(r.text("grade"))
		switch {
		case r.text("basis") == "computed here from data":
			c.unused = "a fit of the survey above, which a test repeats"
		case !ok:
			c.unused = "the program has no limit state that pairs with grade " + r.text("grade")
		case r.text("intensity") != "pga_g":
			c.unused = "an intensity that is not run here"
		default:
			for _, system := range strings.Fields(r.text("system")) {
				t := typical{system, years[r.text("class")], 2}
				p, err := ask(t)
				if err != nil {
					return nil, err
				}
				c.buildings = append(c.buildings, t)
				c.program = append(c.program, p.fit(state, pgaShare))
			}
		}
		out = append(out, c)
	}
	return out, nil
}

// stateOf returns the limit state that pairs with a grade such as D2.
func stateOf(grade string) (consequence.LimitState, bool) {
	for _, p := range pairs {
		if grade == fmt.Sprintf("D%d", p.grade) {
			return p.state, true
		}
	}
	return 0, false
}
