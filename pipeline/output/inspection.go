package output

// An Inspection is the row of one field of one building that nobody has given, and the worth of
// knowing it.
type Inspection struct {
	Place                      int64
	ID, Name, Field            string
	Worth                      float64
	BestChanges, FundedChanges float64
	BestNow, MayBecome         string
	Funded                     bool
	Visit                      int64
	Lon, Lat                   float64
}

// Inspections is the table of Inspection.
var Inspections = Table[Inspection]{
	Name:  "inspect",
	Title: "What to go and find out next",
	Doc: "One row for each building and field that nobody has given and that could change what is done, the " +
		"most worth knowing first; written by plinth inspect.",
	ID:    "building_id",
	Key:   []string{"building_id", "field"},
	Order: "place",
	Columns: []Column[Inspection]{
		{Name: "place", Required: true, Int: func(r *Inspection) *int64 { return &r.Place },
			Doc: "place in the list, 1 first"},
		{Name: "building_id", Required: true, Text: func(r *Inspection) *string { return &r.ID },
			Doc: "the owner's id, as text"},
		{Name: "building_name", Text: func(r *Inspection) *string { return &r.Name },
			Doc: "the owner's name of the building"},
		{Name: "field", Required: true, Text: func(r *Inspection) *string { return &r.Field },
			Doc: "what to find out, as the plan names the field"},
		{Name: "worth", Float: func(r *Inspection) *float64 { return &r.Worth },
			Doc: "expected gain of knowing it before choosing a measure, in the unit of the objective"},
		{Name: "best_changes", Float: func(r *Inspection) *float64 { return &r.BestChanges },
			Doc: "probability that knowing it changes the best measure"},
		{Name: "funded_changes", Float: func(r *Inspection) *float64 { return &r.FundedChanges },
			Doc: "probability that knowing it moves the building across the budget line; missing without a budget"},
		{Name: "best_now", Text: func(r *Inspection) *string { return &r.BestNow },
			Doc: "slug of the best measure as the register is, its cost counted at what the money would gain " +
				"elsewhere"},
		{Name: "may_become", Text: func(r *Inspection) *string { return &r.MayBecome },
			Doc: "what may be found, and the best measure then"},
		{Name: "funded", Bool: func(r *Inspection) *bool { return &r.Funded },
			Doc: "true where the building is above the budget line as the register is; false without a budget"},
		{Name: "visit", Int: func(r *Inspection) *int64 { return &r.Visit },
			Doc: "number of the visit of neighbouring buildings it belongs to, the most worth going on first"},
		{Name: "lon", Unit: "degrees", Digits: coordinateDigits,
			Float: func(r *Inspection) *float64 { return &r.Lon }, Doc: "longitude, WGS 84, east positive"},
		{Name: "lat", Unit: "degrees", Digits: coordinateDigits,
			Float: func(r *Inspection) *float64 { return &r.Lat }, Doc: "latitude, WGS 84, north positive"},
	},
}
