package output

import (
	"fmt"
	"io"
	"strings"
)

// A rankBand is one symbol of the style for maps. The foremost buildings have a large, light symbol
// of another shape, so that size and shape say what colour says.
type rankBand struct {
	title     string
	from, to  int // ranks, to 0 for no end
	shape     string
	size      float64 // pixels
	fill, ink string
}

// The fills are four even steps of the colour map viridis, which is even to the eye and in grey (S.
// van der Walt and N. Smith, 2015, CC0). The bands are judgement. The last band is drawn first.
var rankBands = []rankBand{
	{"first 10", 1, 10, "star", 18, "#FDE725", "#000000"},
	{"11 to 50", 11, 50, "square", 11, "#35B779", "#000000"},
	{"51 to 200", 51, 200, "triangle", 9, "#31688E", "#FFFFFF"},
	{"after 200", 201, 0, "circle", 5, "#440154", "#FFFFFF"},
}

// WriteStyle writes a style for maps of table t by its column rank: a Styled Layer Descriptor (OGC
// 05-078r4) with Symbology Encoding 1.1.0 (OGC 05-077r4). Geographical information systems load it
// as the style of a layer.
func WriteStyle[R any](w io.Writer, t *Table[R]) error {
	var b strings.Builder
	b.WriteString(`<?xml version="1.0" encoding="UTF-8"?>
<StyledLayerDescriptor version="1.1.0" xmlns="http://www.opengis.net/sld" xmlns:se="http://www.opengis.net/se" xmlns:ogc="http://www.opengis.net/ogc">
  <NamedLayer>
    <se:Name>` + t.Name + `</se:Name>
    <UserStyle>
      <se:Name>rank</se:Name>
      <se:Description>
        <se:Title>Rank by the objective of the plan</se:Title>
        <se:Abstract>` + Caution + `</se:Abstract>
      </se:Description>
      <se:FeatureTypeStyle>
`)
	for i := len(rankBands) - 1; i >= 0; i-- {
		rankBands[i].write(&b)
	}
	b.WriteString("      </se:FeatureTypeStyle>\n    </UserStyle>\n  </NamedLayer>\n</StyledLayerDescriptor>\n")
	_, err := io.WriteString(w, b.String())
	return err
}

// write writes the band as one rule.
func (r *rankBand) write(b *strings.Builder) {
	bound := func(operator string, rank int) string {
		return fmt.Sprintf("<ogc:%[1]s><ogc:PropertyName>rank</ogc:PropertyName><ogc:Literal>%[2]d</ogc:Literal></ogc:%[1]s>", operator, rank)
	}
	filter := bound("PropertyIsGreaterThanOrEqualTo", r.from)
	if r.to > 0 {
		filter = "<ogc:And>" + filter + bound("PropertyIsLessThanOrEqualTo", r.to) + "</ogc:And>"
	}
	fmt.Fprintf(b, `        <se:Rule>
          <se:Name>rank %[1]s</se:Name>
          <se:Description><se:Title>rank %[1]s</se:Title></se:Description>
          <ogc:Filter>%[2]s</ogc:Filter>
          <se:PointSymbolizer>
            <se:Graphic>
              <se:Mark>
                <se:WellKnownName>%[3]s</se:WellKnownName>
                <se:Fill><se:SvgParameter name="fill">%[4]s</se:SvgParameter></se:Fill>
                <se:Stroke><se:SvgParameter name="stroke">%[5]s</se:SvgParameter><se:SvgParameter name="stroke-width">1</se:SvgParameter></se:Stroke>
              </se:Mark>
              <se:Size>%[6]g</se:Size>
            </se:Graphic>
          </se:PointSymbolizer>
        </se:Rule>
`, r.title, filter, r.shape, r.fill, r.ink, r.size)
}
