package report

import (
	"bytes"
	"crypto/sha256"
	_ "embed" // the frame of the pages
	"encoding/base64"
	"fmt"
	"html/template"
	"io"

	"plinth/pipeline/page"
)

//go:embed plain.html
var plainText string

// A Plain is a page in the style of the report that has no script: one file that
// opens without a network and prints to A4.
type Plain struct{ t *template.Template }

// NewPlain returns the page whose main part is the template body. The template may
// call "shown", which makes a text of an owner harmless and cuts it where it has no
// end, and "whole", which does not cut. It panics on a body that is no template.
func NewPlain(body string) *Plain {
	t := template.New("plain").Funcs(template.FuncMap{
		"shown": shown, "whole": page.Harmless, "grade": func(i int) string { return "ABCD"[i : i+1] },
	})
	template.Must(t.Parse(plainText))
	template.Must(t.New("body").Parse(body))
	return &Plain{t}
}

// Write writes the page of in, which the body sees as its dot. Equal inputs give
// equal bytes.
func (p *Plain) Write(w io.Writer, title string, in any) error {
	sum := sha256.Sum256([]byte(pageStyle))
	var b bytes.Buffer
	err := p.t.Execute(&b, struct {
		Policy, Title string
		Style         template.CSS
		Body          any
	}{
		"default-src 'none'; style-src 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'; base-uri 'none'; form-action 'none'",
		title, template.CSS(pageStyle), in,
	})
	if err != nil {
		return fmt.Errorf("report: %w", err)
	}
	_, err = w.Write(b.Bytes())
	return err
}
