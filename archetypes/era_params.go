package archetypes

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// readParams reads name=value pairs. All of the rule's parameters are required; the importance
// factors are 1 and by-place 0 where they are not given.
func readParams(t *table, column int, e *era) error {
	e.importance = importance{1, 1, 1}
	var have []string
	for _, pair := range strings.Fields(t.row[column]) {
		name, text, _ := strings.Cut(pair, "=")
		v, err := strconv.ParseFloat(text, 64)
		if err != nil || !(v >= 0 && v <= 100) {
			return t.fail(column, fmt.Sprintf("%s must be a number from 0 to 100", name))
		}
		if slices.Contains(have, name) {
			return t.fail(column, name+" is given twice")
		}
		have = append(have, name)
		if rule := e.set(name, v); rule != "" {
			return t.fail(column, rule)
		}
	}
	for _, name := range e.rule.params {
		if !slices.Contains(have, name) {
			return t.fail(column, fmt.Sprintf("parameter %s of %s is missing", name, e.rule.name))
		}
	}
	return nil
}

// set gives the parameter called name its value. If it cannot be, set returns what is asked.
func (e *era) set(name string, v float64) (rule string) {
	class := Importance(slices.Index(importanceWords[:], name))
	switch i := slices.Index(e.rule.params, name); {
	case i >= 0:
		e.params[i] = v
	case name == "by-place" && (v == 0 || v == 1):
		e.byPlace = v
	case class != Crowded && class != Essential:
		return fmt.Sprintf("%q is no parameter of %s; it needs %s, and may have crowded, essential and "+
			"by-place=1", name, e.rule.name, strings.Join(e.rule.params, ", "))
	case v < 1 || v > 3:
		return name + " is an importance factor, from 1 to 3"
	default:
		e.importance[class] = v
	}
	return ""
}
