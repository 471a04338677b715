package plan

import (
	"fmt"
	"strconv"
	"strings"
)

// A Tolerance is how many rows of a register may be rejected before a run that is done
// ends with the exit code for rejected rows. It changes no result.
type Tolerance struct {
	text  string
	share bool    // most is in percent of the rows read
	most  float64 // rows or percent
}

// ParseTolerance reads a number of rows, such as "20", or a share of those read, such
// as "2%".
func ParseTolerance(text string) (Tolerance, error) {
	t := Tolerance{text: text}
	number, share := strings.CutSuffix(text, "%")
	t.share = share
	most, err := strconv.ParseFloat(strings.TrimSpace(number), 64)
	whole := most == float64(int64(most))
	if err != nil || !(most >= 0) || share && most > 100 || !share && (!whole || most > 1e12) {
		return Tolerance{}, fmt.Errorf("%q is neither a number of rows, such as 20, "+
			"nor a share of them from 0%% to 100%%, such as 2%%", text)
	}
	t.most = most
	return t, nil
}

// Allows reports whether so few of the rows read were rejected that they are tolerated.
func (t Tolerance) Allows(rejected, read int64) bool {
	if t.share {
		return 100*float64(rejected) <= t.most*float64(read)
	}
	return float64(rejected) <= t.most
}

// None reports whether no reject is tolerated.
func (t Tolerance) None() bool { return t.most == 0 }

// String returns the tolerance as it was written.
func (t Tolerance) String() string { return t.text }
