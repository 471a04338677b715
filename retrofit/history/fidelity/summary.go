package fidelity

import (
	"math"
	"sort"

	"plinth/retrofit/demand"
	"plinth/retrofit/history"
)

// A Class is a range of strength ratios of buildings as they stand.
type Class uint8

// The classes.
const (
	All     Class = iota
	Elastic       // up to 1
	Near          // above 1, up to 2
	Yielded       // above 2

	classes
)

var classWords = [classes]string{"all", "up to 1", "1 to 2", "2 to 8"}

// String returns the range.
func (c Class) String() string { return classWords[c] }

func (c Class) holds(ratio float64) bool {
	switch c {
	case Elastic:
		return ratio <= 1
	case Near:
		return ratio > 1 && ratio <= 2
	case Yielded:
		return ratio > 2
	}
	return true
}

// classOf returns the class of a strength ratio other than All.
func classOf(ratio float64) Class {
	for c := Elastic; c < Yielded; c++ {
		if c.holds(ratio) {
			return c
		}
	}
	return Yielded
}

// A Line is the agreement of one quantity of one measure.
type Line struct {
	Kind     history.Kind
	Quantity history.Quantity
	Class    Class
	Count    int
	Median   float64 // of spectral over time history
	Scatter  float64 // standard deviation of its ln
	Outside  int     // flagged
	Band     float64 // stated, for the class; 0 where none is
	Record   float64 // median standard error of the time histories
}

// MedianHolds and ScatterHolds say whether the line keeps to what is stated: a median
// within 10 % and a scatter no larger than the band, in whole percents.
func (l *Line) MedianHolds() bool  { return l.Median >= 0.9 && l.Median <= 1.1 }
func (l *Line) ScatterHolds() bool { return l.Scatter < l.Band+0.005 }

// usable reports whether a check is inside what the bands are stated for: a spectral
// result in its domain that is a value, and time histories that stood and resolved.
func usable(c *history.Check) bool {
	return c.Err == nil && c.Spectral.Status&unstated == 0 && c.History.Collapsed == 0
}

// unstated are results that no band is stated for.
const unstated = demand.OutOfDomain | demand.Stuck | demand.RankingOnly | demand.NotApplicable

// Lines returns the agreement of every measure and quantity that has a band, for all
// strength ratios and for each class.
func (m *Measured) Lines() []Line {
	var out []Line
	for k := range history.Kinds {
		for q := range history.Quantities {
			for c := range classes {
				band := stated(k, q, c)
				if band == 0 {
					continue
				}
				l := Line{Kind: k, Quantity: q, Class: c, Band: band}
				if m.fill(&l); l.Count > 1 {
					out = append(out, l)
				}
			}
		}
	}
	return out
}

// stated returns the band of a class: the usual one for all and near.
func stated(k history.Kind, q history.Quantity, c Class) float64 {
	ratio := 1.5
	switch c {
	case Elastic:
		ratio = 1
	case Yielded:
		ratio = 3
	}
	b, _ := history.Band(k, q, ratio)
	return b
}

// fill counts the ratios of a line.
func (m *Measured) fill(l *Line) {
	var ratios, errors []float64
	for i := range m.Rows {
		r := &m.Rows[i]
		c := &r.Checks[l.Kind]
		x := &c.Compared[l.Quantity]
		if !usable(c) || !l.Class.holds(r.Case.StrengthRatio) || math.IsNaN(x.Ratio) {
			continue
		}
		ratios, errors = append(ratios, math.Log(x.Ratio)), append(errors, x.Error)
		if x.Outside {
			l.Outside++
		}
	}
	l.Count = len(ratios)
	if l.Count < 2 {
		return
	}
	_, l.Scatter = meanAndDeviation(ratios)
	l.Median, l.Record = math.Exp(median(ratios)), median(errors)
}

// ratios returns ln of every usable ratio of a measure and quantity, for the buildings
// that are asked for.
func (m *Measured) ratios(k history.Kind, q history.Quantity, want func(*Case) bool) (out []float64) {
	for i := range m.Rows {
		r := &m.Rows[i]
		c := &r.Checks[k]
		if x := math.Log(c.Compared[q].Ratio); usable(c) && finite(x) && want(r.Case) {
			out = append(out, x)
		}
	}
	return out
}

// median sorts x.
func median(x []float64) float64 {
	sort.Float64s(x)
	return (x[(len(x)-1)/2] + x[len(x)/2]) / 2
}

func meanAndDeviation(x []float64) (mean, deviation float64) {
	for _, v := range x {
		mean += v / float64(len(x))
	}
	for _, v := range x {
		deviation += (v - mean) * (v - mean)
	}
	return mean, math.Sqrt(deviation / float64(len(x)-1))
}
