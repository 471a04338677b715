package pipeline

import (
	"fmt"
	"math"
	"math/rand/v2"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"

	"plinth/archetypes"
	"plinth/hazard"
	"plinth/hazard/field"
	"plinth/pipeline/confidence"
	"plinth/pipeline/inventory"
	"plinth/pipeline/plan"
	"plinth/pipeline/sample"
	"plinth/retrofit"
	"plinth/retrofit/consequence"
	"plinth/retrofit/demand"
)

// Every legal plan, building and hazard, the extremes among them, ends in numbers: what
// is not a number has a status or a verdict that says so, and nothing panics.
func TestLegalExtremesEndInNumbers(t *testing.T) {
	p, err := plan.Load(filepath.Join(town(t, 1), sample.PlanFile))
	require.NoError(t, err)
	base, err := Open(p)
	require.NoError(t, err)
	cases := 1000
	if testing.Short() {
		cases = 50
	}
	p.Confirm.Records, p.Confirm.Measures = 2, 8
	suites, err := base.openSuites()
	require.NoError(t, err)
	assessed, histories := 0, 0
	for i := range cases {
		rt := &lot{TB: t, r: rand.New(rand.NewPCG(1, uint64(i))), number: i}
		r := legalRun(rt, base)
		b := legalBuilding(rt, r)
		if b == nil {
			continue // a reject of the register
		}
		a := r.NewAssessment()
		if err := a.Assess(b); err != nil {
			require.Nil(rt, failure(err), "%v", err)
			continue // the method does not reach so far, and says so
		}
		requireNumbers(rt, a)
		out := Outlets{nowhere{}, nowhere{}, nowhere{}, nowhere{}}
		w := r.rowWriter("buildings.csv", out, new(counts))
		require.NoError(rt, w.visit(b))
		require.EqualValues(rt, 1, w.counts.nOut.Load(), "%s: %s", w.refused.Rule, w.refused.RawValue)
		set := r.drawing()
		sampler := sampler{run: r, set: &set, base: a, responder: r.newResponder(), draw: confidence.NewSampler(confidence.NewDraws(set))}
		require.NoError(rt, sampler.sampled(b))
		seeker := seeker{run: r, base: a, then: r.NewAssessment()}
		require.NoError(rt, seeker.seek(b))
		if assessed++; assessed%40 == 0 { // time histories take a thousand times as long
			histories += requireHistories(rt, r, b, suites)
		}
	}
	require.Greater(t, assessed, cases/3)
	require.Greater(t, histories, cases/100)
}

// A lot is one case. Its number makes the same case again.
type lot struct {
	testing.TB
	r      *rand.Rand
	number int
}

func (d *lot) Errorf(format string, args ...any) {
	d.Helper()
	d.TB.Errorf("case %d: "+format, append([]any{d.number}, args...)...)
}

// either reports one or the other.
func (d *lot) either() bool { return d.r.IntN(2) == 0 }

// one returns one of the words or numbers.
func one[T any](d *lot, of ...T) T { return of[d.r.IntN(len(of))] }

// between returns a number, each as likely.
func (d *lot) between(least, most float64) float64 { return least + (most-least)*d.r.Float64() }

// extreme returns one of the ends, or a number between them on a logarithmic scale.
func (d *lot) extreme(least, most float64) float64 {
	switch d.r.IntN(6) {
	case 0:
		return least
	case 1:
		return most
	}
	low := max(least, most*1e-9)
	return min(max(low*math.Pow(most/low, d.r.Float64()), least), most)
}

// legalRun draws a run: everything a plan may say of measures, consequence and ratings,
// and a hazard.
func legalRun(t *lot, base *Run) *Run {
	r, p := *base, *base.plan
	r.plan = &p
	legalOptions(t, "measures", reflect.ValueOf(&p.Measures).Elem())
	legalOptions(t, "consequence", reflect.ValueOf(&p.Consequence).Elem())
	legalOptions(t, "rating", reflect.ValueOf(&p.Rating).Elem())
	p.Measures.Viscous.MinDamping = min(p.Measures.Viscous.MinDamping, p.Measures.Viscous.MaxDamping)
	both := &p.Measures.StrengthenViscous.Viscous
	both.MinDamping = min(both.MinDamping, both.MaxDamping)
	p.Uncertainty.Draws = 3
	r.measures = nil
	for _, slug := range p.Measures.Use {
		m, err := measure(slug, &p.Measures)
		require.NoError(t, err)
		r.measures = append(r.measures, m)
	}
	legalHazard(t, &r)
	return &r
}

// legalOptions draws every number, range and word of the struct v from what its tags
// allow, ends of ranges often.
func legalOptions(t *lot, key string, v reflect.Value) {
	for i := range v.NumField() {
		f, tag := v.Field(i), v.Type().Field(i).Tag
		name := key + "." + tag.Get("toml")
		switch {
		case v.Type().Field(i).Anonymous:
			legalOptions(t, key, f)
		case tag.Get("toml") == "-":
		case f.Kind() == reflect.Struct:
			legalOptions(t, name, f)
		case f.Kind() == reflect.Bool:
			f.SetBool(t.either())
		case f.Kind() == reflect.String && tag.Get("choices") != "":
			f.SetString(one(t, strings.Split(tag.Get("choices"), "|")...))
		case f.Kind() == reflect.Float64:
			f.SetFloat(legalNumber(t, tag))
		case f.Kind() == reflect.Array:
			ends := []float64{legalNumber(t, tag), legalNumber(t, tag)}
			if !strings.HasSuffix(name, "bound") { // two properties, not the ends of a range
				slices.Sort(ends)
			}
			f.Set(reflect.ValueOf([2]float64(ends)))
		}
	}
}

// legalNumber draws a number between the bounds of a tag. Where nothing bounds it above
// it is money, or weeks.
func legalNumber(t *lot, tag reflect.StructTag) float64 {
	bound := func(key string, otherwise float64) float64 {
		if x, err := strconv.ParseFloat(tag.Get(key), 64); err == nil {
			return x
		}
		return otherwise
	}
	return t.extreme(bound("min", 0), bound("max", 1e9))
}

// legalField is the same hazard everywhere, on any ground but class F.
type legalField struct{ site *hazard.Site }

func (f legalField) ReturnPeriods() []float64 { return f.site.ReturnPeriod }
func (f legalField) Periods() []float64       { return nil }
func (f legalField) Coverage() field.Coverage { return field.Coverage{} }
func (f legalField) Bound() orb.Bound {
	return orb.Bound{Min: orb.Point{-180, -90}, Max: orb.Point{180, 90}}
}

func (f legalField) Lookup(_, _ float64, class hazard.SiteClass, site *hazard.Site) error {
	if class == 'F' {
		return field.ErrNoClass
	}
	site.ReturnPeriod, site.Class = f.site.ReturnPeriod, class
	if len(site.Spectra) != len(f.site.Spectra) {
		site.Spectra = make([]hazard.Spectrum, len(f.site.Spectra))
	}
	for i := range site.Spectra {
		site.Spectra[i].CopyFrom(&f.site.Spectra[i])
	}
	return nil
}

// legalHazard draws one to eight levels: spectra of any shape, hardly there or beyond all
// measure, that hold from level to level or rise by up to a hundredfold.
func legalHazard(t *lot, r *Run) {
	n := t.r.IntN(8+1-1) + 1
	var periods, lnSa []float64
	at := t.extreme(0.01, 0.5)
	for range t.r.IntN(10+1-1) + 1 {
		periods = append(periods, at)
		lnSa = append(lnSa, math.Log(t.extreme(1e-6, 3)))
		at *= t.between(1.01, 4)
	}
	axis := hazard.NewAxis(periods)
	site := &hazard.Site{Spectra: make([]hazard.Spectrum, n)}
	years, pga := t.extreme(1, 1000), t.extreme(1e-6, 2)
	for i := range n {
		site.ReturnPeriod = append(site.ReturnPeriod, years)
		site.Spectra[i].Set(axis, pga, lnSa)
		years *= t.between(1.05, 2)
		factor := one(t, 1, 1, 1.0001, 1.3, 2)
		pga *= factor
		for k := range lnSa {
			lnSa[k] += math.Log(factor)
		}
	}
	h := &r.plan.Hazard
	h.ReturnPeriods, r.field, r.frequency = site.ReturnPeriod, legalField{site}, nil
	r.design = t.r.IntN(n-1+1-0) + 0
	h.Design = h.ReturnPeriods[r.design]
	for _, years := range h.ReturnPeriods {
		r.frequency = append(r.frequency, 1/years)
	}
}

// legalBuilding draws a row of a register and returns its building; nil if the register's
// rules reject it.
func legalBuilding(t *lot, r *Run) *inventory.Building {
	var names, cells []string
	from := plan.Inventory{Format: "csv", Path: "buildings.csv", Encoding: "auto", Impute: "defaults",
		Columns: map[string]string{}, Units: map[string]string{}}
	add := func(f inventory.Field, cell string) {
		name := f.String()
		names, cells, from.Columns[name] = append(names, name), append(cells, cell), name
		if d := f.Spec().Dimension; d.Declared() {
			from.Units[name] = d.Units()[0]
		}
	}
	storeys := one(t, 1, 2, 3, 5, 8, 13, 21, 40, 80)
	number := func(f inventory.Field, least, most float64) {
		if t.either() {
			add(f, strconv.FormatFloat(t.extreme(least, most), 'f', -1, 64))
		}
	}
	add(inventory.ID, "1")
	add(inventory.Lon, "10.12345")
	add(inventory.Lat, "45.12345")
	add(inventory.Storeys, strconv.Itoa(storeys))
	word := func(f inventory.Field, words ...string) {
		if t.r.IntN(8) > 0 {
			add(f, one(t, words...))
		}
	}
	var systems, uses []string
	for _, s := range archetypes.Systems() {
		systems = append(systems, s.String())
	}
	for u := inventory.House; u < inventory.NumUses; u++ {
		uses = append(uses, u.String())
	}
	word(inventory.System, systems...)
	word(inventory.UseField, uses...)
	word(inventory.SiteClass, "A", "B", "C", "D", "E", "F")
	word(inventory.Profile, archetypes.Regular.String(), archetypes.WeakGround.String(), archetypes.SetBack.String())
	word(inventory.Plane, "yes", "no")
	word(inventory.Heritage, "yes", "no")
	word(inventory.PlanIrregular, "yes", "no")
	area := inventory.FloorArea.Spec()
	add(inventory.FloorArea, strconv.FormatFloat(t.extreme(area.Min, area.Max), 'f', -1, 64))
	for _, f := range []inventory.Field{inventory.Footprint, inventory.Length, inventory.Width, inventory.Gap,
		inventory.SitePeriod, inventory.FaultDistance, inventory.OccupantsDay, inventory.OccupantsNight, inventory.Value, inventory.Period, inventory.StrengthRatio} {
		number(f, f.Spec().Min, f.Spec().Max)
	}
	number(inventory.Height, max(2, 2.4*float64(storeys)), min(1000, 12*float64(storeys)))
	if t.either() {
		add(inventory.Year, strconv.Itoa(t.r.IntN(2100+1-1000)+1000))
	}
	text := strings.Join(names, ",") + "\n" + strings.Join(cells, ",") + "\n"
	reader, err := inventory.NewReader(strings.NewReader(text), "buildings.csv", &from, inventory.Options{
		Coverage: r.field.Bound(), ValuePerArea: r.plan.Consequence.ValuePerArea, Ground: r.ground.class})
	require.NoError(t, err, text)
	defer reader.Close()
	var raw inventory.Raw
	batch := new(inventory.Batch)
	require.NoError(t, reader.Read(&raw, batch))
	require.Equal(t, 1, len(batch.Rejects)+len(batch.Buildings), text)
	if len(batch.Buildings) == 0 {
		return nil
	}
	return &batch.Buildings[0]
}

// requireNumbers checks what was computed of a building.
func requireNumbers(t *lot, a *Assessment) {
	requireResponses(t, "as it stands", a.AsIs)
	requireAnnual(t, "as it stands", a.Before, a.Building)
	for i := range a.Options {
		o := &a.Options[i]
		slug := o.Measure.Slug()
		if !o.Feasible() {
			require.Equal(t, retrofit.Bar, o.Verdict, slug)
			continue
		}
		requireResponses(t, slug, o.Levels)
		requireAnnual(t, slug, o.After, a.Building)
		requireFinite(t, slug+": cost", o.Cost)
	}
}

// requireResponses checks that levels are finite and not negative, or not applicable.
func requireResponses(t *lot, slug string, levels []demand.Response) {
	for i := range levels {
		l := &levels[i]
		if l.Status&demand.NotApplicable != 0 {
			continue
		}
		values := append([]float64{l.Roof, l.DriftRatio, l.BaseAccel, l.PeakAccel, l.BaseShear, l.Displacement, l.Period, l.Damping, l.Ductility}, l.Drift...)
		for _, x := range append(values, l.Accel...) {
			require.True(t, x >= 0 && x <= math.MaxFloat64, "%s, level %d: %+v", slug, i, *l)
		}
	}
}

// requireHistories checks that a building and each of its measures go through time
// histories, or have a status that says why not, and returns how many structures did.
func requireHistories(t *lot, r *Run, b *inventory.Building, suites suiteMaker) (rows int) {
	w := confirmer{run: r, a: r.NewAssessment(), suites: suites}
	c, err := w.histories(&ranked{1, *b})
	require.Nil(t, failure(err), "%v", err)
	for i := range c.rows {
		row := &c.rows[i]
		said := row.Status != "" || row.Collapsed > 0
		require.True(t, said || row.DriftHistory >= 0 && row.DriftHistory <= math.MaxFloat64, "%s: %+v", row.Measure, row)
	}
	return len(c.rows)
}

// requireAnnual checks annual values, those of money only where the value of the building
// is known.
func requireAnnual(t *lot, what string, l consequence.Annual, b *inventory.Building) {
	if math.IsNaN(b.Value) {
		l = consequence.Annual{Loss: consequence.Loss{Days: l.Days, Dead: l.Dead, Serious: l.Serious, Minor: l.Minor,
			DeathRisk: l.DeathRisk, LimitState: l.LimitState, Collapse: l.Collapse}}
	}
	requireFinite(t, what, l)
}

// requireFinite checks that no number of v is infinite or not a number.
func requireFinite(t *lot, what string, v any) {
	text := fmt.Sprintf("%+v", v)
	require.NotRegexp(t, "NaN|Inf", text, what)
}
