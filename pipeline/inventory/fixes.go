package inventory

import (
	"fmt"
	"sort"
	"strings"
)

// maxFixes is the number of things the report asks the owner to fix first.
const maxFixes = 10

// Weights of what a rule found, in buildings that would be as good as lost (judgement).
const (
	rejectWeight = 1.0
	cappedWeight = 0.25 // the grade is held down
	sharedWeight = 0.1  // the place, so the hazard, may be another's
	effectWeight = 0.16 // an effective year: what a year loses that is assumed
	notedWeight  = 0.02
)

// readRight lists rules of cells that were read as they were meant, and of buildings that are unusual.
// Correcting such a cell would not change a result.
const readRight RuleSet = 1<<Thousands | 1<<SpecialForm | 1<<NullWord | 1<<NullNumber |
	1<<UnitInCell | 1<<ExcelDate | 1<<StoreysNotation

// ofCells lists the rules that fire once for each cell, so that a row may count several times.
const ofCells RuleSet = 1<<NotANumber | 1<<OutOfRange | 1<<UnknownWord | 1<<PlaceholderDate | 1<<NullWord |
	1<<NullNumber | 1<<Approximate | 1<<UnitInCell | 1<<Thousands | 1<<ExcelDate | 1<<NotUTF8 |
	1<<UnseenCharacter | 1<<NoSuchDate | 1<<Century | 1<<FutureYear

// Counts returns the word for what a rule counts: cells or rows.
func (r Rule) Counts() string {
	if ofCells.Has(r) {
		return "cells"
	}
	return "rows"
}

// counted returns how often a rule fired, in words.
func (r *Report) counted(rule Rule) string {
	n, what := r.Count(rule), rule.Counts()
	if what == "rows" {
		return fmt.Sprintf("%d of %d rows", n, r.Tally.In)
	}
	if n == 1 {
		what = "cell"
	}
	return fmt.Sprintf("%d %s", n, what)
}

// A fix is one thing to put right, with its gain in buildings. A rejected row counts as one. A building
// that lacks a field of the rubric counts as the points that it loses by that, over 100. A cell with
// an unmapped word counts as the points of its field, over 100.
type fix struct {
	weight float64
	text   string
}

// fixes returns what to put right, the largest gain first. The words are for the owner of the register
// or for the writer of the plan.
func (r *Report) fixes(owner bool) []fix {
	var out []fix
	for rule := range numRules {
		n, s := float64(r.Count(rule)), rule.Spec()
		weight := notedWeight * n
		switch {
		case n == 0 || readRight.Has(rule):
			continue
		case rule == UnknownWord:
			weight = r.unmappedWeight()
		case s.Rejects:
			weight = rejectWeight * n
		case rule == EffectiveYear:
			weight = effectWeight * n
		case rule == StackedPoint:
			weight = sharedWeight * n
		case s.Cap != 0, rule == MixedUnits, rule == MixedAreas, rule == MixedValues:
			weight = cappedWeight * n
		}
		remedy, name := s.Remedy, rule.String()
		if owner {
			remedy, name = rule.OwnerRemedy(), s.Finding
		}
		out = append(out, fix{weight, fmt.Sprintf("%s, %s: %s", name, r.counted(rule), remedy)})
	}
	for _, line := range rubric {
		if r.Idle[line.field] {
			continue
		}
		o := &r.Origins[line.field]
		weight := 0.0
		for origin, n := range o {
			weight += float64(n) * line.points * (originShare[Given] - originShare[origin]) / 100
		}
		n := r.Tally.Buildings - o[Given] - r.Inexact[line.field]
		if n <= 0 {
			continue // what was read as approximate has a rule of its own
		}
		name := line.field.String()
		if owner {
			name = strings.ReplaceAll(name, "_", " ")
		}
		weight -= float64(r.Inexact[line.field]) * line.points * (originShare[Given] - originShare[Assumed]) / 100
		text := fmt.Sprintf("%s, not given for %d of %d buildings: it %s", name, n, r.Tally.Buildings,
			line.why)
		out = append(out, fix{weight, text})
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].weight > out[j].weight })
	return out[:min(len(out), maxFixes)]
}

// unmappedWeight returns what the unmapped words cost: a cell the points of its field over
// 100, or the weight of a note where the field is not in the rubric.
func (r *Report) unmappedWeight() float64 {
	points := make(map[string]float64)
	for _, line := range rubric {
		if !r.Idle[line.field] {
			points[line.field.String()] = line.points / 100
		}
	}
	sum := 0.0
	for _, u := range r.Unmapped() {
		sum += float64(u.Cells) * max(points[u.Field], notedWeight)
	}
	return sum
}

// Fixes returns at most ten things to put right, the most useful first.
func (r *Report) Fixes() []string { return texts(r.fixes(false)) }

// OwnerFixes returns the things of Fixes in words for the owner of the register, who has no plan.
func (r *Report) OwnerFixes() []string { return texts(r.fixes(true)) }

func texts(fixes []fix) []string {
	out := []string{}
	for _, f := range fixes {
		out = append(out, f.text)
	}
	return out
}

// ownerRemedies say what the owner of a register can do, for the rules whose remedy speaks of the
// plan.
var ownerRemedies = map[Rule]string{
	SwappedCoordinates: "exchange the two columns",
	MissingSystem:      "say what carries the building, or use one of the words that are mapped",
	MissingStoreys:     "give one of them",
	MissingFloorArea:   "give one of them",
	NotANumber:         "write digits only, with one decimal mark in the whole register",
	OutOfRange:         "check the value and its unit",
	UnreadStoreys: "write those above ground as one whole number, 5 for G+4, " +
		"those below in a column of their own",
	StrengthRange: "check the value: a fraction of the weight, or per cent",
	UnknownWord:   "say what the word means, or use one of the words that are mapped",
}

// OwnerRemedy returns what the owner of the register can do. It does not mention the plan.
func (r Rule) OwnerRemedy() string {
	if own, ok := ownerRemedies[r]; ok {
		return own
	}
	return r.Spec().Remedy
}
