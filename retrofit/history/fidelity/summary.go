package fidelity

import (
	"math"
	"sort"

	"plinth/retrofit/demand"
	"plinth/retrofit/history"
)

// Class is a range of strength ratios of buildings as they stand.
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

// classOf returns the class, other than All, of a strength ratio.
func classOf(ratio float64) Class {
	for c := Elastic; c < Yielded; c++ {
		if c.holds(ratio) {
			return c
		}
	}
	return Yielded
}

// Line is the agreement in one quantity of one measure.
type Line struct {
	Kind     history.Kind
	Quantity history.Quantity
	Class    Class
	Count    int
	Median   float64 // of spectral over time history
	Scatter  float64 // standard deviation of its ln
	Outside  int     // number flagged
	Band     float64 // stated for the class; 0 if none
	Record   float64 // median standard error of the time histories
}

// MedianHolds and ScatterHolds report whether the line agrees with the stated values: a median
// within 10 %, and a scatter no larger than the band, in whole percents.
func (l *Line) MedianHolds() bool  { return l.Median >= 0.9 && l.Median <= 1.1 }
func (l *Line) ScatterHolds() bool { return l.Scatter < l.Band+0.005 }

// usable reports whether the stated bands apply to a check: a spectral result in its domain
// that is a value, and time histories without collapse that resolved.
func usable(c *history.Check) bool {
	return c.Err == nil && c.Spectral.Status&unstated == 0 && c.History.Collapsed == 0
}

// unstated are the statuses of results for which no band is stated.
const unstated = demand.OutOfDomain | demand.Stuck | demand.RankingOnly | demand.NotApplicable |
	demand.CollapseCounted

// Lines returns the agreement in every measure and quantity that has a band, for all strength
// ratios together and for each class.
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

// fill computes the statistics of a line.
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

// ratios returns ln of every usable ratio of a measure and quantity, for the buildings want
// selects.
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

// median returns the median of x, which it sorts.
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
