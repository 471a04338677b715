package retrofit

import (
	"bytes"
	"image/color"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"

	"plinth/retrofit/demand"
)

// Lines are told apart by ink and, in print, by dashes.
var (
	chartInks   = []color.RGBA{{20, 40, 80, 255}, {180, 70, 30, 255}, {40, 120, 90, 255}}
	chartDashes = [][]vg.Length{nil, {vg.Points(6), vg.Points(2)}, {vg.Points(2), vg.Points(2)}}
)

// A curve is one line of a chart.
type curve struct {
	name string
	y    func(x float64) float64
}

// chart returns an SVG of curves over x from x0 to x1.
func chart(t *testing.T, title, label string, x0, x1, top float64, curves ...curve) []byte {
	t.Helper()
	p := plot.New()
	p.Title.Text, p.X.Label.Text, p.Y.Label.Text = title, label, "over as it stands"
	p.Title.TextStyle.Font.Size, p.Title.Padding = vg.Points(11), vg.Points(6)
	p.Legend.Top, p.Legend.Padding = true, vg.Points(3)
	p.Legend.TextStyle.Font.Size = vg.Points(9)
	grid := plotter.NewGrid()
	grid.Vertical.Color, grid.Horizontal.Color = color.Gray{225}, color.Gray{225}
	p.Add(grid)
	for i, c := range curves {
		const n = 60
		xy := make(plotter.XYs, n+1)
		for k := range xy {
			x := x0 + (x1-x0)*float64(k)/n
			xy[k] = plotter.XY{X: x, Y: c.y(x)}
		}
		l, err := plotter.NewLine(xy)
		require.NoError(t, err)
		l.Color, l.Dashes, l.Width = chartInks[i], chartDashes[i], vg.Points(1.4)
		p.Add(l)
		p.Legend.Add(c.name, l)
	}
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = x0, x1, 0, top
	canvas := vgsvg.New(16*vg.Centimeter, 9*vg.Centimeter)
	edge := vg.Points(6)
	p.Draw(draw.Crop(draw.New(canvas), edge, -2*edge, edge, -edge))
	var b bytes.Buffer
	_, err := canvas.WriteTo(&b)
	require.NoError(t, err)
	return b.Bytes()
}

// readings returns curves over a parameter: drift and floor acceleration at the design level
// over those as it stands, and a third value of the response.
func readings(c *Case, at func(x float64, r *demand.Response), third string,
	value func(r *demand.Response) float64) []curve {
	asIs := &c.AsIs[c.Design]
	var r demand.Response
	read := func(f func() float64) func(float64) float64 {
		return func(x float64) float64 {
			at(x, &r)
			return f()
		}
	}
	curves := []curve{
		{"largest drift", read(func() float64 { return r.DriftRatio / asIs.DriftRatio })},
		{"largest floor acceleration", read(func() float64 { return r.PeakAccel / asIs.PeakAccel })},
	}
	if value != nil {
		curves = append(curves, curve{third, read(func() float64 { return value(&r) })})
	}
	return curves
}

// The charts of docs/measures: demand at the design level of a hand-made building
// over the main parameter of a measure, by the spectral method. Invented buildings.
func TestPagesHaveCharts(t *testing.T) {
	var w Work
	movement := func(r *demand.Response) float64 { return r.Displacement }
	hospital, frame, steel := teachingHospital.build(t), concreteFrame.build(t), steelFrame.build(t)

	lead, slide := NewLeadRubber(DefaultLeadRubberOptions()), NewSlider(DefaultSliderOptions())
	isolate := func(m *isolating, c *Case, yieldRatio, period float64, r *demand.Response) {
		one := *m
		one.opt.Steps, one.opt.YieldRatio, one.opt.Period = 1, [2]float64{yieldRatio, yieldRatio},
			[2]float64{period, period}
		one.level(&w, c, c.Design, one.device(c, [2]float64{}), r)
	}
	checkFile(t, "lead-rubber-chart.svg", chart(t, "Stiff six-storey building, 0.36 g, Qd/W 0.06",
		"isolated period past yield, s", 1.5, 4, 1.25,
		readings(hospital, func(x float64, r *demand.Response) {
			isolate(&lead.isolating, hospital, 0.06, x, r)
		}, "isolator movement, m", movement)...))
	checkFile(t, "plane-damping-chart.svg", chart(t, "Stiff six-storey building, 0.36 g, Qd/W 0.04, 3 s",
		"damping beside the isolators, fraction of critical", 0, 0.5, 1,
		readings(hospital, func(x float64, r *demand.Response) {
			damped := lead.isolating
			damped.opt.PlaneDamping = x
			isolate(&damped, hospital, 0.04, 3, r)
		}, "isolator movement, m", movement)...))
	checkFile(t, "slider-chart.svg", chart(t, "Stiff six-storey building, 0.36 g, radius 2.2 m (3 s)",
		"friction", 0.02, 0.14, 2.2,
		readings(hospital, func(x float64, r *demand.Response) {
			isolate(&slide.isolating, hospital, x, 3, r)
		}, "isolator movement, m", movement)...))
	checkFile(t, "viscous-chart.svg", chart(t, "Concrete frame of five storeys, 0.36 g, linear dampers",
		"added damping, fraction of critical", 0, 0.4, 2.4,
		readings(frame, func(x float64, r *demand.Response) {
			w.Demand.Viscous(frame.Stick, &frame.Site.Spectra[frame.Design],
				demand.Viscous{Alpha: 1, Damping: x}, r)
		}, "base shear", func(r *demand.Response) float64 {
			return r.BaseShear / frame.AsIs[frame.Design].BaseShear
		})...))
	checkFile(t, "yielding-chart.svg",
		chart(t, "Steel frame of eight storeys, 0.24 g, devices as stiff as their storey",
			"yield force of devices over storey strength", 0.05, 1, 2.4,
			readings(steel, func(x float64, r *demand.Response) {
				w.Demand.Yielding(steel.Stick, &steel.Site.Spectra[steel.Design],
					w.devices(steel.Stick, 1, x), r)
			}, "base shear", func(r *demand.Response) float64 {
				return r.BaseShear / steel.AsIs[steel.Design].BaseShear
			})...))
	modal := steel.Stick.ModalMass()
	checkFile(t, "tuned-mass-chart.svg", chart(t, "Steel frame of eight storeys, 0.24 g",
		"tuned mass over modal mass", 0.002, 0.10, 1.4,
		readings(steel, func(x float64, r *demand.Response) {
			w.Demand.TunedMass(steel.Stick, &steel.Site.Spectra[steel.Design],
				demand.TunedMass{Mass: x * modal}, r)
		}, "part of the added damping left at 15 % mistuning",
			func(*demand.Response) float64 { return w.Demand.Trace.TunedMass.Left })...))
	strong := func(c *Case, x float64, r *demand.Response) {
		w.strengthen(c.Stick, x)
		w.Demand.AsIs(&w.stick, &c.Site.Spectra[c.Design], r)
	}
	checkFile(t, "strengthen-chart.svg", chart(t, "Stiff six-storey building, 0.36 g",
		"strength after over before", 1, 3, 3.4,
		readings(hospital, func(x float64, r *demand.Response) { strong(hospital, x, r) }, "base shear",
			func(r *demand.Response) float64 {
				return r.BaseShear / hospital.AsIs[hospital.Design].BaseShear
			})...))
	damped := readings(frame, func(x float64, r *demand.Response) {
		w.strengthen(frame.Stick, x)
		w.Demand.Viscous(&w.stick, &frame.Site.Spectra[frame.Design], demand.Viscous{Alpha: 1, Damping: 0.15},
			r)
	}, "", nil)
	alone := readings(frame, func(x float64, r *demand.Response) { strong(frame, x, r) }, "", nil)
	damped[0].name, damped[1].name = "largest drift, with 15 % damping",
		"largest floor acceleration, with 15 % damping"
	alone[1].name = "largest floor acceleration, strengthening alone"
	checkFile(t, "strengthen-viscous-chart.svg", chart(t, "Concrete frame of five storeys, 0.36 g",
		"strength after over before", 1, 3, 2.6, damped[0], damped[1], alone[1]))
	above := readings(frame, func(x float64, r *demand.Response) {
		w.strengthen(frame.Stick, x)
		var fixed demand.Response
		w.Demand.AsIs(&w.stick, &frame.Site.Spectra[frame.Design], &fixed)
		stronger := *frame
		stronger.Stick, stronger.AsIs = &w.stick, make([]demand.Response, len(frame.AsIs))
		stronger.AsIs[frame.Design] = fixed
		isolate(&lead.isolating, &stronger, 0.06, 3, r)
	}, "demand over strength of the frame above", func(r *demand.Response) float64 { return r.Ductility })
	checkFile(t, "lead-rubber-strengthen-chart.svg",
		chart(t, "Concrete frame of five storeys, 0.36 g, Qd/W 0.06, 3 s", "strength after over before", 1, 3,
			3.2, above...))
}
