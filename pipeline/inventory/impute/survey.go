package impute

import (
	"fmt"
	"math"

	"plinth/pipeline/inventory/fault"
)

const (
	mostGroups = 1e5  // values of the column of groups; more are ids
	eraYears   = 20   // an era is 20 years long, from 1900, 1920, ... (judgement)
	areaStep   = 0.01 // footprints are counted in steps of 1 %
)

// A Quantity is one of those that gaps are filled in.
type Quantity uint8

// The quantities. The footprint stands for the floor area of one storey, which follows the
// use; a floor area alone follows the storeys.
const (
	Year Quantity = iota
	Storeys
	Footprint // m2
	System    // number of the structural system

	NumQuantities = iota // number of quantities
)

// A Level is a circle of like buildings that a gap is filled from, the narrowest first.
type Level uint8

// The levels.
const (
	SameGroup Level = iota
	SameUse
	SameEra
	AllStock

	numLevels
)

// A Likeness says which buildings one is like.
type Likeness struct {
	Group string  // of the owner's, "" for none
	Use   int     // -1 if not known
	Year  float64 // built; NaN if not known
}

// A Survey counts what the buildings of a register give.
type Survey struct {
	groups map[string]int
	counts map[circle]map[int]int // by value
}

// A circle is one quantity of the buildings that are alike in one way.
type circle struct {
	level    Level
	quantity Quantity
	which    int // number of the group, use or era
}

// NewSurvey returns a survey that has counted nothing.
func NewSurvey() *Survey {
	return &Survey{groups: make(map[string]int), counts: make(map[circle]map[int]int)}
}

// Add counts what a building gives, NaN for a quantity that it does not.
func (s *Survey) Add(like Likeness, given [NumQuantities]float64) {
	if _, ok := s.groups[like.Group]; !ok && len(s.groups) <= mostGroups {
		s.groups[like.Group] = len(s.groups)
	}
	for q, x := range given {
		if math.IsNaN(x) {
			continue
		}
		v := int(x)
		if Quantity(q) == Footprint {
			v = int(math.Round(math.Log(x) / areaStep))
		}
		for l := range numLevels {
			c, ok := circleOf(l, Quantity(q), like, s.groups)
			if !ok {
				continue
			}
			if s.counts[c] == nil {
				s.counts[c] = make(map[int]int)
			}
			s.counts[c][v]++
		}
	}
}

// circleOf returns the circle of a level that a building belongs to; ok is false if it
// belongs to none.
func circleOf(l Level, q Quantity, like Likeness, groups map[string]int) (c circle, ok bool) {
	c = circle{level: l, quantity: q}
	switch l {
	case SameGroup:
		if like.Group == "" {
			return c, false
		}
		c.which, ok = groups[like.Group]
		return c, ok
	case SameUse:
		c.which = like.Use
		return c, like.Use >= 0
	case SameEra:
		if math.IsNaN(like.Year) || q == Year {
			return c, false
		}
		c.which = int(math.Floor(like.Year / eraYears))
	}
	return c, true
}

// Stock ends the survey of a file. It is an error if the column of groups has as many
// different values as a column of ids.
func (s *Survey) Stock(file string) (*Stock, error) {
	if len(s.groups) > mostGroups {
		return nil, &fault.FileError{File: file, Key: "inventory.group",
			Rule:   fmt.Sprintf("the column has more than %.0f different values", float64(mostGroups)),
			Remedy: "name a column of groups, such as sites or owners, not of ids"}
	}
	out := &Stock{groups: s.groups, values: make(map[circle]float64)}
	for c, counts := range s.counts {
		v, ok := middle(counts, c.quantity == System)
		switch {
		case ok && c.quantity == Footprint:
			out.values[c] = math.Exp(float64(v) * areaStep)
		case ok:
			out.values[c] = float64(v)
		}
	}
	return out, nil
}
