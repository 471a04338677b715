package report

import (
	_ "embed" // the page
	"io"
	"strings"

	"plinth/pipeline/inventory"
	"plinth/pipeline/output"
)

// A CheckInput holds what the page of a data check says. A consultant sends that page to the owner
// of a register.
type CheckInput struct {
	Title    string // of the plan
	File     string // the register
	Register *inventory.Report
	Outside  int64    // buildings the hazard does not cover, or on which the program failed
	Hazard   []string // a line each
}

// Words are the words of a column that the plan does not map.
type Words struct {
	Column string
	Cells  int
	Plan   string // lines to paste into the plan
}

// Limits of the words that the page lists for a column, and of their lines.
const (
	wordsListed = 200
	widestLine  = 300
)

func unmapped(r *inventory.Report) []Words {
	var out []Words
	for _, u := range r.Unmapped() {
		out = append(out, Words{u.Column, u.Cells, strings.Join(u.TOML(wordsListed, widestLine), "\n")})
	}
	return out
}

//go:embed check.html
var checkText string

// Long lines of the plan are wrapped at the edge of the page, and stay whole when they are copied.
const checkStyle = "pre { white-space: pre-wrap; overflow-wrap: anywhere; font-size: .93rem; }"

var checkPage = NewPlain(checkText, checkStyle)

// WriteCheck writes the page of a data check.
func WriteCheck(w io.Writer, in CheckInput) error {
	t := &in.Register.Tally
	return checkPage.Write(w, "Data of "+in.File, struct {
		*CheckInput
		In, Usable, Rejected int64
		Grades               [4]int
		Fixes                []string
		Words                []Words
		Quality              Quality
		Caution              string
	}{
		CheckInput: &in,
		In:         int64(t.In), Usable: int64(t.Buildings) - in.Outside, Rejected: int64(t.Rejects) + in.Outside,
		Grades: in.Register.Grades, Fixes: in.Register.OwnerFixes(), Words: unmapped(in.Register),
		Quality: Register(in.Register), Caution: output.Caution,
	})
}
