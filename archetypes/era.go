package archetypes

import (
	"fmt"
	"math"
	"strings"
)

// Region is an index into the regions of the table of eras. The zero value is the first region
// of the embedded table, generic.
type Region uint8

// Zone is a seismic zone of a Region, counted from 1. The zero value is an unknown zone, which
// uses the first zone of the region.
type Zone uint8

type region struct {
	slug  string
	zones []zone
}

type zone struct {
	slug string
	eras []era // ascending and without gap
}

// era is the range of years in which one design rule applied in one zone.
type era struct {
	from, to     int // the last era has to = lastYear
	rule         *rule
	params       [maxParams]float64
	toStrength   float64 // factor from the coefficient to strength level
	overstrength float64 // 0: the system's
	importance   importance
	byPlace      float64 // 1: it held only in the places classified by then
	detailing    Detailing
	coefficient  Formula
	strengthened Formula // of a building strengthened in the era
}

const lastYear = math.MaxInt32

// ParseRegion returns the region named by s.
func (t *Tables) ParseRegion(s string) (Region, error) {
	var slugs []string
	for i, r := range t.regions {
		if strings.EqualFold(strings.TrimSpace(s), r.slug) {
			return Region(i), nil
		}
		slugs = append(slugs, r.slug)
	}
	return 0, fmt.Errorf("region %q is not one of %s", s, strings.Join(slugs, ", "))
}

// ParseZone returns the zone of region r named by s; an empty s is the unknown zone.
func (t *Tables) ParseZone(r Region, s string) (Zone, error) {
	if s = strings.TrimSpace(s); s == "" {
		return 0, nil
	}
	var slugs []string
	for i, z := range t.regions[r].zones {
		if strings.EqualFold(s, z.slug) {
			return Zone(i + 1), nil
		}
		slugs = append(slugs, z.slug)
	}
	return 0, fmt.Errorf("zone %q is not one of those of %s: %s", s, t.regions[r].slug,
		strings.Join(slugs, ", "))
}

// Regions returns the slugs of the regions in the order of their values.
func (t *Tables) Regions() []string {
	out := make([]string, len(t.regions))
	for i, r := range t.regions {
		out[i] = r.slug
	}
	return out
}

// Zones returns the slugs of the zones of r, Zone 1 first.
func (t *Tables) Zones(r Region) []string {
	out := make([]string, len(t.regions[r].zones))
	for i, z := range t.regions[r].zones {
		out[i] = z.slug
	}
	return out
}

// preCode is the era before the first of a table: no lateral design.
var preCode = &era{rule: &rules[0], toStrength: 1, importance: importance{1, 1, 1}, detailing: NonDuctile,
	coefficient: Formula{ID: "none",
		Text:   "no lateral design before the region's first rule or before the place was classified: V/W = 0",
		Source: "judgement", Confidence: Medium},
}

// at returns the era of the year of design in a place that the code has covered since classified,
// 0 if that is not known. A year before the first era or before the place was classified has no
// design rule. An unknown year, 0, counts as the last era without ductile detailing, the most
// common in a stock that needs screening (judgement); assumed reports it.
func (z *zone) at(year, classified int) (e *era, assumed bool) {
	if year <= 0 {
		for i := len(z.eras) - 1; i >= 0; i-- {
			if z.eras[i].detailing == NonDuctile {
				return &z.eras[i], true
			}
		}
		return preCode, true
	}
	for i := len(z.eras) - 1; i >= 0 && year >= classified; i-- {
		if year >= z.eras[i].from {
			return &z.eras[i], false
		}
	}
	return preCode, false
}
