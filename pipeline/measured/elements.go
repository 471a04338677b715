package measured

import (
	"fmt"
	"io/fs"
	"math"
	"slices"
	"strings"

	"plinth/archetypes"
	"plinth/retrofit"
	"plinth/retrofit/consequence"
)

// An element is one published drift or acceleration at which an element reaches a state.
type element struct {
	row
	median, dispersion, low, high float64 // low and high the 16 to 84 % band; NaN unknown
	none                          bool    // the row says that nothing was found
}

// A limit is one value of the program and what was published of it.
type limit struct {
	of, name string // system or component, and the row
	value    float64
	unit     string
	elements []element
}

// The places of a limit against the 16 to 84 % band of a published value.
const (
	within = "inside"
	below  = "**below**"
	above  = "**above**"
)

// place says where the limit lies against the band of a published value.
func (l *limit) place(e *element) string {
	switch {
	case math.IsNaN(e.median):
		return "no median"
	case math.IsNaN(e.low):
		return "no band"
	case l.value < e.low:
		return below
	case l.value > e.high:
		return above
	}
	return within
}

// compareElements returns the limits of systems and components with what was published
// of each, and the rows that name no limit of the program.
func compareElements(fsys fs.FS) (limits []limit, astray []element, err error) {
	words := []string{"id", "element", "detail", "state", "state_words", "quantity", "unit",
		"limit_system", "limit_row", "basis"}
	rows, err := readRows(fsys, "elements.csv", words, []string{"median", "dispersion", "p16", "p84", "n"})
	if err != nil {
		return nil, nil, err
	}
	limits = append(systemLimits(), componentLimits()...)
	for _, r := range rows {
		e := elementOf(r)
		placed := false
		for i := range limits {
			if l := &limits[i]; l.named(&e) {
				l.elements, placed = append(l.elements, e), true
			}
		}
		if !placed {
			astray = append(astray, e)
		}
	}
	return limits, astray, nil
}

// elementOf reads a row. Where a row has no counted band, that of a lognormal with its
// dispersion stands for it: median exp(-beta) to median exp(beta).
func elementOf(r row) element {
	e := element{row: r, median: r.number("median"), dispersion: r.number("dispersion"),
		low: r.number("p16"), high: r.number("p84")}
	e.none = r.text("basis") == "no published value found"
	if math.IsNaN(e.low) && !math.IsNaN(e.dispersion) {
		e.low, e.high = e.median*math.Exp(-e.dispersion), e.median*math.Exp(e.dispersion)
	}
	return e
}

// product is what stands between two names whose values are multiplied.
const product = " x "

// systemLimits returns the drift limits of every system in per cent, and with
// non-ductile detailing where the table lowers them.
func systemLimits() []limit {
	tables := archetypes.Default()
	var out []limit
	for _, s := range archetypes.Systems() {
		t := tables.Traits(s)
		add := func(name string, v float64) {
			out = append(out, limit{of: s.String(), name: name, value: 100 * v, unit: "%"})
		}
		add("drift_io", t.Limits.ImmediateOccupancy)
		add("drift_ls", t.Limits.LifeSafety)
		add("drift_cp", t.Limits.CollapsePrevention)
		add("drift_collapse", t.Limits.Collapse)
		if t.DriftFactor < 1 {
			add("drift_ls"+product+nonDuctile, t.Limits.LifeSafety*t.DriftFactor)
			add("drift_cp"+product+nonDuctile, t.Limits.CollapsePrevention*t.DriftFactor)
			add("drift_collapse"+product+nonDuctile, t.Limits.Collapse*t.DriftFactor)
		}
	}
	any := tables.Traits(archetypes.SteelMomentFrame) // a system without a row of its own
	return append(out, limit{of: "any", name: "drift_beta", value: any.DriftBeta, unit: "ln sd"})
}

const nonDuctile = "drift_factor_nonductile"

// componentLimits returns the medians of the steps of every component.
func componentLimits() []limit {
	o := consequence.DefaultOptions()
	var out []limit
	for _, c := range []struct {
		name  string
		steps []consequence.Step
		unit  string
	}{
		{"drift-fit-out", o.DriftFitOut, "%"}, {"infill", o.Infill, "%"}, {"accel-fit-out", o.AccelFitOut, "g"},
		{"ordinary-contents", o.Contents[retrofit.OrdinaryContents], "g"},
		{"sensitive-contents", o.Contents[retrofit.SensitiveContents], "g"},
		{"fragile-contents", o.Contents[retrofit.FragileContents], "g"},
	} {
		for i, s := range c.steps {
			l := limit{of: c.name, name: fmt.Sprintf("step %d", i+1), value: s.Median, unit: c.unit}
			if c.unit == "%" {
				l.value *= 100
			}
			out = append(out, l)
		}
	}
	return out
}

// named reports whether an element's row names the limit. A row names systems by their
// slugs with blanks between, their limits by names with blanks between or one product of
// two names; a component by its name and a step by its median or its place.
func (l *limit) named(e *element) bool {
	systems, name := strings.Fields(e.text("limit_system")), e.text("limit_row")
	if e.text("quantity") == "floor_velocity" && l.unit == "g" {
		return false // another measure of shaking
	}
	for i, part := range strings.Split(name, "; ") { // one row for a system and a component
		if component, step, ok := strings.Cut(part, " "); ok && i > 0 {
			place := slices.Index([]string{"first", "second", "third"}, step) + 1
			if l.of == component && l.name == fmt.Sprintf("step %d", place) {
				return true
			}
			continue
		}
		if !slices.Contains(systems, l.of) {
			continue
		}
		switch {
		case strings.Contains(part, product):
			if l.name == part {
				return true
			}
		case slices.Contains(strings.Fields(part), l.name), l.isStep(part):
			return true
		}
	}
	return false
}

// isStep reports whether a number as components.csv has it is the median of the limit.
func (l *limit) isStep(text string) bool {
	r := row{cells: map[string]string{"v": text}}
	v := r.number("v")
	if l.unit == "%" {
		v *= 100
	}
	return strings.HasPrefix(l.name, "step") && math.Abs(v-l.value) < 1e-9
}
