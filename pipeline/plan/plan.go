package plan

// A Plan is everything a run needs to know. Each key is declared once, by a
// struct field with its tags: toml (name), unit, min, max and choices. The comment
// above the field is its explanation in the plan reference, docs/plan.md.
// Paths are relative to the folder of the plan file; Load resolves them.
type Plan struct {
	// title of the run, printed on its results
	Name string `toml:"name"`
	// the register of buildings
	Inventory Inventory `toml:"inventory"`
	// the shaking at each site
	Hazard Hazard `toml:"hazard"`
	// period and strength of a building nobody has measured
	Archetypes Archetypes `toml:"archetypes"`
	// what may be done to a building, within which ranges, at what price
	Measures Measures `toml:"measures"`
	// what shaking costs
	Consequence Consequence `toml:"consequence"`
	// what the rank serves
	Objective Objective `toml:"objective"`
	// what a building must survive: a measure that does not reach it is the best only where none does
	Target Target `toml:"target"`
	// published scales to rate buildings on (docs/methods/rating.md): screening estimates, not assessments by
	// the rules
	Rating Rating `toml:"rating"`
	// what may be spent when, for plinth budget
	Budget Budget `toml:"budget"`
	// how sure a rank is
	Uncertainty Uncertainty `toml:"uncertainty"`
	// time histories of the shortlist (plinth confirm)
	Confirm Confirm `toml:"confirm"`
	// where results go
	Output Output `toml:"output"`

	dir  string // folder of the plan file, "" if it was not loaded from one
	file string // as messages name it
	at   map[string]position
}
