package archetypes

import "strconv"

// Importance is the class that codes give a building for what depends on it in an earthquake.
type Importance uint8

// The classes.
const (
	Ordinary  Importance = iota
	Crowded              // schools, halls: a failure would hurt many
	Essential            // hospitals, fire stations: needed after the earthquake

	numImportances
)

// importanceWords are the names by which a table of eras gives the factor of a class.
var importanceWords = [numImportances]string{"ordinary", "crowded", "essential"}

// String returns the class in one word.
func (i Importance) String() string { return importanceWords[min(i, numImportances-1)] }

// importance is the factor on the design coefficient of an era, by class.
type importance [numImportances]float64

// text says which factors there are, "" for none.
func (f *importance) text() string {
	out := ""
	for i := numImportances - 1; i > Ordinary; i-- {
		if f[i] != 1 {
			out += ", x " + strconv.FormatFloat(f[i], 'g', -1, 64) + " if " + importanceWords[i]
		}
	}
	return out
}
