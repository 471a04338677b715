package fidelity

import (
	"fmt"
	"math"

	"plinth/archetypes"
	"plinth/hazard"
	"plinth/hazard/motion"
	"plinth/retrofit/demand"
	"plinth/retrofit/history"
)

// Grid is a set of buildings, every combination of its values, with the design of each measure.
// Intensity affects only isolators, since the strength ratio is given, so the two vary
// together. All buildings have the regular profile.
type Grid struct {
	Name           string
	Storeys        []int
	Stiff          []Stiffness
	StrengthRatios []float64 // of the spectral demand as it stands
	Grounds        []hazard.SiteClass
	Intensities    []float64 // g, ag of EN 1998-1, paired with the strength ratios
	Motion         motion.Settings
	Designs        []Design // used in rotation
	Every          int      // keeps one building in n; 0 for all
}

// Stiffness gives the period of a building from its height, with its hysteresis and profile.
//
//	T1 = C (3.2 N)^0.8
type Stiffness struct {
	C         float64 // s/m^0.8
	Degrading float64
	Profile   archetypes.Profile
	Hardened  float64 // largest resistance over strength; 0 for no limit
}

// Design is the size of each measure.
type Design struct {
	Strengthen float64    // factor on strength
	Viscous    float64    // added damping, linear and nonlinear
	Alpha      float64    // exponent of the nonlinear ones
	Yielding   [2]float64 // stiffness and force of devices over those of the storey
	TunedMass  float64    // over the mass of the first mode
	LeadRubber [3]float64 // Qd/W, period past yield in s, K1/K2
	Slider     [3]float64 // friction, period in s, displacement before sliding in m
}

// Fit returns the grid on which constants may be tuned.
func Fit() Grid {
	return Grid{
		Name: "fit", Storeys: []int{1, 3, 5, 8, 12, 20},
		Stiff: []Stiffness{{C: 0.04}, {C: 0.04, Degrading: 1, Hardened: 1.25}, {C: 0.075},
			{C: 0.075, Degrading: 1, Hardened: 1.1}, {0.055, 1, archetypes.WeakGround, 1.1},
			{0.06, 0, archetypes.SetBack, 0}},
		StrengthRatios: []float64{0.6, 0.9, 1.3, 1.6, 2.2, 3, 4.5, 7},
		Grounds:        []hazard.SiteClass{'A', 'C'}, Intensities: []float64{0.2, 0.4},
		Motion: settings(101),
		Designs: []Design{{
			Strengthen: 1.5, Viscous: 0.15, Alpha: 0.5, Yielding: [2]float64{1, 0.4}, TunedMass: 0.05,
			LeadRubber: [3]float64{0.06, 2.8, 10}, Slider: [3]float64{0.06, 3, 0.001},
		}, {
			Strengthen: 1.3, Viscous: 0.10, Alpha: 0.35, Yielding: [2]float64{0.6, 0.25}, TunedMass: 0.03,
			LeadRubber: [3]float64{0.045, 2.4, 10}, Slider: [3]float64{0.04, 3.8, 0.001},
		}, {
			Strengthen: 2, Viscous: 0.25, Alpha: 0.7, Yielding: [2]float64{2.5, 0.8}, TunedMass: 0.08,
			LeadRubber: [3]float64{0.08, 3.2, 8}, Slider: [3]float64{0.08, 2.6, 0.001},
		}},
	}
}

// Validation returns the grid that judges the method.
func Validation() Grid {
	return Grid{
		Name: "validation", Storeys: []int{1, 2, 4, 6, 10, 15, 20},
		Stiff:          []Stiffness{{C: 0.05}, {C: 0.065, Degrading: 1, Hardened: 1.25}},
		StrengthRatios: []float64{0.5, 0.8, 1.2, 1.8, 2.5, 3.5, 5, 6.5},
		Grounds:        []hazard.SiteClass{'B', 'D'}, Intensities: []float64{0.15, 0.3},
		Motion: settings(202),
		Designs: []Design{{
			Strengthen: 1.7, Viscous: 0.20, Alpha: 0.4, Yielding: [2]float64{1.5, 0.5}, TunedMass: 0.04,
			LeadRubber: [3]float64{0.05, 2.5, 10}, Slider: [3]float64{0.05, 3.5, 0.001},
		}},
	}
}

// Irregular returns a grid of buildings with a weak ground storey or a set-back, reported
// separately.
func Irregular() Grid {
	g := Validation()
	g.Name, g.Motion = "irregular", settings(303)
	g.Storeys, g.StrengthRatios = []int{3, 7, 12}, []float64{0.8, 1.5, 3, 6}
	g.Stiff = []Stiffness{{0.05, 1, archetypes.WeakGround, 1.1}, {0.07, 0, archetypes.WeakGround, 0},
		{0.05, 0, archetypes.SetBack, 0}, {0.07, 1, archetypes.SetBack, 1.25}}
	return g
}

func settings(seed uint64) motion.Settings {
	s := motion.DefaultSettings()
	s.Seed = seed
	return s
}

// A Case is one building of a grid under one spectrum.
type Case struct {
	N             int
	Stick         archetypes.Stick
	Spectrum      hazard.Spectrum
	Ground        hazard.SiteClass
	StrengthRatio float64
	Devices       [history.Kinds]history.Device
}

// Cases returns every building of g.
func (g *Grid) Cases() ([]Case, error) {
	var out []Case
	seen := 0
	for _, ground := range g.Grounds {
		for j, n := range g.Storeys {
			for l, s := range g.Stiff {
				for i, r := range g.StrengthRatios {
					if seen++; (seen-1)%max(1, g.Every) != 0 {
						continue
					}
					c := Case{N: n, Ground: ground, StrengthRatio: r}
					ag := g.Intensities[i%len(g.Intensities)]
					if err := hazard.Eurocode8Type1.Elastic(&c.Spectrum, ground, ag); err != nil {
						return nil, err
					}
					g.build(&c, s, &g.Designs[(i+j+l)%len(g.Designs)])
					out = append(out, c)
				}
			}
		}
	}
	return out, nil
}

// dampings returns the damping of buildings of each height, in percent.
func (g *Grid) dampings() (out []string) {
	for _, n := range g.Storeys {
		out = append(out, fmt.Sprintf("%.1f %%", 100*archetypes.BuildingDamping(storeyHeight*float64(n))))
	}
	return out
}

// The floors of the buildings of a grid. Ratios do not depend on the mass.
const (
	massPerFloor = 2e5 // kg
	storeyHeight = 3.2 // m
)

// build makes the stick of c with the strength of its strength ratio, and its devices.
func (g *Grid) build(c *Case, s Stiffness, d *Design) {
	n := float64(c.N)
	a := archetypes.Archetype{
		Storeys: c.N, Height: storeyHeight * n, Weight: massPerFloor * n * hazard.Gravity,
		Period: s.C * math.Pow(storeyHeight*n, 0.8), StrengthRatio: 1e-6, PostYield: 0.03,
		Damping:  archetypes.BuildingDamping(storeyHeight * n),
		Hardened: s.Hardened, Degrading: s.Degrading, Profile: s.Profile,
	}
	a.Build(&c.Stick)
	var w demand.Work
	var r demand.Response
	w.AsIs(&c.Stick, &c.Spectrum, &r) // so weak that it yields: mu decreases with strength
	a.StrengthRatio *= r.Ductility / c.StrengthRatio
	a.Build(&c.Stick)
	c.Devices = d.devices(&c.Stick, &c.Spectrum)
}

// devices returns every measure for st, first nil for the building as it stands.
func (d *Design) devices(st *archetypes.Stick, sp *hazard.Spectrum) (out [history.Kinds]history.Device) {
	n := st.N()
	var strong demand.Strengthening
	strong.Scale(st, d.Strengthen)
	yielding := demand.Yielding{Stiffness: make([]float64, n), Force: make([]float64, n)}
	total := 0.0
	for i := range n {
		yielding.Stiffness[i], yielding.Force[i] = d.Yielding[0]*st.Stiffness[i], d.Yielding[1]*st.Strength[i]
		total += st.Mass[i]
	}
	t := st.Modes.Period[0] / (2 * math.Pi)
	roof := st.Modes.Gamma[0] * sp.Sa(st.Modes.Period[0]) * hazard.Gravity * t * t
	base := st.Mass[0]
	mass := total + base
	isolators := func(kind demand.IsolatorKind, v [3]float64) demand.Isolation {
		w := 2 * math.Pi / v[1]
		return demand.Isolation{
			Kind: kind, Qd: v[0] * mass * hazard.Gravity, K2: mass * w * w,
			BaseMass: base, Reduction: hazard.ReductionIsolation,
		}
	}
	lead, slider := isolators(demand.LeadRubber, d.LeadRubber), isolators(demand.Slider, d.Slider)
	lead.K1 = d.LeadRubber[2] * lead.K2
	slider.K1 = slider.K2 + slider.Qd/d.Slider[2]
	out[history.Strengthened] = strong
	out[history.Yielding] = yielding
	out[history.ViscousLinear] = demand.Viscous{Alpha: 1, Damping: d.Viscous}
	out[history.ViscousNonlinear] = demand.Viscous{Alpha: d.Alpha, Damping: d.Viscous, ReferenceRoof: roof}
	out[history.TunedMass] = demand.TunedMass{Mass: d.TunedMass * st.ModalMass()}
	out[history.LeadRubber] = lead
	out[history.Slider] = slider
	return out
}
