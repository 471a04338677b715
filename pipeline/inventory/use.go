package inventory

import (
	"fmt"
	"strings"

	"plinth/archetypes"
	"plinth/retrofit"
)

// A Use is what a building is used for. The zero value is unknown.
type Use uint8

// The uses.
const (
	UnknownUse Use = iota
	House
	Apartments
	Hostel
	Hotel
	Office
	Civic
	Emergency
	School
	University
	Laboratory
	Hospital
	Clinic
	Museum
	Library
	Assembly
	Worship
	SportsHall
	Shop
	Warehouse
	Factory
	Plant
	DataCentre
	Parking
	Outbuilding
	Arena
	Tower
	Silo
	OtherUse

	NumUses = iota // number of uses, the unknown one among them
)

// A usage holds what is assumed of a building of one use if the register does not say it. All numbers
// are judgement. Occupants are averages over the hours of day or night, not the peak loads that codes
// give for the width of exits.
type usage struct {
	slug        string
	storey      float64 // m, storey height
	day, night  float64 // m2 of gross floor a person; 0 is nobody
	contents    retrofit.Contents
	special     special
	importance  archetypes.Importance
	description string
}

// special says how well the buildings of a use fit the archetypes, which have storeys.
type special uint8

const (
	storeyed special = iota
	loose            // an archetype is a poor picture: kept, flagged
	setAside         // no archetype: rejected with its reason
)

var usages = [NumUses]usage{
	UnknownUse:  {"", 3.3, 40, 60, retrofit.OrdinaryContents, storeyed, archetypes.Ordinary, "not known"},
	House:       {"house", 2.8, 90, 45, retrofit.OrdinaryContents, storeyed, archetypes.Ordinary, "house or terrace"},
	Apartments:  {"apartments", 2.9, 80, 40, retrofit.OrdinaryContents, storeyed, archetypes.Ordinary, "flats"},
	Hostel:      {"hostel", 2.9, 60, 28, retrofit.OrdinaryContents, storeyed, archetypes.Ordinary, "student or staff residence, barracks"},
	Hotel:       {"hotel", 3.1, 80, 40, retrofit.OrdinaryContents, storeyed, archetypes.Ordinary, "hotel"},
	Office:      {"office", 3.6, 20, 400, retrofit.OrdinaryContents, storeyed, archetypes.Ordinary, "offices"},
	Civic:       {"civic", 3.8, 25, 400, retrofit.OrdinaryContents, storeyed, archetypes.Ordinary, "town hall, court"},
	Emergency:   {"emergency", 3.6, 40, 60, retrofit.SensitiveContents, storeyed, archetypes.Essential, "fire, police or ambulance station, control room"},
	School:      {"school", 3.6, 10, 0, retrofit.OrdinaryContents, storeyed, archetypes.Crowded, "school, kindergarten"},
	University:  {"university", 3.8, 15, 400, retrofit.OrdinaryContents, storeyed, archetypes.Crowded, "lecture and seminar rooms"},
	Laboratory:  {"laboratory", 4.0, 30, 300, retrofit.SensitiveContents, storeyed, archetypes.Ordinary, "laboratories"},
	Hospital:    {"hospital", 4.0, 25, 40, retrofit.SensitiveContents, storeyed, archetypes.Essential, "hospital with beds or theatres"},
	Clinic:      {"clinic", 3.6, 20, 0, retrofit.SensitiveContents, storeyed, archetypes.Ordinary, "clinic without beds"},
	Museum:      {"museum", 4.5, 25, 0, retrofit.FragileContents, storeyed, archetypes.Crowded, "museum, gallery"},
	Library:     {"library", 4.0, 20, 0, retrofit.SensitiveContents, storeyed, archetypes.Crowded, "library, archive"},
	Assembly:    {"assembly", 4.5, 10, 0, retrofit.OrdinaryContents, storeyed, archetypes.Crowded, "theatre, hall, restaurant"},
	Worship:     {"worship", 5.5, 20, 0, retrofit.OrdinaryContents, loose, archetypes.Crowded, "church, mosque, temple"},
	SportsHall:  {"sports-hall", 6.0, 30, 0, retrofit.OrdinaryContents, loose, archetypes.Crowded, "gymnasium, pool"},
	Shop:        {"shop", 4.0, 15, 0, retrofit.OrdinaryContents, storeyed, archetypes.Ordinary, "shop, market"},
	Warehouse:   {"warehouse", 5.5, 150, 0, retrofit.OrdinaryContents, loose, archetypes.Ordinary, "store, depot"},
	Factory:     {"factory", 5.0, 60, 400, retrofit.OrdinaryContents, loose, archetypes.Ordinary, "workshop, factory"},
	Plant:       {"plant", 5.0, 200, 400, retrofit.SensitiveContents, loose, archetypes.Ordinary, "energy, water or telephone plant"},
	DataCentre:  {"data-centre", 4.5, 100, 200, retrofit.SensitiveContents, storeyed, archetypes.Ordinary, "computer rooms"},
	Parking:     {"parking", 3.0, 200, 0, retrofit.OrdinaryContents, loose, archetypes.Ordinary, "garage"},
	Outbuilding: {"outbuilding", 3.0, 100, 0, retrofit.OrdinaryContents, loose, archetypes.Ordinary, "shed, greenhouse, trailer"},
	Arena:       {"arena", 6.0, 10, 0, retrofit.OrdinaryContents, setAside, archetypes.Crowded, "stadium, grandstand"},
	Tower:       {"tower", 6.0, 0, 0, retrofit.OrdinaryContents, setAside, archetypes.Ordinary, "clock tower, mast, chimney"},
	Silo:        {"silo", 6.0, 0, 0, retrofit.OrdinaryContents, setAside, archetypes.Ordinary, "silo, tank"},
	OtherUse:    {"other", 3.3, 40, 60, retrofit.OrdinaryContents, storeyed, archetypes.Ordinary, "none of these"},
}

// ParseUse returns the use with the given slug.
func ParseUse(slug string) (Use, error) {
	for u := range Use(NumUses) {
		if slug != "" && usages[u].slug == slug {
			return u, nil
		}
	}
	return UnknownUse, fmt.Errorf("use %q is not known: want one of %s", slug, strings.Join(useSlugs(), ", "))
}

// useSlugs returns the slugs of the known uses.
func useSlugs() []string {
	words, _ := wordsOf(UseField)
	return words
}

// String returns the use's slug, or "" for an unknown use.
func (u Use) String() string { return usages[u].slug }

// Importance returns the class of the use in codes: essential where the building is needed after an
// earthquake, crowded where many are in it (classes IV and III of EN 1998-1 Table 4.3, from memory).
func (u Use) Importance() archetypes.Importance { return usages[u].importance }

// Split returns the slug of the use in the tables of consequence. For an unknown use it is that of
// other uses.
func (u Use) Split() string {
	if u == UnknownUse {
		u = OtherUse
	}
	return u.String()
}
