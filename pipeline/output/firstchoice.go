package output

import "math"

// A FirstChoice is what time histories make of the measure that a screening puts first for one
// building.
type FirstChoice struct {
	Rank     int64
	ID, Name string
	Measure  string // first by the screening
	Then     string // first by time histories; the same where they confirm it
	Falls    bool   // as it stands the building falls in most records
}

// Confirmed reports whether time histories put the same measure first.
func (f *FirstChoice) Confirmed() bool { return f.Measure == f.Then }

// FirstChoices returns the first choice of every building of a confirmation, in the order of the
// rows.
func FirstChoices(rows []Confirmed) (out []FirstChoice) {
	place := int64(math.MaxInt64)
	for i := range rows {
		r := &rows[i]
		if len(out) == 0 || out[len(out)-1].ID != r.BuildingID {
			out = append(out, FirstChoice{Rank: r.Rank, ID: r.BuildingID, Name: r.BuildingName})
			place = math.MaxInt64
		}
		f := &out[len(out)-1]
		if r.Place < place {
			place, f.Measure = r.Place, r.Measure
		}
		if r.PlaceHistory == 1 {
			f.Then = r.Measure
		}
		if r.Measure == "none" && math.IsInf(r.DriftHistory, 1) {
			f.Falls = true
		}
	}
	return out
}
