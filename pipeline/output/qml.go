package output

import (
	"encoding/xml"
	"fmt"
	"image/color"
	"io"
	"strings"
)

// WriteThemes writes the style of the layer of t for QGIS, which loads NAME.qml by itself beside
// NAME.gpkg: themes of which one is ticked, an order of drawing, labels, tips and the titles of columns.
// QGIS publishes no schema of the file; it is written as QGIS 3.22 reads it.
func WriteThemes[R any](w io.Writer, t *Table[R], about About) error {
	look, ok := looks[t.Name]
	if !ok {
		return fmt.Errorf("output %s: has no themes", t.Name)
	}
	q := qml{Version: "3.22.0", Categories: "AllStyleCategories", LabelsEnabled: 1, Preview: look.preview,
		MapTip: look.tip, Renderer: newRenderer(look.themes(), look.order), Labeling: newLabels(&look)}
	for i := range t.Columns {
		c := &t.Columns[i]
		q.Aliases = append(q.Aliases, qmlAlias{c.Name, i + 1, c.title(about.Currency)}) // after fid
	}
	return q.write(w)
}

// newLabels returns the labels of a layer, with a light edge that keeps them legible on any map.
func newLabels(l *look) qmlLabeling {
	return qmlLabeling{Type: "simple", Settings: qmlLabels{
		Text: qmlText{Field: l.label, Expression: 1, Size: 8, Unit: "Point", Colour: "30,30,30,255",
			Buffer: qmlBuffer{Draw: 1, Size: 0.8, Unit: "MM", Colour: "255,255,255,255"}},
		Placement: qmlPlacement{Placement: l.placement, Distance: 2, Priority: 5},
		Rendering: qmlRendering{Visible: 1, Min: 1, Max: l.labelled, Draw: 1}}}
}

type qml struct {
	XMLName       xml.Name    `xml:"qgis"`
	Version       string      `xml:"version,attr"`
	Categories    string      `xml:"styleCategories,attr"`
	LabelsEnabled int         `xml:"labelsEnabled,attr"`
	Renderer      qmlRenderer `xml:"renderer-v2"`
	Labeling      qmlLabeling `xml:"labeling"`
	Aliases       []qmlAlias  `xml:"aliases>alias"`
	Preview       string      `xml:"previewExpression"`
	MapTip        string      `xml:"mapTip"`
}

type qmlAlias struct {
	Field string `xml:"field,attr"`
	Index int    `xml:"index,attr"`
	Name  string `xml:"name,attr"`
}

type qmlRenderer struct {
	Type    string      `xml:"type,attr"`
	Levels  int         `xml:"symbollevels,attr"`
	Ordered int         `xml:"enableorderby,attr"`
	Rules   qmlRule     `xml:"rules"`
	Symbols []qmlSymbol `xml:"symbols>symbol"`
	Order   []qmlOrder  `xml:"orderby>orderByClause"`
}

type qmlRule struct {
	Key    string    `xml:"key,attr"`
	Label  string    `xml:"label,attr,omitempty"`
	Filter string    `xml:"filter,attr,omitempty"`
	Symbol string    `xml:"symbol,attr,omitempty"`
	Off    string    `xml:"checkstate,attr,omitempty"`
	Rules  []qmlRule `xml:"rule"`
}

type qmlOrder struct {
	Ascending  int    `xml:"asc,attr"`
	NullsFirst int    `xml:"nullsFirst,attr"`
	Expression string `xml:",chardata"`
}

type qmlSymbol struct {
	Name  string   `xml:"name,attr"`
	Type  string   `xml:"type,attr"`
	Alpha int      `xml:"alpha,attr"`
	Layer qmlLayer `xml:"layer"`
}

type qmlLayer struct {
	Class   string    `xml:"class,attr"`
	Enabled int       `xml:"enabled,attr"`
	Pass    int       `xml:"pass,attr"`
	Options qmlOption `xml:"Option"`
}

type qmlOption struct {
	Type  string      `xml:"type,attr"`
	Name  string      `xml:"name,attr,omitempty"`
	Value string      `xml:"value,attr,omitempty"`
	List  []qmlOption `xml:"Option"`
}

type qmlLabeling struct {
	Type     string    `xml:"type,attr"`
	Settings qmlLabels `xml:"settings"`
}

type qmlLabels struct {
	Text      qmlText      `xml:"text-style"`
	Placement qmlPlacement `xml:"placement"`
	Rendering qmlRendering `xml:"rendering"`
}

type qmlText struct {
	Field      string    `xml:"fieldName,attr"`
	Expression int       `xml:"isExpression,attr"`
	Size       int       `xml:"fontSize,attr"`
	Unit       string    `xml:"fontSizeUnit,attr"`
	Colour     string    `xml:"textColor,attr"`
	Buffer     qmlBuffer `xml:"text-buffer"`
}

type qmlBuffer struct {
	Draw   int     `xml:"bufferDraw,attr"`
	Size   float64 `xml:"bufferSize,attr"`
	Unit   string  `xml:"bufferSizeUnits,attr"`
	Colour string  `xml:"bufferColor,attr"`
}

type qmlPlacement struct {
	Placement int     `xml:"placement,attr"`
	Distance  float64 `xml:"dist,attr"`
	Priority  int     `xml:"priority,attr"`
}

type qmlRendering struct {
	Visible int `xml:"scaleVisibility,attr"`
	Min     int `xml:"scaleMin,attr"`
	Max     int `xml:"scaleMax,attr"`
	Draw    int `xml:"drawLabels,attr"`
}

// newRenderer returns the rules of themes, of which the first is ticked. Rows are drawn in descending
// order of a column, if one is named, so that the foremost lie on top.
func newRenderer(themes []theme, order string) qmlRenderer {
	r := qmlRenderer{Type: "RuleRenderer", Rules: qmlRule{Key: "{all}"}}
	if order != "" {
		r.Ordered, r.Order = 1, []qmlOrder{{Expression: `"` + order + `"`}}
	}
	for i, t := range themes {
		group := qmlRule{Key: fmt.Sprintf("{%d}", i), Label: t.title}
		if i > 0 {
			group.Off = "0"
		}
		filters := t.exclusive()
		for j, rule := range t.rules {
			name := fmt.Sprint(len(r.Symbols))
			r.Symbols = append(r.Symbols, rule.symbol.qml(name))
			group.Rules = append(group.Rules, qmlRule{Key: fmt.Sprintf("{%d-%d}", i, j), Label: rule.title,
				Filter: filters[j], Symbol: name})
		}
		r.Rules.Rules = append(r.Rules.Rules, group)
	}
	return r
}

// qml returns the symbol as QGIS keeps it.
func (s *symbol) qml(name string) qmlSymbol {
	options := [][2]string{{"name", s.shape}, {"size", fmt.Sprintf("%g", s.size)}, {"size_unit", "MM"}}
	out := qmlSymbol{Name: name, Type: "marker", Alpha: 1, Layer: qmlLayer{Class: "SimpleMarker", Enabled: 1}}
	if s.shape == "" {
		out.Type, out.Layer.Class = "fill", "SimpleFill"
		options = [][2]string{{"style", "solid"}}
	}
	options = append(options, [][2]string{{"color", qmlColour(s.fill)}, {"outline_color", qmlColour(s.ink)},
		{"outline_style", "solid"}, {"outline_width", "0.2"}, {"outline_width_unit", "MM"}}...)
	out.Layer.Options.Type = "Map"
	for _, o := range options {
		out.Layer.Options.List = append(out.Layer.Options.List, qmlOption{Type: "QString", Name: o[0], Value: o[1]})
	}
	return out
}

func qmlColour(c color.RGBA) string { return fmt.Sprintf("%d,%d,%d,%d", c.R, c.G, c.B, c.A) }

// write writes the style with the caution as a comment.
func (q *qml) write(w io.Writer) error {
	b, err := xml.MarshalIndent(q, "", " ")
	if err != nil {
		return err
	}
	var out strings.Builder
	out.WriteString("<!DOCTYPE qgis PUBLIC 'http://mrcc.com/qgis.dtd' 'SYSTEM'>\n<!-- " + Caution + " -->\n")
	out.Write(b)
	out.WriteString("\n")
	_, err = io.WriteString(w, out.String())
	return err
}
