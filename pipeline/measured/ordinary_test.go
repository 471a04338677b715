package measured

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/pipeline/inventory"
)

// structureNamed returns a structure of the folder.
func structureNamed(t *testing.T, id string) *structure {
	t.Helper()
	all := comparison(t).buildings.structures
	i := slices.IndexFunc(all, func(s structure) bool { return s.id == id })
	require.GreaterOrEqual(t, i, 0, id)
	return &all[i]
}

// TestTheOrdinaryWay: what the tables of the folder know of a structure arrives in the
// assessment as given, its foot motion as the shaking of the design level.
func TestTheOrdinaryWay(t *testing.T) {
	s := structureNamed(t, "olive-view-1994")
	j := job{region: "us-west", zone: "4", measure: "strengthen", design: eventLevel, periods: periods,
		levels: []level{{eventLevel, firm(s.pga)}, {codeLevel, code()}}, building: register(s)}
	run, a, err := j.assess()
	require.NoError(t, err)
	b := a.Building
	given := []any{b.ID, b.Year, b.Storeys, b.System.String()}
	assert.Equal(t, []any{"olive-view-1994", 1986, 6, "concrete-wall"}, given)
	assert.Equal(t, inventory.Given, b.Origin[inventory.Storeys])
	sp := &a.Site.Spectra[run.Design()]
	assert.InDelta(t, 0.82, sp.PGA, 1e-6)
	assert.InDelta(t, 2.5*0.82, sp.Sa(0.3), 1e-6)
	assert.InDelta(t, 1.25*0.82, sp.Sa(1), 1e-6)
}

// TestSpectrumOfTheRecord: the spectrum of the ground channel that the README of the folder
// prints to three digits, and the peak that structures.csv has. The printed one is of the
// record before every second sample was dropped, hence 4 % at short periods.
func TestSpectrumOfTheRecord(t *testing.T) {
	s := structureNamed(t, "market-575-1989")
	r, err := readRecord(folder, s.record)
	require.NoError(t, err)
	assert.InDelta(t, s.pga, r.PGA(), 0.0006)
	assert.InDelta(t, 0.02, r.Step, 1e-9)
	for period, want := range map[float64]float64{
		0.1: 0.154, 0.2: 0.240, 0.3: 0.251, 0.5: 0.228, 0.75: 0.432, 1: 0.479,
		1.5: 0.151, 2: 0.074, 3: 0.042, 4: 0.019, 5: 0.011, 6: 0.012,
	} {
		assert.InDelta(t, want, r.Sa(period, 0.05), 0.0006+0.04*want, "%g s", period)
	}
}

// TestShapes: the corners of the generic shape and of what is designed for; SDS 1.0 and
// SD1 0.6 are two thirds of the latter (ASCE 7-16 11.4.5).
func TestShapes(t *testing.T) {
	s := firm(0.4)
	at := func(s spectrum, period float64) float64 { return s.sa[slices.Index(periods, period)] }
	for period, want := range map[float64]float64{0.05: 0.7, 0.1: 1, 0.5: 1, 1: 0.5, 2: 0.25} {
		assert.InDelta(t, want, at(s, period), 1e-12, "%g s", period)
	}
	assert.InDelta(t, 1.0, at(code(), 0.3)*2/3, 1e-12)
	assert.InDelta(t, 0.6, at(code(), 1)*2/3, 1e-12)
}

// TestStatesAreThoseOfTheRun: the probabilities rise with shaking, fall from state to state,
// and one curve through them is as near as the page needs: 3 % of probability.
func TestStatesAreThoseOfTheRun(t *testing.T) {
	for _, s := range comparison(t).damage.stocks {
		require.Len(t, s.states, len(shakings))
		for i, p := range s.states {
			assert.True(t, p[0] >= p[1] && p[1] >= p[2] && p[2] >= p[collapsed], "%v", p)
			for j := range p {
				if i > 0 {
					assert.Greater(t, p[j], s.states[i-1][j])
				}
				if j == int(collapsed) {
					continue
				}
				// A lognormal curve fits states that end where drift counts as collapse within 0.07.
				assert.InDelta(t, p[j], s.grades[j].program.at(shakings[i]), 0.07, "%s at %g g", s.name(), shakings[i])
			}
		}
	}
}

// TestDirectionsAreOneBuilding: two values of one structure count once, by the geometric
// mean of their ratios.
func TestDirectionsAreOneBuilding(t *testing.T) {
	a, b := &structure{id: "a", basis: "seen"}, &structure{id: "b", basis: "seen"}
	of := func(s *structure, predicted float64) compared {
		v := value{structure: s, quantity: smallPeriod, measured: 1, basis: "seen"}
		return compared{value: v, predicted: predicted}
	}
	all := &buildings{values: []compared{of(a, 2), of(a, 0.5), of(b, 4)}}
	values, m := all.summary(&kinds[1], true)
	assert.Equal(t, 3, values)
	assert.Equal(t, 2, m.n)
	assert.InDelta(t, math.Sqrt(1*4), m.mean, 1e-12)
}

// TestLevelsAreFloors: level 42 of 42 is the roof, level 21 the middle.
func TestLevelsAreFloors(t *testing.T) {
	for level, want := range map[string]int{"42": 39, "21": 19, "1": 0} {
		i, ok := floor(&value{level: level}, 40)
		assert.True(t, ok)
		assert.Equal(t, want, i)
	}
	_, ok := floor(&value{level: "42, 135 degrees"}, 40)
	assert.False(t, ok)
}
