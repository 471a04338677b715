package report

import (
	"bytes"
	"encoding/json"
	"math"
	"regexp"
	"strconv"

	"plinth/pipeline/output"
	"plinth/pipeline/ranking"
	"plinth/retrofit"
)

// An encoder writes the rows of a page as JSON for its script. Each text stands once in a list, and
// rows refer to it by its place. Numbers have four significant digits, which is enough to draw.
type encoder struct {
	b     bytes.Buffer
	texts []string
	place map[string]int
}

// text returns the place of s in the list of texts.
func (e *encoder) text(s string) int {
	i, ok := e.place[s]
	if !ok {
		i = len(e.texts)
		e.place[s] = i
		e.texts = append(e.texts, shown(s))
	}
	return i
}

// pageDigits is the number of significant digits of numbers on the page.
const pageDigits = 4

// named holds the names that occur in the scripts of the page.
var named = func() map[string]bool {
	out := map[string]bool{}
	script := pageScript + mapScript + buildingScript
	for _, name := range regexp.MustCompile(`[a-z0-9_]+`).FindAllString(script, -1) {
		out[name] = true
	}
	return out
}()

// table writes the columns of t that a script names, then the rows.
func table[R any](e *encoder, t *output.Table[R], rows []R) {
	var kept []*output.Column[R]
	e.b.WriteString(`{"columns":[`)
	for i := range t.Columns {
		c := &t.Columns[i]
		if !named[c.Name] {
			continue
		}
		if len(kept) > 0 {
			e.b.WriteByte(',')
		}
		kept = append(kept, c)
		kind := "number"
		if c.Text != nil {
			kind = "text"
		}
		e.b.WriteString(`["` + c.Name + `","` + kind + `"]`)
	}
	e.b.WriteString(`],"rows":[`)
	for i := range rows {
		if i > 0 {
			e.b.WriteString(",\n")
		}
		for j, c := range kept {
			e.b.WriteByte("[,"[min(j, 1)])
			cell(e, c, &rows[i])
		}
		e.b.WriteByte(']')
	}
	e.b.WriteString("]}")
}

// cell writes one value, or null if it is missing.
func cell[R any](e *encoder, c *output.Column[R], row *R) {
	switch {
	case c.Float != nil:
		v := *c.Float(row)
		if math.IsNaN(v - v) {
			e.b.WriteString("null")
			return
		}
		digits := pageDigits
		if c.Digits > 0 { // a place
			digits = c.Digits
		}
		e.b.WriteString(strconv.FormatFloat(output.Round(v, digits), 'g', -1, 64))
	case c.Text != nil:
		if s := *c.Text(row); s != "" {
			e.b.WriteString(strconv.Itoa(e.text(s)))
			return
		}
		e.b.WriteString("null")
	case c.Int != nil:
		if v := *c.Int(row); v != output.NoInt {
			e.b.WriteString(strconv.FormatInt(v, 10))
			return
		}
		e.b.WriteString("null")
	default:
		e.b.WriteString(strconv.FormatBool(*c.Bool(row)))
	}
}

// encode returns the data of the page. The package encoding/json writes <, > and & as \u003c,
// \u003e and \u0026, so that no text can end the element that holds the data.
func encode(s *Stock, m money, o *ranking.Objective) ([]byte, error) {
	e := &encoder{place: map[string]int{}}
	e.b.WriteString(`{"buildings":`)
	table(e, &output.Buildings, s.buildings)
	e.b.WriteString(",\n\"candidates\":")
	table(e, &output.Candidates, s.candidates)
	e.b.WriteString(",\n\"verdicts\":")
	table(e, &output.Verdicts, s.verdicts)
	sources := map[string]string{}
	for i := range retrofit.DefaultRules() {
		rule := &retrofit.DefaultRules()[i]
		sources[rule.Name] = rule.Source
	}
	names := map[string]string{"": measureName("")}
	for _, d := range retrofit.Kinds() {
		names[d.Slug] = d.Name
	}
	meta, err := json.Marshal(struct {
		Texts     []string          `json:"texts"`
		Measures  map[string]string `json:"measures"`
		Sources   map[string]string `json:"sources"` // of the limits of rules
		Money     string            `json:"money"`
		MoneyUnit float64           `json:"moneyUnit"`
		Objective string            `json:"objective"`
		ScoreUnit string            `json:"scoreUnit"`
		Reasons   int               `json:"reasons"` // buildings with reasons rule by rule
		Viridis   [6][3]uint8       `json:"viridis"`
		Marks     []mark            `json:"marks"`
	}{e.texts, names, sources, m.name, m.unit, o.Text, o.Unit, min(MaxReasons, len(s.buildings)), viridis,
		marks()})
	if err != nil {
		return nil, err
	}
	e.b.WriteString(",\n\"meta\":")
	e.b.Write(meta)
	e.b.WriteByte('}')
	return e.b.Bytes(), nil
}

// viridis holds six even steps (0, 51, ..., 255 of 256) of the colour map viridis, which is even to
// the eye, in grey and to the colour-blind (S. van der Walt and N. Smith, 2015, CC0). The page
// interpolates between them in sRGB.
var viridis = [6][3]uint8{{68, 1, 84}, {65, 68, 135}, {42, 120, 142}, {34, 168, 132}, {122, 209, 81},
	{253, 231, 37}}
