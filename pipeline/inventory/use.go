package inventory

import "plinth/retrofit"

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

// A usage is what is taken for a building of one use where the register is
// silent. All numbers are judgement: averages over the hours meant, not the peak
// loads that codes give for the width of exits.
type usage struct {
	slug        string
	storey      float64 // m, storey height
	day, night  float64 // m2 of gross floor a person; 0 is nobody
	contents    retrofit.Contents
	special     special
	description string
}

// special says whether a use has storeys as the archetypes know them.
type special uint8

const (
	storeyed special = iota
	loose            // an archetype is a poor picture: kept, flagged
	setAside         // no archetype: rejected with its reason
)

var usages = [NumUses]usage{
	UnknownUse:  {"", 3.3, 40, 60, retrofit.OrdinaryContents, storeyed, "not known"},
	House:       {"house", 2.8, 90, 45, retrofit.OrdinaryContents, storeyed, "house or terrace"},
	Apartments:  {"apartments", 2.9, 80, 40, retrofit.OrdinaryContents, storeyed, "flats"},
	Hostel:      {"hostel", 2.9, 60, 28, retrofit.OrdinaryContents, storeyed, "student or staff residence, barracks"},
	Hotel:       {"hotel", 3.1, 80, 40, retrofit.OrdinaryContents, storeyed, "hotel"},
	Office:      {"office", 3.6, 20, 400, retrofit.OrdinaryContents, storeyed, "offices"},
	Civic:       {"civic", 3.8, 25, 400, retrofit.OrdinaryContents, storeyed, "town hall, court"},
	Emergency:   {"emergency", 3.6, 40, 60, retrofit.SensitiveContents, storeyed, "fire, police or ambulance station, control room"},
	School:      {"school", 3.6, 10, 0, retrofit.OrdinaryContents, storeyed, "school, kindergarten"},
	University:  {"university", 3.8, 15, 400, retrofit.OrdinaryContents, storeyed, "lecture and seminar rooms"},
	Laboratory:  {"laboratory", 4.0, 30, 300, retrofit.SensitiveContents, storeyed, "laboratories"},
	Hospital:    {"hospital", 4.0, 25, 40, retrofit.SensitiveContents, storeyed, "hospital with beds or theatres"},
	Clinic:      {"clinic", 3.6, 20, 0, retrofit.SensitiveContents, storeyed, "clinic without beds"},
	Museum:      {"museum", 4.5, 25, 0, retrofit.FragileContents, storeyed, "museum, gallery"},
	Library:     {"library", 4.0, 20, 0, retrofit.SensitiveContents, storeyed, "library, archive"},
	Assembly:    {"assembly", 4.5, 10, 0, retrofit.OrdinaryContents, storeyed, "theatre, hall, restaurant"},
	Worship:     {"worship", 5.5, 20, 0, retrofit.OrdinaryContents, loose, "church, mosque, temple"},
	SportsHall:  {"sports-hall", 6.0, 30, 0, retrofit.OrdinaryContents, loose, "gymnasium, pool"},
	Shop:        {"shop", 4.0, 15, 0, retrofit.OrdinaryContents, storeyed, "shop, market"},
	Warehouse:   {"warehouse", 5.5, 150, 0, retrofit.OrdinaryContents, loose, "store, depot"},
	Factory:     {"factory", 5.0, 60, 400, retrofit.OrdinaryContents, loose, "workshop, factory"},
	Plant:       {"plant", 5.0, 200, 400, retrofit.SensitiveContents, loose, "energy, water or telephone plant"},
	DataCentre:  {"data-centre", 4.5, 100, 200, retrofit.SensitiveContents, storeyed, "computer rooms"},
	Parking:     {"parking", 3.0, 200, 0, retrofit.OrdinaryContents, loose, "garage"},
	Outbuilding: {"outbuilding", 3.0, 100, 0, retrofit.OrdinaryContents, loose, "shed, greenhouse, trailer"},
	Arena:       {"arena", 6.0, 10, 0, retrofit.OrdinaryContents, setAside, "stadium, grandstand"},
	Tower:       {"tower", 6.0, 0, 0, retrofit.OrdinaryContents, setAside, "clock tower, mast, chimney"},
	Silo:        {"silo", 6.0, 0, 0, retrofit.OrdinaryContents, setAside, "silo, tank"},
	OtherUse:    {"other", 3.3, 40, 60, retrofit.OrdinaryContents, storeyed, "none of these"},
}

// String returns the use's slug, or "" for an unknown use.
func (u Use) String() string { return usages[u].slug }

// Split returns the slug by which the tables of consequence know the use: its
// own, or that of other uses where it is unknown.
func (u Use) Split() string {
	if u == UnknownUse {
		u = OtherUse
	}
	return u.String()
}
