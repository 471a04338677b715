package assess

import (
	"plinth/hazard"
	"plinth/pipeline/internal/wire"
	"plinth/pipeline/inventory"
	"plinth/pipeline/ranking"
	"plinth/retrofit"
)

// A Digest holds what later stages ask of a building that was assessed: the building, its
// medians with their dispersions, and the measures that may be chosen. The draws of ranks, the
// programme and the worth of knowing start from it, and assess nothing as it stands again.
type Digest struct {
	Building inventory.Building

	Period, PeriodBeta          float64 // s, and the dispersion of its logarithm
	StrengthRatio, StrengthBeta float64
	SiteClass                   hazard.SiteClass
	ClassSpread                 float64 // of what the classes beside give; 0 for a known class
	PlaceAssumed                bool    // when the code of its time reached the place is not known

	Offers []Offer // that may be chosen, in the order of the plan's measures
	Order  []int   // measures with a score and doing nothing (-1), the best first
}

// An Offer is a measure that may be chosen for a building.
type Offer struct {
	Measure int // index of the study's measure
	Cost    retrofit.Cost
	Weeks   float64
	Verdict retrofit.Verdict
	Net     float64 // present value of what it saves, less its cost
	Parts   ranking.Parts
}

// Digest fills d with the building that was assessed.
func (a *Assessment) Digest(d *Digest) {
	t := &a.Archetype
	d.Building = *a.Building
	d.Period, d.PeriodBeta, d.StrengthRatio, d.StrengthBeta = t.Period, t.PeriodBeta, t.StrengthRatio,
		t.StrengthBeta
	d.SiteClass, d.ClassSpread = a.Site.Class, a.Ground.Spread
	d.PlaceAssumed = t.PlaceAssumed
	d.Offers, d.Order = d.Offers[:0], d.Order[:0]
	for i := range a.Options {
		if o := &a.Options[i]; a.Choosable(o) {
			d.Offers = append(d.Offers, Offer{i, o.Cost, o.Weeks, o.Verdict, o.Benefits[0].Net, o.Parts})
		}
	}
	for _, i := range a.Choice.Order[:a.Choice.Chosen] {
		if a.OptionAt(i) == nil {
			i = -1
		}
		d.Order = append(d.Order, i)
	}
}

// Offer returns the offer of a measure, nil if it may not be chosen.
func (d *Digest) Offer(measure int) *Offer {
	for i := range d.Offers {
		if d.Offers[i].Measure == measure {
			return &d.Offers[i]
		}
	}
	return nil
}

// Best returns the index of the best measure by the plan's objective, -1 for doing nothing.
func (d *Digest) Best() int { return d.Order[0] }

// Append appends d to b as a record.
func (d *Digest) Append(b []byte) []byte {
	c := wire.Writer(b)
	d.wire(&c)
	return c.Bytes()
}

// Read fills d from a record of a study of n measures. It copies what it keeps.
func (d *Digest) Read(record []byte, n int) error {
	c := wire.Reader(record)
	d.wire(&c)
	if err := c.End(); err != nil {
		return err
	}
	for i := range d.Offers {
		if m := d.Offers[i].Measure; m < 0 || m >= n || i > 0 && m <= d.Offers[i-1].Measure {
			return wire.ErrShort
		}
	}
	for _, m := range d.Order {
		if m != -1 && d.Offer(m) == nil {
			return wire.ErrShort
		}
	}
	if len(d.Order) == 0 {
		return wire.ErrShort
	}
	return nil
}

// wire lists every field of d.
func (d *Digest) wire(c *wire.Codec) {
	d.Building.Wire(c)
	for _, v := range [...]*float64{&d.Period, &d.PeriodBeta, &d.StrengthRatio, &d.StrengthBeta,
		&d.ClassSpread} {
		c.Float(v)
	}
	wire.Int(c, &d.SiteClass)
	c.Bool(&d.PlaceAssumed)
	wire.Len(c, &d.Offers)
	for i := range d.Offers {
		d.Offers[i].wire(c)
	}
	wire.Len(c, &d.Order)
	for i := range d.Order {
		wire.Int(c, &d.Order[i])
	}
}

// wire lists every field of o.
func (o *Offer) wire(c *wire.Codec) {
	p := &o.Parts
	wire.Int(c, &o.Measure)
	wire.Int(c, &o.Verdict)
	for _, v := range [...]*float64{&o.Cost.Low, &o.Cost.Likely, &o.Cost.High, &o.Weeks, &o.Net, &p.Benefit,
		&p.Cost, &p.DeathsAvoided, &p.ContentsAvoided, &p.DaysAvoided} {
		c.Float(v)
	}
}
