package history

import (
	"errors"
	"fmt"
	"math"

	"plinth/archetypes"
	"plinth/retrofit/demand"
)

// Device is the device on a stick; nil means as it stands.
type Device = demand.Device

// Options are effects in a model. The spectral demand has P-delta always, the others never.
type Options struct {
	PDelta   bool    // the weight above a storey pushes it further
	Friction Rate    // of sliders, against velocity; zero for constant friction
	Collapse float64 // storey drift over height taken as collapse; 0 for demand.CollapseRatio
}

// Rate makes the friction of sliders grow with velocity, from Slow times its full value at
// rest.
//
//	mu = mu_fast (1 - (1 - Slow) exp(-Per v))
//
// Constantinou, Mokha and Reinhorn 1990, Journal of Structural Engineering 116:455
// (from memory).
type Rate struct {
	Slow float64 // friction at rest over that at speed, 0 to 1
	Per  float64 // s/m; 0 for no dependence
}

// isolatedDamping is the damping of the first mode of a frame above isolators, a
// fraction of critical (ASCE 7-16 Table 17.5-1 first row). On a fixed base modes 1 and 3
// have the damping of the stick.
const isolatedDamping = 0.02

// ErrDevice is returned for a device that cannot act on a stick.
var ErrDevice = errors.New("history: device cannot act on this building")

// A link joins a degree of freedom to the one below it, the first to the ground. It
// holds the mass of the upper one.
type link struct {
	main        law
	mass        float64 // kg
	lightness   float64 // 1/kg
	massDamping float64 // 1/s, inherent
	tangent     float64 // s, coefficient of damping by the tangent stiffness of main
	dashpot     float64 // N s/m, constant inherent damping
	damper      damper
	geometric   float64 // N/m, weight above over height
	device      law
	limit       float64 // m, drift at collapse
}

// Model is a stick with a device, ready to run. It is read only.
type Model struct {
	kind     Kind
	links    []link // lowest first
	first    int    // degree of freedom of the lowest floor: 1 above isolators
	floors   int
	height   []float64
	period   float64 // s, for the length of free vibration
	implicit bool
	longest  float64 // s, longest step
}

// New returns the model of st with a device.
//
// On a fixed base the frame has Rayleigh damping of 5 % in modes 1 and 3 (the last if there are
// fewer) on its tangent stiffness. Above isolators it has only dashpots across its storeys,
// proportional to stiffness, of 2 % in its first mode: damping by the stiffness of the
// isolators would hold them back. Devices have no other damping than their own. Isolators have
// nominal properties.
//
// An invalid stick or device gives ErrDevice.
func New(st *archetypes.Stick, d Device, o Options) (*Model, error) {
	if err := validate(st); err != nil {
		return nil, err
	}
	if o.Collapse == 0 {
		o.Collapse = demand.CollapseRatio(st)
	}
	if !(o.Collapse > 0) || !(o.Friction.Slow >= 0 && o.Friction.Slow <= 1) || !(o.Friction.Per >= 0) {
		return nil, fmt.Errorf("%w: options %+v", ErrDevice, o)
	}
	b := &builder{&Model{}, st, o}
	if d == nil {
		b.frame(AsIs)
	} else if err := d.Attach(b); err != nil {
		return nil, err
	}
	b.m.longest = b.m.step()
	return b.m, nil
}

// Kind returns the kind of the model's measure.
func (m *Model) Kind() Kind { return m.kind }

// validate returns an error for an invalid stick.
func validate(st *archetypes.Stick) error {
	n := st.N()
	if n == 0 || len(st.Stiffness) != n || len(st.Strength) != n || len(st.Height) != n ||
		st.Modes.Count < 1 {
		panic("history: a stick needs one value a storey and its modes")
	}
	for i := range n {
		if !positive(st.Mass[i]) || !positive(st.Stiffness[i]) || !positive(st.Strength[i]) ||
			!positive(st.Height[i]) {
			return fmt.Errorf("%w: storey %d has mass %g, stiffness %g, strength %g and height %g, which "+
				"must be positive", ErrDevice, i+1, st.Mass[i], st.Stiffness[i], st.Strength[i], st.Height[i])
		}
	}
	if !positive(st.Modes.Period[0]) || !(st.PostYield >= 0 && st.PostYield < 1) {
		return fmt.Errorf("%w: period %g s and post-yield ratio %g", ErrDevice, st.Modes.Period[0],
			st.PostYield)
	}
	return nil
}

// positive reports whether x is a finite number above 0.
func positive(x float64) bool { return x > 0 && x <= math.MaxFloat64 }

// add adds a link and its mass in kg on top.
func (m *Model) add(l link, mass float64) {
	l.mass, l.lightness = mass, 1/mass
	m.links = append(m.links, l)
}

// storeys appends the storeys and floors of st.
func (m *Model) storeys(st *archetypes.Stick, o Options) {
	above := 0.0
	for _, w := range st.Mass {
		above += w
	}
	for i, k := range st.Stiffness {
		l := link{main: bilinear(k, st.Strength[i], st.PostYield), limit: o.Collapse * st.Height[i]}
		l.main.degrading, l.main.most = st.Degrading >= 0.5, st.Hardened*st.Strength[i]
		if o.PDelta {
			l.geometric = above * gravity / st.Height[i]
		}
		m.add(l, st.Mass[i])
		above -= st.Mass[i]
	}
}

// frame builds the frame of st on a fixed base.
//
//	C = a0 M + a1 Kt,  a0 = 2 b w1 w3/(w1 + w3),  a1 = 2 b/(w1 + w3)
//
// Chopra, Dynamics of Structures, 11.4.
func (m *Model) frame(st *archetypes.Stick, o Options) {
	m.storeys(st, o)
	w1 := 2 * math.Pi / st.Modes.Period[0]
	w3 := 2 * math.Pi / st.Modes.Period[st.Modes.Count-1]
	for i := range m.links {
		m.links[i].massDamping = 2 * st.DampingRatio() * w1 * w3 / (w1 + w3)
		m.links[i].tangent = 2 * st.DampingRatio() / (w1 + w3)
	}
}

// isolate builds the frame of st above isolators.
func (m *Model) isolate(st *archetypes.Stick, d demand.Isolation, o Options) error {
	if !positive(d.Qd) || !positive(d.K2) || !positive(d.K1) || !(d.K1 > d.K2) || !positive(d.BaseMass) {
		return fmt.Errorf("%w: isolators of strength %g N, stiffness %g and %g N/m under a slab of %g kg",
			ErrDevice, d.Qd, d.K1, d.K2, d.BaseMass)
	}
	total := d.BaseMass
	for _, w := range st.Mass {
		total += w
	}
	l := link{main: law{k: d.K1, r: d.K2, q: d.Qd}, limit: math.Inf(1)}
	if d.Kind == demand.Slider && o.Friction.Per > 0 {
		l.main.slow, l.main.rate = d.Qd*o.Friction.Slow, o.Friction.Per
	}
	m.add(l, d.BaseMass)
	m.first = 1
	m.storeys(st, o)
	for i := 1; i < len(m.links); i++ {
		m.links[i].dashpot = isolatedDamping / math.Pi * st.Modes.Period[0] * m.links[i].main.k
	}
	m.period = 2 * math.Pi * math.Sqrt(total/d.K2)
	return nil
}

// strengthened returns st with the storeys of s and their modes.
func strengthened(st *archetypes.Stick, s demand.Strengthening) (*archetypes.Stick, error) {
	if len(s.Stiffness) != st.N() || len(s.Strength) != st.N() {
		panic("history: strengthening needs one value a storey")
	}
	out := *st
	out.Stiffness, out.Strength = s.Stiffness, s.Strength
	modes, err := archetypes.ChainModes(st.Mass, s.Stiffness)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrDevice, err)
	}
	out.Modes = modes
	return &out, validate(&out)
}
