package cell

// A Note is one thing to tell of a cell beside the value that was read from it.
type Note uint8

// The notes.
const (
	Approximate     Note = iota // marked as not exact
	UnitInCell                  // the cell names its own unit
	Thousands                   // digits are grouped
	ExcelDate                   // the day number of a spreadsheet
	NoSuchDate                  // not a day of the calendar; its year was read
	Century                     // a century; its middle was read
	PlaceholderDate             // a date that stands for none
	NotStanding                 // the words say that the building is not built yet, or is gone
)

// Notes are a set of notes.
type Notes uint8

// Has reports whether n is in the set.
func (s Notes) Has(n Note) bool { return s&(1<<n) != 0 }
