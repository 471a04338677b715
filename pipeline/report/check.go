package report

import (
	"bytes"
	"crypto/sha256"
	_ "embed" // the page
	"encoding/base64"
	"html/template"
	"io"

	"plinth/pipeline/inventory"
	"plinth/pipeline/output"
)

// A CheckInput is what the page of a data check says: what a consultant sends to the
// owner of a register.
type CheckInput struct {
	Title    string // of the plan
	File     string // the register
	Register *inventory.Report
	Outside  int64    // buildings the hazard does not cover
	Hazard   []string // a line each
}

//go:embed check.html
var checkText string

var checkPage = template.Must(template.New("check").Funcs(template.FuncMap{
	"shown": shown, "grade": func(i int) string { return "ABCD"[i : i+1] },
}).Parse(checkText))

// WriteCheck writes the page of a data check: one file that opens without a network
// and loads no script. Equal inputs give equal bytes.
func WriteCheck(w io.Writer, in CheckInput) error {
	sum := sha256.Sum256([]byte(pageStyle))
	t := &in.Register.Tally
	var b bytes.Buffer
	err := checkPage.Execute(&b, struct {
		*CheckInput
		Policy               string
		Style                template.CSS
		In, Usable, Rejected int64
		Grades               [4]int
		Fixes                []string
		Quality              Quality
		Caution              string
	}{
		CheckInput: &in,
		Policy:     "default-src 'none'; style-src 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'; base-uri 'none'; form-action 'none'",
		Style:      template.CSS(pageStyle),
		In:         int64(t.In), Usable: int64(t.Buildings) - in.Outside, Rejected: int64(t.Rejects) + in.Outside,
		Grades: in.Register.Grades, Fixes: in.Register.Fixes(), Quality: Register(in.Register), Caution: output.Caution,
	})
	if err != nil {
		return err
	}
	_, err = w.Write(b.Bytes())
	return err
}
