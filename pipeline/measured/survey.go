package measured

import (
	"fmt"
	"io/fs"
	"strconv"

	"plinth/retrofit/consequence"
)

// A stock is one class of the survey: buildings by grade at bands of Sa(0.3 s).
type stock struct {
	class, storeys string
	rows           []surveyed
}

// A surveyed is one band of a stock.
type surveyed struct {
	low, high, mean float64 // g
	n               float64
	grade           [6]float64 // buildings of grades 0 to 5
}

// beyond returns the buildings of a grade and graver ones.
func (s *surveyed) beyond(grade int) float64 {
	sum := 0.0
	for _, n := range s.grade[grade:] {
		sum += n
	}
	return sum
}

// name returns class and storeys.
func (s *stock) name() string { return s.class + ", " + s.storeys }

// readSurvey reads the stocks of the survey.
func readSurvey(fsys fs.FS) ([]stock, error) {
	numbers := []string{"sa03_low_g", "sa03_high_g", "sa03_mean_g", "n", "d0", "d1", "d2", "d3", "d4", "d5"}
	rows, err := readRows(fsys, "damage/laquila-2009-masonry-damage.csv", []string{"class", "storeys"}, numbers)
	if err != nil {
		return nil, err
	}
	var out []stock
	for i := range rows {
		r := &rows[i]
		of := stock{class: r.text("class"), storeys: r.text("storeys")}
		if n := len(out); n == 0 || out[n-1].name() != of.name() {
			out = append(out, of)
		}
		one := surveyed{low: r.number(numbers[0]), high: r.number(numbers[1]), mean: r.number(numbers[2])}
		one.n = r.number("n")
		for g := range one.grade {
			one.grade[g] = r.number("d" + strconv.Itoa(g))
		}
		if one.beyond(0) != one.n {
			return nil, fmt.Errorf("%s:%d: the grades add up to %g, n is %g", r.file, r.line, one.beyond(0), one.n)
		}
		s := &out[len(out)-1]
		s.rows = append(s.rows, one)
	}
	return out, nil
}

// fit returns the curve of a grade.
func (s *stock) fit(grade int) fragility {
	var bands []band
	for i := range s.rows {
		r := &s.rows[i]
		bands = append(bands, band{r.mean, r.n, r.beyond(grade)})
	}
	return fit(bands)
}

// share returns the share of a grade and graver ones between two intensities, and of how
// many buildings.
func (s *stock) share(grade int, low, high float64) (share, n float64) {
	reached := 0.0
	for i := range s.rows {
		if r := &s.rows[i]; r.low >= low && r.high <= high {
			n += r.n
			reached += r.beyond(grade)
		}
	}
	return reached / n, n
}

// The eight levels of shaking that the program is asked at, Sa(0.3 s) in g, and the bands
// of the survey each stands for; the last has none. The return periods only carry them.
var (
	shakings      = []float64{0.075, 0.15, 0.25, 0.35, 0.475, 0.65, 0.85, 1.1}
	edges         = []float64{0.05, 0.10, 0.20, 0.30, 0.40, 0.55, 0.75, 1.20}
	returnPeriods = []float64{25, 50, 100, 225, 475, 975, 2475, 4975}
)

// pgaShare is the peak over Sa(0.3 s) in the shape below.
const pgaShare = 0.519

// nearFault is the spectrum of the survey's place over Sa(0.3 s): the mean of the records
// of the six stations near the fault up to 0.6 s and at 1 s, the rest drawn through them.
var nearFault = struct{ period, share []float64 }{
	[]float64{0.05, 0.1, 0.2, 0.3, 0.5, 0.75, 1, 1.5, 2, 3, 4},
	[]float64{0.6, 0.8, 0.916, 1, 0.7404, 0.5326, 0.4, 0.2508, 0.18, 0.085, 0.05},
}

// A typical is the building the program is asked for: a system, a year and storeys.
type typical struct {
	system        string
	year, storeys int
}

// String returns the building in words.
func (t typical) String() string {
	return fmt.Sprintf("%s of %d%s", t.system, t.year, storeys(", ", t.storeys))
}

// collapsed is the index of the probability of collapse, after those of the limit states.
const collapsed = consequence.NumLimitStates

// states are the probabilities that a building is beyond each limit state and that it
// collapses, one row a level.
type states [][collapsed + 1]float64

// states returns those of the building at the eight levels, as the run has them.
func (t typical) states() (states, error) {
	j := job{region: "italy", zone: "2", measure: "strengthen", design: 475, periods: nearFault.period}
	for i, sa := range shakings {
		l := level{returnPeriods[i], spectrum{pga: pgaShare * sa}}
		for _, share := range nearFault.share {
			l.sa = append(l.sa, share*sa)
		}
		j.levels = append(j.levels, l)
	}
	j.building = []cell{
		{"id", "one"}, {"system", t.system}, {"year", strconv.Itoa(t.year)},
		{"storeys", strconv.Itoa(t.storeys)},
		{"floor_area", strconv.Itoa(150 * t.storeys)}, {"use", "house"}, {"site_class", "C"},
	}
	run, a, err := j.assess()
	if err != nil {
		return nil, err
	}
	var out states
	var l consequence.Level
	var loss consequence.Loss
	for _, i := range run.Asked() {
		a.Level(&a.AsIs[i], &l)
		run.Model().At(&a.Exposure, &l, &loss)
		var p [collapsed + 1]float64
		copy(p[:], loss.LimitState[:])
		p[collapsed] = loss.Collapse
		out = append(out, p)
	}
	return out, nil
}

// fit returns the curve of a limit state over an intensity that is a share of
// Sa(0.3 s), each level counting alike.
func (p states) fit(state consequence.LimitState, share float64) fragility {
	var bands []band
	for i, sa := range shakings {
		bands = append(bands, band{share * sa, 1, p[i][state]})
	}
	return fit(bands)
}
