package trial

import (
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"github.com/stretchr/testify/require"

	"plinth/hazard"
	"plinth/hazard/field"
	"plinth/pipeline/assess"
	"plinth/pipeline/plan"
	"plinth/retrofit"
)

// A Case is one random case. The same number makes the same case again.
type Case struct {
	testing.TB
	r      *rand.Rand
	number int
}

func (d *Case) Errorf(format string, args ...any) {
	d.Helper()
	d.TB.Errorf("case %d: "+format, append([]any{d.number}, args...)...)
}

// either reports one or the other.
func (d *Case) either() bool { return d.r.IntN(2) == 0 }

// oneOf returns one of the words or numbers.
func oneOf[T any](d *Case, of ...T) T { return of[d.r.IntN(len(of))] }

// between returns a number, each as likely.
func (d *Case) between(least, most float64) float64 { return least + (most-least)*d.r.Float64() }

// extreme returns one of the ends, or a number between them on a logarithmic scale.
func (d *Case) extreme(least, most float64) float64 {
	switch d.r.IntN(6) {
	case 0:
		return least
	case 1:
		return most
	}
	low := max(least, most*1e-9)
	return min(max(low*math.Pow(most/low, d.r.Float64()), least), most)
}

// legalRun draws a study: options of measures, consequence and ratings within their bounds,
// and a hazard.
func legalRun(t *Case, base *assess.Study) *assess.Study {
	p := *base.Plan()
	legalOptions(t, "measures", reflect.ValueOf(&p.Measures).Elem())
	legalOptions(t, "consequence", reflect.ValueOf(&p.Consequence).Elem())
	legalOptions(t, "rating", reflect.ValueOf(&p.Rating).Elem())
	p.Measures.Options = retrofit.Defaults()
	for _, k := range retrofit.Kinds() {
		if o := p.Measures.Options[k.Slug]; o != nil {
			legalOptions(t, "measures."+k.Slug, reflect.ValueOf(o).Elem())
		}
	}
	viscous := p.Measures.Options["viscous"].(*retrofit.ViscousOptions)
	viscous.MinDamping = min(viscous.MinDamping, viscous.MaxDamping)
	p.Uncertainty.Draws = 3
	study, err := base.Under(&p, legalHazard(t, &p.Hazard))
	require.NoError(t, err)
	return study
}

// legalOptions draws every number, range and word of the struct v from what its tags
// allow, ends of ranges often.
func legalOptions(t *Case, key string, v reflect.Value) {
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
			f.SetString(oneOf(t, strings.Split(tag.Get("choices"), "|")...))
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
func legalNumber(t *Case, tag reflect.StructTag) float64 {
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
// measure, that hold from level to level or rise up to twofold.
func legalHazard(t *Case, h *plan.Hazard) field.Field {
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
		factor := oneOf(t, 1, 1, 1.0001, 1.3, 2)
		pga *= factor
		for k := range lnSa {
			lnSa[k] += math.Log(factor)
		}
	}
	h.ReturnPeriods, h.Design = site.ReturnPeriod, site.ReturnPeriod[t.r.IntN(n-1+1-0)+0]
	return legalField{site}
}
