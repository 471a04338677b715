package measured

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// elementFor returns a row of elements.csv that names a limit, with other cells by pairs.
func elementFor(system, name string, cells ...string) element {
	r := row{cells: map[string]string{"limit_system": system, "limit_row": name}}
	for i := 0; i < len(cells); i += 2 {
		r.cells[cells[i]] = cells[i+1]
	}
	return elementOf(r)
}

// TestNamesOfLimits: every way in which a row of elements.csv names a limit.
func TestNamesOfLimits(t *testing.T) {
	io := limit{of: "concrete-frame-infilled", name: "drift_io", unit: "%"}
	brittle := limit{of: "concrete-frame", name: "drift_ls x " + nonDuctile, unit: "%"}
	step := limit{of: "drift-fit-out", name: "step 1", value: 0.3, unit: "%"}
	contents := limit{of: "ordinary-contents", name: "step 2", value: 1, unit: "g"}
	for _, c := range []struct {
		l    limit
		e    element
		want bool
	}{
		{io, elementFor("concrete-frame-infilled steel-frame-infilled", "drift_io"), true},
		{io, elementFor("concrete-frame-infilled", "drift_io drift_ls"), true},
		{io, elementFor("concrete-frame", "drift_io"), false},
		{io, elementFor("concrete-frame-infilled", "drift_cp"), false},
		{io, elementFor("concrete-frame-infilled", "drift_io; drift-fit-out first"), true},
		{step, elementFor("concrete-frame-infilled", "drift_io; drift-fit-out first"), true},
		{step, elementFor("concrete-frame-infilled", "drift_io; drift-fit-out second"), false},
		{brittle, elementFor("concrete-frame", "drift_ls x "+nonDuctile), true},
		{brittle, elementFor("concrete-frame", "drift_ls"), false},
		{step, elementFor("drift-fit-out", "0.003"), true},
		{step, elementFor("drift-fit-out", "0.008"), false},
		{contents, elementFor("ordinary-contents", "1.00"), true},
		{contents, elementFor("ordinary-contents", "1.00", "quantity", "floor_velocity"), false},
	} {
		assert.Equal(t, c.want, c.l.named(&c.e), "%s %s by %v", c.l.of, c.l.name, c.e.cells)
	}
}

// TestBands: a counted band is taken as it is, another is that of a lognormal.
func TestBands(t *testing.T) {
	l := limit{value: 2, unit: "%"}
	counted := elementFor("", "", "median", "1", "dispersion", "2", "p16", "0.5", "p84", "1.9")
	assert.Equal(t, above, l.place(&counted))
	lognormal := elementFor("", "", "median", "3.5", "dispersion", "0.6")
	assert.InDelta(t, 3.5*math.Exp(-0.6), lognormal.low, 1e-12)
	assert.Equal(t, within, l.place(&lognormal))
	strict := elementFor("", "", "median", "3.5", "dispersion", "0.5")
	assert.Equal(t, below, l.place(&strict))
	bare, empty := elementFor("", "", "median", "3"), elementFor("", "")
	assert.Equal(t, []string{"no band", "no median"}, []string{l.place(&bare), l.place(&empty)})
}

// TestLimitsAreThoseOfTheTables: FEMA 356 Table C1-3, from memory, as systems.csv has it:
// concrete frames 1, 2 and 4 %, with the factor 0.5 of old detailing 1 and 2 %; and collapse.
func TestLimitsAreThoseOfTheTables(t *testing.T) {
	want := map[string]float64{
		"drift_io": 1, "drift_ls": 2, "drift_cp": 4, "drift_ls x " + nonDuctile: 1, "drift_cp x " + nonDuctile: 2,
		"drift_collapse": 6.2, "drift_collapse x " + nonDuctile: 3.1,
	}
	got := map[string]float64{}
	for _, l := range systemLimits() {
		if l.of == "concrete-frame" {
			got[l.name] = l.value
		}
	}
	assert.Equal(t, want, got)
	assert.Len(t, componentLimits(), 17, "steps of components.csv")
}

// TestRulesStateTheirSite: site values are read from the words of a rule.
func TestRulesStateTheirSite(t *testing.T) {
	p := printed{row: row{cells: map[string]string{"rule": "SDS 1.0, SD1 0.6, R 8", "note": "0.125 to 0.25"}}}
	assert.Equal(t, 1.0, p.named("SDS"))
	assert.Equal(t, 0.6, p.named("SD1"))
	assert.True(t, math.IsNaN(p.named("ag")))
	require.NoError(t, p.readBand())
	assert.Equal(t, []float64{0.125, 0.25}, []float64{p.low, p.high})
	none := printed{row: row{cells: map[string]string{"rule": "Ds", "note": ""}}}
	assert.Error(t, none.readBand())
}

// TestLawsOfPeriods: 0.1 H at 10 m is 1 s; 0.016 H^0.9 with H in feet at 30 feet; 0.058 a
// storey of 3.2 m at 32 m is 0.58 s.
func TestLawsOfPeriods(t *testing.T) {
	law := func(form, c, x, unit string) *regression {
		return &regression{row: row{cells: map[string]string{"form": form, "c": c, "x": x, "height_unit": unit}}}
	}
	assert.InDelta(t, 1, law("c H", "0.1", "1", "m").at(10, 3.2), 1e-12)
	assert.InDelta(t, 0.016*math.Pow(30, 0.9), law("c H^x", "0.016", "0.9", "ft").at(30*0.3048, 3.2), 1e-12)
	assert.InDelta(t, 0.58, law("c N", "0.058", "1", "storeys").at(32, 3.2), 1e-12)
}
