package retrofit

import "image/color"

// Mark is the symbol of a measure in charts and on maps, a shape and a colour. A map whose
// colour shows something else uses the shape alone.
type Mark struct {
	Shape  Shape
	Hollow bool // drawn as an outline: the measure of that shape, combined with strengthening
	Colour color.RGBA
}

// Shape is the outline of a mark.
type Shape string

// The shapes.
const (
	Dot      Shape = "dot" // smaller than a circle
	Circle   Shape = "circle"
	Square   Shape = "square"
	Diamond  Shape = "diamond"
	Triangle Shape = "triangle"
	Plus     Shape = "plus"
	Cross    Shape = "cross"
)

// The colours of M. Okabe and K. Ito, "Color universal design" (2008), which people with any
// common colour vision can distinguish.
var (
	black       = color.RGBA{0, 0, 0, 255}
	skyBlue     = color.RGBA{86, 180, 233, 255}
	bluishGreen = color.RGBA{0, 158, 115, 255}
	blue        = color.RGBA{0, 114, 178, 255}
	vermillion  = color.RGBA{213, 94, 0, 255}
	purple      = color.RGBA{204, 121, 167, 255}
)
