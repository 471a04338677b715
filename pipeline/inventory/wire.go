package inventory

import "plinth/pipeline/internal/wire"

// Wire lists every field of the building for a record.
func (b *Building) Wire(c *wire.Codec) {
	c.Text(&b.ID)
	c.Text(&b.Name)
	c.Text(&b.Condition)
	c.Text(&b.Group)
	for _, n := range [...]*int{&b.Line, &b.Year, &b.YearStrengthened, &b.ClassifiedYear, &b.Storeys,
		&b.StoreysBelow, &b.Touching} {
		wire.Int(c, n)
	}
	for _, v := range [...]*float64{&b.Lon, &b.Lat, &b.Height, &b.FloorArea, &b.Footprint, &b.Length,
		&b.Width, &b.Gap, &b.SitePeriod, &b.Vs30, &b.FaultDistance, &b.OccupantsDay, &b.OccupantsNight,
		&b.Value, &b.Period, &b.StrengthRatio} {
		c.Float(v)
	}
	wire.Int(c, &b.System)
	wire.Int(c, &b.Profile)
	wire.Int(c, &b.SiteClass)
	wire.Int(c, &b.Use)
	wire.Int(c, &b.Contents)
	wire.Int(c, &b.Plane)
	wire.Int(c, &b.Heritage)
	wire.Int(c, &b.PlanIrregular)
	for f := range b.Origin {
		wire.Int(c, &b.Origin[f])
		wire.Int(c, &b.way[f])
	}
	wire.Int(c, &b.Flags)
	wire.Int(c, &b.Unused)
	wire.Int(c, &b.Score)
	wire.Int(c, &b.Grade)
}
