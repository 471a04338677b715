package plan

import (
	"fmt"
	"strconv"
	"strings"
)

// A Tolerance is the number of rows of a register that may be rejected before a finished run ends
// with the exit code for rejected rows. It changes no result.
type Tolerance struct {
	text  string
	share bool    // most is in percent of the rows read
	most  float64 // rows or percent
}

// ParseTolerance reads a number of rows, such as "20", or a share of the rows read, such as "2%".
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

// Allows reports whether the tolerance covers the rejected rows, of the rows that were read.
func (t Tolerance) Allows(rejected, read int64) bool {
	if t.share {
		return 100*float64(rejected) <= t.most*float64(read)
	}
	return float64(rejected) <= t.most
}

// None reports whether no rejected row is tolerated.
func (t Tolerance) None() bool { return t.most == 0 }

// String returns the tolerance as it was written.
func (t Tolerance) String() string { return t.text }
