package output

import "strings"

// Collapsed stands where a drift would, if that counts as collapse: it is no value. It is the word of
// the status in the column solver_status.
const Collapsed = "collapse counted"

// DriftWords returns a drift of r at the design level in words: by format, or Collapsed. The column
// holds the drift at which it counts as collapse, which no measure changes.
func (r *Building) DriftWords(drift float64, format func(float64) string) string {
	design, _, _ := strings.Cut(r.SolverStatus, "at other return periods")
	if strings.Contains(design, Collapsed) && drift >= r.Drift*(1-1e-9) {
		return Collapsed
	}
	return format(drift)
}
