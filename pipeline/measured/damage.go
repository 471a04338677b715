package measured

import (
	"fmt"
	"io/fs"
	"math"

	"plinth/retrofit/consequence"
)

// Aims of section two: medians of the program over those of the survey, its dispersion,
// and its shares over the surveyed ones at a quarter of gravity.
var (
	medianAim     = aim{0.75, 1.25}
	dispersionAim = aim{0.6, 0.95}
	shareAim      = aim{0.5, 2}
)

// quarter is the index of the level of 0.25 g.
const quarter = 2

// pairs are the grades of EMS-98 beside the limit states of the program: the pairing of
// the losses in states.csv.
var pairs = []struct {
	grade int
	state consequence.LimitState
	name  string
}{
	{2, consequence.ImmediateOccupancy, "immediate occupancy"},
	{3, consequence.LifeSafety, "life safety"},
	{4, consequence.CollapsePrevention, "collapse prevention"},
}

// stand are the buildings the program is asked for in place of a class of the survey
// (our choice: old fabric for A, storeys of the class).
var stand = map[string]typical{
	"A, 3+":   {"masonry-unreinforced", 1900, 3},
	"B, 1-2":  {"masonry-unreinforced", 1940, 2},
	"C1, 1-2": {"masonry-unreinforced", 1980, 2},
	"C1, 3+":  {"masonry-unreinforced", 1980, 3},
}

// A gradeCompared is one grade of a stock by both.
type gradeCompared struct{ program, survey fragility }

// A stockCompared is a class of the survey and the building that stands for it.
type stockCompared struct {
	stock
	building typical
	grades   []gradeCompared // as pairs
	states   states
}

// damage is section two of the page.
type damage struct {
	stocks []stockCompared
	curves []curve
	shares []row
}

// compareDamage asks the program for the classes of the survey and of other curves.
func compareDamage(fsys fs.FS) (*damage, error) {
	stocks, err := readSurvey(fsys)
	if err != nil {
		return nil, err
	}
	asked := map[typical]states{}
	ask := func(t typical) (states, error) {
		if p, ok := asked[t]; ok {
			return p, nil
		}
		p, err := t.states()
		asked[t] = p
		return p, err
	}
	out := &damage{}
	for _, s := range stocks {
		c := stockCompared{stock: s}
		var ok bool
		if c.building, ok = stand[s.name()]; !ok {
			return nil, fmt.Errorf("survey: no building of the program stands for class %s storeys", s.name())
		}
		if c.states, err = ask(c.building); err != nil {
			return nil, err
		}
		for _, p := range pairs {
			c.grades = append(c.grades, gradeCompared{c.states.fit(p.state, 1), s.fit(p.grade)})
		}
		out.stocks = append(out.stocks, c)
	}
	if out.curves, err = compareCurves(fsys, ask); err != nil {
		return nil, err
	}
	words := []string{"event", "place", "system", "class_words", "state_words", "shaking", "basis"}
	out.shares, err = readRows(fsys, "damage/shares.csv", words, []string{"share_pct", "n"})
	return out, err
}

// surveyed returns the buildings of the survey.
func (d *damage) surveyed() int {
	sum := 0.0
	for i := range d.stocks {
		for _, r := range d.stocks[i].rows {
			sum += r.n
		}
	}
	return int(sum)
}

// medians returns the ratios of medians, and the dispersions of the program and of the
// survey, over all classes and grades: geometric mean of each.
func (d *damage) medians() (ratio, program, survey mean) {
	var ratios, ours, theirs []float64
	for i := range d.stocks {
		for _, g := range d.stocks[i].grades {
			ratios = append(ratios, g.program.median/g.survey.median)
			ours, theirs = append(ours, g.program.beta), append(theirs, g.survey.beta)
		}
	}
	return meanOf(ratios), meanOf(ours), meanOf(theirs)
}

// met counts the medians, the dispersions and the shares at 0.25 g that meet their aims,
// and of how many. A share that nobody was surveyed in is not counted.
func (d *damage) met() (medians, dispersions, shares, of, ofShares int) {
	for i := range d.stocks {
		s := &d.stocks[i]
		for j, g := range s.grades {
			of++
			medians += count(medianAim.has(g.program.median / g.survey.median))
			dispersions += count(dispersionAim.has(g.program.beta))
			if r := s.quarterRatio(j); !math.IsNaN(r) {
				ofShares++
				shares += count(shareAim.has(r))
			}
		}
	}
	return medians, dispersions, shares, of, ofShares
}

func count(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

// quarterRatio returns the share of the program over the surveyed one at 0.25 g; NaN
// where nobody was found in the state.
func (c *stockCompared) quarterRatio(pair int) float64 {
	share, _ := c.share(pairs[pair].grade, edges[quarter], edges[quarter+1])
	if share == 0 {
		return math.NaN()
	}
	return c.states[quarter][pairs[pair].state] / share
}

// fallen returns the share of collapses among the buildings that the program puts beyond
// collapse prevention, over the bands of the survey by their number of buildings.
func (c *stockCompared) fallen() float64 {
	var fallen, beyond float64
	for k := range len(edges) - 1 {
		if _, n := c.share(0, edges[k], edges[k+1]); n > 0 {
			fallen += n * c.states[k][collapsed]
			beyond += n * c.states[k][consequence.CollapsePrevention]
		}
	}
	return fallen / beyond
}
