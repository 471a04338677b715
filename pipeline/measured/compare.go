package measured

import (
	"io/fs"
	"math"
	"slices"

	"plinth/retrofit/demand"
)

// A compared is one measured value and what the program says of it.
type compared struct {
	value
	predicted, timed float64 // timed by time histories, NaN without a record
	largest          float64 // floor acceleration of the whole building, g; NaN for other values
	status           demand.Status
	unused           string // why nothing is predicted, empty where something is
}

// ratio returns predicted over measured.
func (c *compared) ratio() float64 { return c.predicted / c.measured }

// off reports whether the prediction asks for a reason.
func (c *compared) off() bool { return c.unused == "" && !oneAim.has(c.ratio()) }

// buildings are the comparisons of section one of the page.
type buildings struct {
	structures  []structure
	predictions map[string]*prediction
	values      []compared
}

// compareBuildings takes every structure that can be asked through the program.
func compareBuildings(fsys fs.FS, why reasons) (*buildings, error) {
	structures, values, err := readCases(fsys, why)
	if err != nil {
		return nil, err
	}
	out := &buildings{structures: structures, predictions: map[string]*prediction{}}
	for i := range structures {
		s := &structures[i]
		if s.usable == "none" {
			continue
		}
		if out.predictions[s.id], err = predict(fsys, s); err != nil {
			return nil, err
		}
	}
	for _, v := range values {
		out.values = append(out.values, compare(v, out.predictions[v.structure.id]))
	}
	return out, nil
}

// asked returns the part of a structure a quantity belongs to.
func asked(quantity string) string {
	switch quantity {
	case smallPeriod, strongPeriod, "damping_pct":
		return "period"
	case "weight_kpa":
		return ""
	}
	return "response"
}

// compare puts the prediction beside a value, or says why there is none.
func compare(v value, p *prediction) compared {
	nan := math.NaN()
	c := compared{value: v, predicted: nan, timed: nan, largest: nan, unused: v.why.of(v.key(), whyUnused)}
	part := asked(v.quantity)
	switch {
	case c.unused != "":
	case p == nil && (part == "period" || !math.IsNaN(v.structure.pga) || v.structure.text("note") != ""):
		c.unused = or(v.structure.text("note"), "not a case to run")
	case p == nil:
		c.unused = "no foot motion known"
	case part != "" && !v.structure.asks(part):
		c.unused = "the case is kept for its " + v.structure.usable
	default:
		if c.predicted, c.unused = p.of(&v); c.unused == "" {
			p.beside(&c)
		}
	}
	return c
}

// beside fills what stands beside the prediction of a value: time histories and the
// largest acceleration over the height.
func (p *prediction) beside(c *compared) {
	if asked(c.quantity) == "response" {
		c.status = p.response.Status
	}
	if c.acceleration() {
		c.largest = p.largest()
	}
	if p.timed == nil {
		return
	}
	switch {
	case c.acceleration():
		i, ok := floor(&c.value, len(p.timed.accel))
		if !ok {
			i = len(p.timed.accel) - 1
		}
		c.timed = p.timed.accel[i]
	case c.quantity == "roof_drift_pct":
		c.timed = 100 * p.timed.roof / p.height
	}
}

// A kind is a quantity of the summary: the values that belong to it and its aim.
type kind struct {
	name string
	aim  aim
	of   func(*compared) bool
}

// kinds are the quantities of the summary. Floors and first periods come first: they are
// what the line in the report says.
var kinds = []kind{
	{"floor and roof accelerations", floorAim, (*compared).acceleration},
	{"first periods", periodAim, (*compared).first},
	{"of them in strong shaking", periodAim, (*compared).strong},
	{"of them in small vibration", periodAim, (*compared).small},
	{"second periods", noAim, func(c *compared) bool { return c.period() && second(c.level) }},
	{"storey drifts", noAim, is("storey_drift_pct")},
	{"roof drifts", noAim, is("roof_drift_pct")},
	{"isolator displacements", noAim, is("isolator_displacement_m")},
	{"damping", noAim, is("damping_pct")},
	{"weight over floor area", noAim, is("weight_kpa")},
}

// The two periods of measured.csv.
const (
	smallPeriod  = "period_s"
	strongPeriod = "period_strong_s"
)

func is(quantity string) func(*compared) bool {
	return func(c *compared) bool { return c.quantity == quantity }
}

func (c *compared) period() bool { return c.quantity == smallPeriod || c.quantity == strongPeriod }
func (c *compared) first() bool  { return c.period() && !second(c.level) }
func (c *compared) strong() bool { return c.first() && c.quantity == strongPeriod }
func (c *compared) small() bool  { return c.first() && c.quantity == smallPeriod }

func (c *compared) acceleration() bool {
	return c.quantity == "roof_accel_g" || c.quantity == "floor_accel_g"
}

// summary returns the mean of a kind. Each structure counts once, by the geometric mean
// of its ratios: two directions of one building are one building.
func (b *buildings) summary(k *kind, counting bool) (values int, m mean) {
	of := map[string][]float64{}
	var order []string
	for i := range b.values {
		c := &b.values[i]
		if c.unused != "" || c.counts() != counting || !k.of(c) {
			continue
		}
		id := c.structure.id
		if !slices.Contains(order, id) {
			order = append(order, id)
		}
		of[id] = append(of[id], c.ratio())
		values++
	}
	var ratios []float64
	for _, id := range order {
		ratios = append(ratios, meanOf(of[id]).mean)
	}
	return values, meanOf(ratios)
}
