package report

import (
	"bytes"
	"crypto/sha256"
	_ "embed" // the frame of the pages
	"encoding/base64"
	"fmt"
	"html/template"
	"io"

	"plinth/pipeline/output"
	"plinth/pipeline/page"
)

var (
	//go:embed frame.html
	frameText string
	//go:embed page.css
	pageStyle string
)

// A frame is what every page has around its body. The page is one file in the style of the report.
// It opens without a network and runs no script but its own.
type frame struct {
	t      *template.Template
	style  string
	script string // "" for none

	pictures bool // pictures may stand in files beside the page
}

// newFrame returns the frame of a body, with a style in addition to that of all pages. The body may
// call the functions that templates of this package may call. newFrame panics if the body is not a
// template.
func newFrame(body, style, script string) *frame {
	t := template.New("frame").Funcs(template.FuncMap{
		"shown": shown, "whole": page.Harmless, "upper": upper, "measure": measureName, "percent": percent,
		"short": short, "grade": func(i int) string { return "ABCD"[i : i+1] },
	})
	template.Must(t.Parse(frameText))
	template.Must(t.New("body").Parse(body))
	return &frame{t: t, style: pageStyle + style, script: script}
}

// policy returns what the page may load and run: nothing but its own parts. Pictures and bars bring
// styles of their own, which pages without a script do not have.
func (f *frame) policy() string {
	rest := "; base-uri 'none'; form-action 'none'"
	if f.pictures {
		rest = "; img-src 'self' file:" + rest
	}
	if f.script == "" {
		return "default-src 'none'; style-src " + hash(f.style) + rest
	}
	return "default-src 'none'; style-src 'unsafe-inline'; script-src " + hash(f.script) + rest
}

// hash returns the name of a text in a policy.
func hash(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}

// write writes the page of in, which the body sees as its dot, and the data for its script. Equal
// inputs give equal bytes.
func (f *frame) write(w io.Writer, title string, data []byte, in any) error {
	var b bytes.Buffer
	err := f.t.Execute(&b, struct {
		Policy, Title, Caution string
		Style                  template.CSS
		Data, Script           template.JS
		Body                   any
	}{f.policy(), title, output.Caution, template.CSS(f.style), template.JS(data), template.JS(f.script), in})
	if err != nil {
		return fmt.Errorf("report: %w", err)
	}
	_, err = w.Write(b.Bytes())
	return err
}

// A Plain is a page in the style of the report. It has no script and prints to A4.
type Plain struct{ frame *frame }

// NewPlain returns the page whose main part is the template body, with a style in addition to that
// of the report. The template may call "shown", which makes a text of an owner harmless and cuts it
// if it is very long, and "whole", which does not cut. NewPlain panics if the body is not a
// template.
func NewPlain(body, style string) *Plain {
	return &Plain{newFrame("<main>\n"+body+"</main>", style, "")}
}

// WithPictures allows the page to load images from its own folder. It returns p.
func (p *Plain) WithPictures() *Plain {
	p.frame.pictures = true
	return p
}

// Write writes the page of in, which the body sees as its dot. Equal inputs give equal bytes.
func (p *Plain) Write(w io.Writer, title string, in any) error {
	return p.frame.write(w, title, nil, in)
}
