package sheet

import (
	"fmt"
	"math"

	"plinth/pipeline/inventory"
)

func (m *maker) building() Section {
	s := Section{Title: "Building, as the register has it"}
	b := m.a.Building
	for f := range inventory.Field(inventory.NumFields) {
		if f == inventory.ID || b.Origin[f] == inventory.Absent {
			continue
		}
		value, text := valueOf(b, f)
		if text == "" && math.IsNaN(value) {
			continue
		}
		s.Lines = append(s.Lines, Line{Name: f.String(), Value: value, Text: text, Unit: unitOf(f), Origin: origin(b, f)})
	}
	s.fact("Data grade", b.Grade.String(), "", "docs/methods/register.md", fmt.Sprintf("%d points of 100", b.Score))
	for _, rule := range b.Flags.Slugs() {
		s.note("cleaning rule " + rule)
	}
	return s
}

func unitOf(f inventory.Field) string {
	if u := f.Spec().Dimension.Units(); len(u) > 0 && u[0] != "1" {
		return u[0]
	}
	return ""
}

// valueOf returns the value of a field of b, as a number or in words.
func valueOf(b *inventory.Building, f inventory.Field) (float64, string) {
	none := math.NaN()
	switch f {
	case inventory.Name:
		return none, b.Name
	case inventory.Lon:
		return none, fmt.Sprintf("%.6f", b.Lon)
	case inventory.Lat:
		return none, fmt.Sprintf("%.6f", b.Lat)
	case inventory.Year:
		return none, fmt.Sprint(b.Year)
	case inventory.YearStrengthened:
		return none, fmt.Sprint(b.YearStrengthened)
	case inventory.Storeys:
		return float64(b.Storeys), ""
	case inventory.StoreysBelow:
		return float64(b.StoreysBelow), ""
	case inventory.Height:
		return b.Height, ""
	case inventory.FloorArea:
		return b.FloorArea, ""
	case inventory.Footprint:
		return b.Footprint, ""
	case inventory.Length:
		return b.Length, ""
	case inventory.Width:
		return b.Width, ""
	case inventory.Gap:
		return b.Gap, ""
	case inventory.System:
		return none, b.System.String()
	case inventory.Profile:
		return none, b.Profile.String()
	case inventory.SiteClass:
		return none, b.SiteClass.String()
	case inventory.SitePeriod:
		return b.SitePeriod, ""
	case inventory.Vs30:
		return b.Vs30, ""
	case inventory.FaultDistance:
		return b.FaultDistance, ""
	case inventory.UseField:
		return none, b.Use.String()
	case inventory.Contents:
		return none, [...]string{"ordinary", "sensitive", "fragile"}[b.Contents]
	case inventory.Plane:
		return none, answerWords[b.Plane]
	case inventory.Heritage:
		return none, answerWords[b.Heritage]
	case inventory.PlanIrregular:
		return none, answerWords[b.PlanIrregular]
	case inventory.Condition:
		return none, b.Condition
	case inventory.OccupantsDay:
		return b.OccupantsDay, ""
	case inventory.OccupantsNight:
		return b.OccupantsNight, ""
	case inventory.Value:
		return b.Value, ""
	case inventory.Period:
		return b.Period, ""
	case inventory.StrengthRatio:
		return b.StrengthRatio, ""
	}
	return none, ""
}

var answerWords = [...]string{"unknown", "no", "yes"}

// origin returns where the value of a field came from, and by which rule it was
// assumed.
func origin(b *inventory.Building, f inventory.Field) string {
	word := b.Origin[f].String()
	if rule := b.Rule(f); rule != "" {
		word += ": " + rule
	}
	return word
}
