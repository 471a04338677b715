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
		s.Lines = append(s.Lines, Line{Name: f.String(), Value: value, Text: text, Unit: unitOf(f),
			Origin: origin(b, f)})
	}
	s.fact("Data grade", b.Grade.String(), "", "docs/methods/register.md",
		fmt.Sprintf("%d points of 100", b.Score))
	for _, rule := range b.Flags.Rules() {
		s.note("cleaning rule " + rule.String() + ": " + rule.Spec().Finding)
	}
	for i := range m.a.Again {
		again := &m.a.Again[i]
		s.note(fmt.Sprintf("line %d of the register has this id too and was rejected: %s. The numbers here are "+
			"those of line %d",
			again.Line, again.Rule.Spec().Finding, b.Line))
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
	if read, ok := numbers[f]; ok {
		return read(b), ""
	}
	if read, ok := facts[f]; ok {
		return math.NaN(), read(b)
	}
	return math.NaN(), ""
}

// numbers reads the fields that are numbers.
var numbers = map[inventory.Field]func(*inventory.Building) float64{
	inventory.Storeys:        func(b *inventory.Building) float64 { return float64(b.Storeys) },
	inventory.StoreysBelow:   func(b *inventory.Building) float64 { return float64(b.StoreysBelow) },
	inventory.Height:         func(b *inventory.Building) float64 { return b.Height },
	inventory.FloorArea:      func(b *inventory.Building) float64 { return b.FloorArea },
	inventory.Footprint:      func(b *inventory.Building) float64 { return b.Footprint },
	inventory.Length:         func(b *inventory.Building) float64 { return b.Length },
	inventory.Width:          func(b *inventory.Building) float64 { return b.Width },
	inventory.Gap:            func(b *inventory.Building) float64 { return b.Gap },
	inventory.SitePeriod:     func(b *inventory.Building) float64 { return b.SitePeriod },
	inventory.Vs30:           func(b *inventory.Building) float64 { return b.Vs30 },
	inventory.FaultDistance:  func(b *inventory.Building) float64 { return b.FaultDistance },
	inventory.OccupantsDay:   func(b *inventory.Building) float64 { return b.OccupantsDay },
	inventory.OccupantsNight: func(b *inventory.Building) float64 { return b.OccupantsNight },
	inventory.Value:          func(b *inventory.Building) float64 { return b.Value },
	inventory.Period:         func(b *inventory.Building) float64 { return b.Period },
	inventory.StrengthRatio:  func(b *inventory.Building) float64 { return b.StrengthRatio },
}

// facts reads the fields that are words.
var facts = map[inventory.Field]func(*inventory.Building) string{
	inventory.Name:             func(b *inventory.Building) string { return b.Name },
	inventory.Lon:              func(b *inventory.Building) string { return fmt.Sprintf("%.6f", b.Lon) },
	inventory.Lat:              func(b *inventory.Building) string { return fmt.Sprintf("%.6f", b.Lat) },
	inventory.Year:             func(b *inventory.Building) string { return fmt.Sprint(b.Year) },
	inventory.YearStrengthened: func(b *inventory.Building) string { return fmt.Sprint(b.YearStrengthened) },
	inventory.ClassifiedYear:   func(b *inventory.Building) string { return fmt.Sprint(b.ClassifiedYear) },
	inventory.System:           func(b *inventory.Building) string { return b.System.String() },
	inventory.Profile:          func(b *inventory.Building) string { return b.Profile.String() },
	inventory.SiteClass:        func(b *inventory.Building) string { return b.SiteClass.String() },
	inventory.UseField:         func(b *inventory.Building) string { return b.Use.String() },
	inventory.Contents: func(b *inventory.Building) string {
		return [...]string{"ordinary", "sensitive",
			"fragile"}[b.Contents]
	},
	inventory.Plane:         func(b *inventory.Building) string { return answerWords[b.Plane] },
	inventory.Heritage:      func(b *inventory.Building) string { return answerWords[b.Heritage] },
	inventory.PlanIrregular: func(b *inventory.Building) string { return answerWords[b.PlanIrregular] },
	inventory.Condition:     func(b *inventory.Building) string { return b.Condition },
}

var answerWords = [...]string{"unknown", "no", "yes"}

// origin returns the origin of the value of a field, and the rule by which it was assumed.
func origin(b *inventory.Building, f inventory.Field) string {
	word := b.Origin[f].String()
	if rule := b.Rule(f); rule != "" {
		word += ": " + rule
	}
	return word
}
