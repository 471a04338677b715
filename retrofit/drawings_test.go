package retrofit

import (
	"fmt"
	"math"
	"math/cmplx"
	"testing"

	"plinth/retrofit/demand"
)

// The drawings of docs/measures, by file name. None is to scale.
var drawings = map[string]func() *drawing{
	"lead-rubber.svg":            drawLeadRubber,
	"slider.svg":                 drawSlider,
	"viscous.svg":                drawViscous,
	"yielding.svg":               drawYielding,
	"tuned-mass.svg":             drawTunedMass,
	"strengthen.svg":             drawStrengthen,
	"strengthen-viscous.svg":     drawStrengthenViscous,
	"lead-rubber-strengthen.svg": drawLeadRubberStrengthen,
}

func TestPagesHaveDrawings(t *testing.T) {
	for name, draw := range drawings {
		checkFile(t, name, draw().bytes())
	}
}

const isolatedFoot = groundLine - 8 // underside of the slab above isolators

// isolated draws a building on isolators in its pit, with the moat around it.
func isolated(title, moat string, device func(d *drawing, x, y float64)) *drawing {
	d := newDrawing(title)
	const pit = isolatedFoot + 46
	d.ground(20, left-48, groundLine-16)
	d.ground(right+48, 452, groundLine-16)
	for _, x := range []float64{left - 48, right + 40} {
		d.rect(x, groundLine-16, 8, pit-groundLine+16, "#d7dce1", inkFrame)
	}
	d.rect(left-48, pit, right-left+96, 12, "#d7dce1", inkFrame)
	for x := left - 40; x < right+48; x += 12 {
		d.line(x, pit+14, x-7, pit+22, 1, inkSoil)
	}
	d.frame(isolatedFoot)
	d.rect(left-16, isolatedFoot, right-left+32, 12, inkPale, inkNew)
	for i := range bays + 1 {
		device(d, columnX(i), isolatedFoot+12)
	}
	d.both(right+16, right+40, isolatedFoot+6)
	d.label(right+36, isolatedFoot-50, "start", moat, right+28, isolatedFoot+2)
	d.label(40, pit+54, "above", "cut below the lowest floor, an isolator under each column", columnX(0),
		isolatedFoot+30)
	d.label(78, isolatedFoot-50, "end", "new slab", left-10, isolatedFoot+5)
	return d
}

// bearing draws a small lead-rubber bearing hanging from y, 34 high.
func bearing(d *drawing, x, y float64) {
	d.rect(x-13, y, 26, 34, inkPale, inkNew)
	for k := 1; k < 5; k++ {
		d.line(x-13, y+float64(k)*34/5, x+13, y+float64(k)*34/5, 1, inkNew)
	}
	d.rect(x-3, y, 6, 34, inkNew, inkNew)
}

func drawLeadRubber() *drawing {
	d := isolated("Isolation on lead-rubber bearings", "moat", bearing)
	d.detail("A bearing, displaced and cut")
	const x, y, w, layers, shift = detailX + 20, 150.0, 150.0, 9, 40.0
	const h = 13.0
	d.rect(x-16+shift, y-14, w+32, 14, inkFrame, inkFrame)
	for k := range layers {
		off := shift * (1 - float64(k)/layers)
		next := shift * (1 - float64(k+1)/layers)
		top := y + float64(k)*h
		d.path(fmt.Sprintf("M%.1f %.1f H%.1f L%.1f %.1f H%.1f Z", x+off, top, x+off+w, x+next+w, top+h,
			x+next), inkPale, inkNew, 1)
		d.path(fmt.Sprintf("M%.1f %.1f H%.1f L%.1f %.1f H%.1f Z", x+off+w/2-17, top, x+off+w/2+17,
			x+next+w/2+17, top+h, x+next+w/2-17), inkNew, inkNew, 0.5)
		d.line(x+next, top+h, x+next+w, top+h, 2, inkFrame)
	}
	bottom := y + layers*h
	d.rect(x-16, bottom, w+32, 14, inkFrame, inkFrame)
	d.dashed(x, y-34, x, bottom, inkText)
	d.dashed(x+shift, y-34, x+shift, y-14, inkText)
	d.both(x, x+shift, y-28)
	d.text(x+shift+8, y-24, 13, "start", "normal", "D")
	d.label(detailX+60, 314, "above", "lead core: strength Qd", x+w/2+8, y+layers*h-18)
	d.label(detailX-4, 342, "start", "rubber with steel sheets: stiffness Kd", x+20, y+layers*h-14)
	d.text(detailX-4, 372, 13, "start", "normal", "force at D: Qd + Kd D")
	return d
}

func slider(d *drawing, x, y float64) {
	d.path(fmt.Sprintf("M%.1f %.1f h32 v10 q-16 -8 -32 0 z", x-16, y), inkPale, inkNew, 1.2)
	d.path(fmt.Sprintf("M%.1f %.1f h32 v-10 q-16 8 -32 0 z", x-16, y+34), inkPale, inkNew, 1.2)
	d.path(fmt.Sprintf("M%.1f %.1f q9 -5 18 0 v20 q-9 5 -18 0 z", x-9, y+7), inkNew, inkNew, 1)
}

func drawSlider() *drawing {
	d := isolated("Isolation on curved-surface sliders", "moat", slider)
	d.detail("A slider, displaced and cut")
	const cx, top, r = detailX + 110, 110.0, 190.0
	// The dish is an arc of radius r about (cx, top); the slider stands at angle a on it.
	const half, a = 0.50, 0.24
	x1, y1 := cx-r*math.Sin(half), top+r*math.Cos(half)
	d.path(fmt.Sprintf("M%.1f %.1f A%.0f %.0f 0 0 0 %.1f %.1f V%.1f H%.1f Z", x1, y1, r, r, 2*cx-x1, y1,
		top+r+16, x1), inkPale, inkNew, 1.6)
	sx, sy := cx+r*math.Sin(a), top+r*math.Cos(a)
	fmt.Fprintf(&d.out, `<g transform="rotate(%.2f %.1f %.1f)">`+"\n", -a*180/math.Pi, sx, sy)
	d.rect(sx-22, sy-24, 44, 23, inkNew, inkNew)
	d.out.WriteString("</g>\n")
	d.path(fmt.Sprintf("M%.1f %.1f a20 20 0 0 1 34 0 z", sx-22, sy-24), inkFrame, inkFrame, 1)
	d.rect(sx-48, sy-56, 96, 15, inkFrame, inkFrame)
	d.dashed(cx, top, cx, top+r, inkText)
	d.dashed(cx, top, sx, sy-56, inkText)
	d.circle(cx, top, 2.5, inkText, inkText)
	d.text(cx-12, top+80, 13, "end", "normal", "radius R")
	d.label(detailX-4, 346, "start", "dish: stiffness Kd = W/R", cx-62, top+r-4)
	d.label(sx-12, 372, "above", "", sx, sy-4)
	d.text(detailX-12, 372, 13, "start", "normal", "sliding face: strength Qd = friction x W")
	return d
}

// onFixedBase draws a building on its footings.
func onFixedBase(title string) *drawing {
	d := newDrawing(title)
	d.ground(20, 452, groundLine)
	d.footings(groundLine)
	d.frame(groundLine)
	return d
}

// braced calls device for the ends of a brace in bay i, storey by storey: foot and
// top in turn of direction.
func braced(i int, device func(x1, y1, x2, y2 float64)) {
	for j := range floorsDrawn {
		y := groundLine - float64(j)*storey
		x1, x2 := columnX(i)+4, columnX(i+1)-4
		if j%2 == 1 {
			x1, x2 = x2, x1
		}
		device(x1, y-5, x2, y-storey+5)
	}
}

// along draws with the x axis from (x1, y1) to (x2, y2), and passes the length.
func (d *drawing) along(x1, y1, x2, y2 float64, body func(length float64)) {
	fmt.Fprintf(&d.out, `<g transform="translate(%.1f %.1f) rotate(%.2f)">`+"\n", x1, y1,
		math.Atan2(y2-y1, x2-x1)*180/math.Pi)
	body(math.Hypot(x2-x1, y2-y1))
	d.out.WriteString("</g>\n")
}

// damper draws a fluid damper in a brace.
func (d *drawing) damper(x1, y1, x2, y2 float64) {
	d.along(x1, y1, x2, y2, func(l float64) {
		d.line(0, 0, l*0.30, 0, 2.4, inkNew)
		d.rect(l*0.30, -6, l*0.34, 12, inkPale, inkNew)
		d.line(l*0.48, -4, l*0.48, 4, 2.4, inkNew)
		d.line(l*0.48, 0, l, 0, 2.4, inkNew)
	})
}

func drawViscous() *drawing {
	d := onFixedBase("Added viscous dampers")
	braced(0, d.damper)
	braced(2, d.damper)
	d.label(40, 392, "above", "dampers in braces, in both directions", columnX(0)+46, groundLine-26)
	d.label(440, 414, "end", "columns and footings carry their forces", columnX(3)+6, groundLine+8)
	d.detail("A damper, cut")
	const x, y = detailX + 10, 190.0
	d.line(x-24, y, x+30, y, 7, inkFrame)
	d.rect(x+30, y-30, 130, 60, inkPale, inkNew)
	d.rect(x+84, y-27, 14, 54, inkNew, inkNew)
	d.line(x+98, y, x+226, y, 7, inkFrame)
	for _, dy := range []float64{-16, 16} {
		d.path(fmt.Sprintf("M%.1f %.1f h-34 m0 0 l7 -3 v6 z", x+112, y+dy), "none", inkText, 1)
	}
	d.both(x+172, x+214, y-20)
	d.text(x+193, y-28, 13, "middle", "normal", "v")
	d.label(detailX-4, 272, "start", "oil pressed through the piston", x+72, y+16)
	d.text(detailX-4, 300, 13, "start", "normal", "force = C v^alpha")
	d.text(detailX-4, 322, 13, "start", "normal", "alpha = 1: linear")
	d.text(detailX-4, 344, 13, "start", "normal", "alpha &lt; 1: the force grows less than v")
	d.text(detailX-4, 366, 13, "start", "normal", "most force when the storey is fastest,")
	d.text(detailX-4, 382, 13, "start", "normal", "not when it has drifted most")
	return d
}

func drawYielding() *drawing {
	d := onFixedBase("Added yielding devices")
	brace := func(x1, y1, x2, y2 float64) {
		d.along(x1, y1, x2, y2, func(l float64) {
			d.line(0, 0, l, 0, 2.4, inkNew)
			d.rect(l*0.16, -5, l*0.68, 10, inkPale, inkNew)
			d.line(l*0.16, 0, l*0.84, 0, 2.4, inkNew)
		})
	}
	braced(0, brace)
	braced(2, brace)
	d.label(40, 392, "above", "braces that yield before the frame", columnX(0)+46, groundLine-26)
	d.label(440, 414, "end", "stiffer storeys: more force at the foot", columnX(3)+6, groundLine+8)
	d.detail("A device and its loop")
	const x, y = detailX, 128.0
	d.rect(x+40, y-18, 150, 36, "#e4e8ec", inkFrame)
	d.path(fmt.Sprintf("M%.1f %.1f h34 l10 -4 h142 l10 4 h34 v16 h-34 l-10 4 h-142 l-10 -4 h-34 z", x, y-8),
		inkNew, inkNew, 1)
	d.text(x+115, y+38, 13, "middle", "normal", "steel core in a sleeve that stops buckling")
	const ox, oy, u, v = detailX + 112, 278.0, 84.0, 60.0
	d.line(ox-u-16, oy, ox+u+16, oy, 1, inkText)
	d.line(ox, oy+v+18, ox, oy-v-18, 1, inkText)
	d.path(fmt.Sprintf("M%.1f %.1f L%.1f %.1f H%.1f L%.1f %.1f H%.1f Z", ox-u, oy+v, ox-u+2*36, oy-v, ox+u,
		ox+u-2*36, oy+v, ox-u), inkPale, inkNew, 2)
	d.line(ox-u-16, oy, ox+u+16, oy, 0.8, inkText)
	d.line(ox, oy+v+18, ox, oy-v-18, 0.8, inkText)
	d.text(ox+6, oy-v-22, 13, "start", "normal", "force")
	d.text(ox+u+20, oy+16, 13, "end", "normal", "drift")
	d.text(ox-20, oy-v+4, 13, "end", "normal", "Fd")
	d.text(detailX-4, 372, 13, "start", "normal", "the area is the energy of one cycle")
	return d
}

func drawTunedMass() *drawing {
	d := onFixedBase("A tuned mass on the roof")
	roof := groundLine - floorsDrawn*storey
	const mid = (left + right) / 2
	d.rect(mid-44, roof-38, 88, 28, inkPale, inkNew)
	d.text(mid, roof-19, 13, "middle", "normal", "mass m")
	for _, x := range []float64{mid - 26, mid + 26} {
		d.circle(x, roof-6.5, 3.2, "white", inkNew)
	}
	d.line(left+18, roof-3, left+18, roof-36, 3, inkFrame)
	d.path(fmt.Sprintf("M%.1f %.1f h8 l4 -6 l7 12 l7 -12 l7 12 l7 -12 l4 6 h%.1f", left+18, roof-31,
		mid-44-left-18-44), "none", inkNew, 1.8)
	d.line(left+18, roof-17, left+46, roof-17, 1.8, inkNew)
	d.path(fmt.Sprintf("M%.1f %.1f v-12 h-22 v12 z", left+62, roof-11), inkPale, inkNew, 1.4)
	d.line(left+50, roof-17, mid-44, roof-17, 1.8, inkNew)
	d.both(mid+50, mid+104, roof-24)
	d.text(mid+77, roof-32, 13, "middle", "normal", "stroke")
	d.label(24, 392, "above", "the frame must stay near elastic, or its period leaves that of the mass",
		columnX(0), groundLine-24)
	d.detail("What the mass adds")
	const ox, oy = detailX + 14, 300.0
	d.line(ox, oy, ox+200, oy, 1.2, inkText)
	d.line(ox, oy, ox, oy-170, 1.2, inkText)
	curve := func(ink string, width float64, f func(x float64) float64) {
		data := ""
		for i := range 101 {
			x := 0.6 + 0.8*float64(i)/100
			verb := "L"
			if i == 0 {
				verb = "M"
			}
			data += fmt.Sprintf("%s%.1f %.1f ", verb, ox+200*(x-0.6)/0.8, oy-16*f(x))
		}
		d.path(data, "none", ink, width)
	}
	tuning := demand.SadekMode(0.05, 1, 0.05)
	bare := func(x float64) float64 { return amplified(x, 0, tuning) }
	tuned := func(x float64) float64 { return amplified(x, 0.05, tuning) }
	curve(inkFrame, 1.8, bare)
	curve(inkNew, 2.2, tuned)
	d.label(ox+128, oy-150, "start", "as it stands", ox+107.5, oy-16*bare(1.03))
	d.label(ox+134, oy-84, "start", "with mass", ox+122.5, oy-16*tuned(1.09))
	d.text(ox+100, oy+18, 13, "middle", "normal", "frequency over that of the frame")
	d.text(ox-2, oy-178, 13, "start", "normal", "roof movement")
	d.text(detailX-4, 350, 13, "start", "normal", "tuned a little below the frame, with")
	d.text(detailX-4, 368, 13, "start", "normal", "damping of its own")
	return d
}

// amplified returns the roof movement of a frame of 5 % damping with a tuned mass of
// ratio mu under a harmonic base, over the static one, at frequency x over that of
// the frame (Den Hartog 1956, with damping of the frame).
func amplified(x, mu float64, t demand.Tuning) float64 {
	s := complex(0, x)
	q := complex(2*t.Damping*t.Frequency, 0)*s + complex(t.Frequency*t.Frequency, 0)
	frame := s*s + complex(2*0.05, 0)*s + 1
	return cmplx.Abs((s*s + complex(1+mu, 0)*q) / (frame*(s*s+q) + complex(mu, 0)*q*s*s))
}

// addWall draws a new wall through all storeys of bay i, from foot.
func (d *drawing) addWall(i int, foot float64) {
	for j := range floorsDrawn {
		y := foot - float64(j+1)*storey
		d.rect(columnX(i)+3, y+3, bay-6, storey-6, inkPale, inkNew)
		for k := 1.0; k < 5; k++ {
			d.line(columnX(i)+3+k*17, y+3, columnX(i)+3+k*17-14, y+storey-3, 0.8, inkNew)
		}
	}
}

func drawStrengthen() *drawing {
	d := onFixedBase("Strengthening")
	d.addWall(1, groundLine)
	d.rect(columnX(1)-22, groundLine, bay+44, 20, inkPale, inkNew)
	d.label(40, 392, "above", "new wall, tied to the floors", columnX(1)+30, groundLine-30)
	d.label(400, 392, "end", "new footing", columnX(2)+12, groundLine+12)
	d.detail("Drift falls, acceleration rises")
	const ox, oy = detailX + 14, 290.0
	d.line(ox, oy, ox+200, oy, 1.2, inkText)
	d.line(ox, oy, ox, oy-150, 1.2, inkText)
	d.path(fmt.Sprintf("M%.1f %.1f L%.1f %.1f H%.1f C%.1f %.1f %.1f %.1f %.1f %.1f", ox, oy-60, ox+22, oy-130,
		ox+70, ox+90, oy-78, ox+130, oy-48, ox+200, oy-30), "none", inkText, 1.6)
	for _, p := range []struct {
		x, y float64
		ink  string
	}{{128, 51, inkFrame}, {80, 105, inkNew}} {
		d.dashed(ox+p.x, oy, ox+p.x, oy-p.y, p.ink)
		d.circle(ox+p.x, oy-p.y, 5, p.ink, p.ink)
	}
	d.path(fmt.Sprintf("M%.1f %.1f L%.1f %.1f m0 0 l6 2 l-3 -8 z", ox+124, oy-66, ox+95, oy-98), "none",
		inkNew, 1.6)
	d.text(ox+134, oy-58, 13, "start", "normal", "as it stands")
	d.text(ox+84, oy-116, 13, "start", "normal", "stronger, stiffer")
	d.text(ox+100, oy+18, 13, "middle", "normal", "period")
	d.text(ox-2, oy-158, 13, "start", "normal", "spectral acceleration")
	d.text(detailX-4, 344, 13, "start", "normal", "a shorter period asks for more force, so")
	d.text(detailX-4, 362, 13, "start", "normal", "the demand is read anew")
	return d
}

func drawStrengthenViscous() *drawing {
	d := onFixedBase("Strengthening with viscous dampers")
	d.addWall(1, groundLine)
	d.rect(columnX(1)-22, groundLine, bay+44, 20, inkPale, inkNew)
	braced(0, d.damper)
	braced(2, d.damper)
	d.label(420, 392, "end", "wall: part of the drift", columnX(2)-10, groundLine-20)
	d.label(40, 392, "above", "dampers: the rest, calmer floors", columnX(0)+46, groundLine-26)
	d.detail("In this order")
	for i, s := range []string{
		"1  the least strength that brings demand", "   over strength to a mild target",
		"2  the least damping that then brings", "   drift to its target",
		"3  demand at every level on the stronger", "   and stiffer frame", "",
		"A stiffer frame moves less, so the dampers", "have less to work on: too much of the one",
		"wastes the other.",
	} {
		d.text(detailX-10, 124+22*float64(i), 13, "start", "normal", s)
	}
	return d
}

func drawLeadRubberStrengthen() *drawing {
	d := isolated("Isolation with strengthening", "moat", bearing)
	d.addWall(1, isolatedFoot)
	d.detail("In this order")
	for i, s := range []string{
		"1  a trial strength of the frame above", "2  the best isolation design for it",
		"3  more strength, until that design uses", "   the frame no further than it may",
		"4  demand at every level", "",
		"For a frame too weak to stay near elastic", "above isolators as it is.",
	} {
		d.text(detailX-10, 124+22*float64(i), 13, "start", "normal", s)
	}
	return d
}
