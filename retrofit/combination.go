package retrofit

import "math"

// A sharing is what two measures save when they are built in one go, each a factor on the
// sum of what the two cost alone. Devices, moat and walls are paid for in full.
type sharing struct {
	fixed float64 // of design, review, site and access
	area  float64 // of what is opened and made good
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

// Of a combination, a price or time that is not a number is left to its parts.
var (
	ofParts           = math.NaN()
	priceOfParts      = Price{ofParts, ofParts, ofParts, ofParts, ofParts, ofParts, ofParts}
	disruptionOfParts = Disruption{ofParts, ofParts, ofParts}
)

// faultsOfItsOwn returns the conditions on what a price does not leave to the parts.
func (p Price) faultsOfItsOwn() []fault {
	return p.or(Price{LowRatio: 1, HighRatio: 1}).faults()
}

// or returns p, and what it leaves to the parts from q.
func (p Price) or(q Price) Price {
	return Price{
		or(p.Fixed, q.Fixed), or(p.PerArea, q.PerArea), or(p.PerDevice, q.PerDevice), or(p.PerMoat, q.PerMoat),
		or(p.PerWall, q.PerWall), or(p.LowRatio, q.LowRatio), or(p.HighRatio, q.HighRatio),
	}
}

// or returns d, and what it leaves to the parts from e.
func (d Disruption) or(e Disruption) Disruption {
	return Disruption{or(d.Fixed, e.Fixed), or(d.PerThousand, e.PerThousand), or(d.LongestWeeks, e.LongestWeeks)}
}

// or returns own, or that of the parts where own is not a number.
func or(own, parts float64) float64 {
	if math.IsNaN(own) {
		return parts
	}
	return own
}
