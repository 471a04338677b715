package retrofit

import "math"

// sharing is the saving when two measures are built together: factors on the sum of their
// separate costs. Devices, moat and walls are paid in full.
type sharing struct {
	fixed float64 // of design, review, site and access
	area  float64 // of work that opens and makes good
	weeks float64
}

// price returns the price of both: the wider range of the two.
func (s sharing) price(a, b Price) Price {
	return Price{
		Fixed: s.fixed * (a.Fixed + b.Fixed), PerArea: s.area * (a.PerArea + b.PerArea),
		PerDevice: a.PerDevice + b.PerDevice, PerMoat: a.PerMoat + b.PerMoat, PerWall: a.PerWall + b.PerWall,
		LowRatio: min(a.LowRatio, b.LowRatio), HighRatio: max(a.HighRatio, b.HighRatio),
	}
}

// disruption returns the weeks of both, up to the longer of the two limits.
func (s sharing) disruption(a, b Disruption) Disruption {
	d := Disruption{
		Fixed: s.weeks * (a.Fixed + b.Fixed), PerThousand: s.weeks * (a.PerThousand + b.PerThousand),
		LongestWeeks: max(a.LongestWeeks, b.LongestWeeks),
	}
	if a.LongestWeeks == 0 || b.LongestWeeks == 0 {
		d.LongestWeeks = 0
	}
	return d
}

// ofParts marks a value of a combination's price or time that is taken from its parts.
var (
	ofParts           = math.NaN()
	priceOfParts      = Price{ofParts, ofParts, ofParts, ofParts, ofParts, ofParts, ofParts}
	disruptionOfParts = Disruption{ofParts, ofParts, ofParts}
)

// faultsOfItsOwn returns the conditions on the values of p that are not taken from the parts.
func (p Price) faultsOfItsOwn() []fault {
	return p.or(Price{LowRatio: 1, HighRatio: 1}).faults()
}

// or returns p, with its NaN values replaced by those of q.
func (p Price) or(q Price) Price {
	return Price{
		or(p.Fixed, q.Fixed), or(p.PerArea, q.PerArea), or(p.PerDevice, q.PerDevice),
		or(p.PerMoat, q.PerMoat),
		or(p.PerWall, q.PerWall), or(p.LowRatio, q.LowRatio), or(p.HighRatio, q.HighRatio),
	}
}

// or returns d, with its NaN values replaced by those of e.
func (d Disruption) or(e Disruption) Disruption {
	return Disruption{or(d.Fixed, e.Fixed), or(d.PerThousand, e.PerThousand),
		or(d.LongestWeeks, e.LongestWeeks)}
}

// or returns own, or parts if own is NaN.
func or(own, parts float64) float64 {
	if math.IsNaN(own) {
		return parts
	}
	return own
}
