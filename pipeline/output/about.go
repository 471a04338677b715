package output

import "strings"

// About describes the run that wrote a file. Equal runs of one plan have equal values here, so that
// their files have equal bytes.
type About struct {
	Version   string `json:"plinth_version"`
	Currency  string `json:"currency"`   // of the money columns
	PriceDate string `json:"price_date"` // of the costs

	// what decides the answer in money and is a default of the program, in words
	BuiltIn string `json:"built_in_defaults"`
}

// notes returns the metadata that all files share as pairs of key and value, in a fixed order.
func (a About) notes(idColumn string) [][2]string {
	all := [][2]string{
		{"caution", Caution},
		{"plinth_version", a.Version},
		{"currency", a.Currency},
		{"price_date", a.PriceDate},
		{"built_in_defaults", a.BuiltIn},
		{"id_column", idColumn},
	}
	kept := all[:0]
	for _, kv := range all {
		if kv[1] != "" {
			kept = append(kept, kv)
		}
	}
	return kept
}

// attribution returns the line that a map shows at its edge.
func (a About) attribution() string { return strings.TrimSpace("Screened with Plinth " + a.Version) }
