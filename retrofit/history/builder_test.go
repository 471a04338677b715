package history

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/hazard"
	"plinth/retrofit/demand"
)

// A device gives the same model by value and by reference, of its own kind, and every kind has
// a device.
func TestEveryKindHasItsDevice(t *testing.T) {
	st := frameOf(t, 2, 0.5, 0.2, 0)
	isolation := demand.Isolation{Qd: 1e5, K1: 1e7, K2: 1e6, BaseMass: st.Mass[0],
		Reduction: hazard.ReductionIsolation}
	slider := isolation
	slider.Kind = demand.Slider
	var strong demand.Strengthening
	strong.Scale(st, 1.5)
	yielding := demand.Yielding{Stiffness: st.Stiffness, Force: st.Strength}
	linear, power := demand.Viscous{Alpha: 1, Damping: 0.1},
		demand.Viscous{Alpha: 0.5, Damping: 0.1, ReferenceRoof: 0.1}
	mass := demand.TunedMass{Mass: 0.05 * st.ModalMass()}
	for k, pair := range [Kinds][2]Device{
		AsIs: {nil, nil}, Strengthened: {strong, &strong}, Yielding: {yielding, &yielding},
		ViscousLinear:    {linear, &linear},
		ViscousNonlinear: {power, &power}, TunedMass: {mass, &mass}, LeadRubber: {isolation, &isolation},
		Slider: {slider, &slider},
	} {
		a, err := New(st, pair[0], Options{})
		require.NoError(t, err, k)
		b, err := New(st, pair[1], Options{})
		require.NoError(t, err, k)
		assert.Equal(t, Kind(k), a.Kind())
		assert.Equal(t, a, b, Kind(k).String())
	}
}
