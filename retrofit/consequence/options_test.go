package consequence

import (
	"errors"
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"plinth/retrofit"
)

// files returns a copy of the embedded tables that a test can spoil.
func files(t testing.TB) fstest.MapFS {
	out := fstest.MapFS{}
	entries, err := fs.ReadDir(embedded, "tables")
	require.NoError(t, err)
	for _, e := range entries {
		data, err := fs.ReadFile(embedded, "tables/"+e.Name())
		require.NoError(t, err)
		out[e.Name()] = &fstest.MapFile{Data: data}
	}
	return out
}

func TestTablesReadAsTheyAreWritten(t *testing.T) {
	o, err := ReadOptions(files(t))
	require.NoError(t, err)
	assert.Equal(t, DefaultOptions(), o)
	assert.Len(t, o.DriftFitOut, 3)
	assert.Len(t, o.Infill, 3)
	m, err := New(o)
	require.NoError(t, err)
	_, ok := m.Split("lighthouse")
	assert.False(t, ok)
	_, ok = m.Spread("prayer", Budget{})
	assert.False(t, ok)
	s, ok := m.Spread("none", Budget{Capacity: 0.5, Knowledge: 0.3, Steepness: 1.5})
	assert.True(t, ok)
	none := o.Bands["none"]
	assert.InDelta(t, Dispersion(0.5, 1.5*0.50, 1.5*0.40, none.Drift, 0.15, 0.3), s.Drift, 1e-12)
	assert.InDelta(t, Dispersion(1.5*0.40, none.Drift, 0.15, 0.3), s.FitOut, 1e-12)
	assert.InDelta(t, Dispersion(0.40, none.Accel, 0.3), s.Accel, 1e-12)
	lead := o.Bands["lead-rubber"]
	s, _ = m.Spread("lead-rubber", Budget{Steepness: 1.5}) // elastic above isolators
	assert.InDelta(t, Dispersion(0.50, 0.40, lead.Drift, 0.15), s.Drift, 1e-12)
	s, _ = m.Spread("lead-rubber", Budget{Steepness: 1.5, Known: true})
	assert.InDelta(t, Dispersion(0.35, 0.40, lead.Drift, 0.15), s.Drift, 1e-12)
}

// Every measure has its rows in the table of bands, and the table has no other rows.
func TestEveryMeasureHasItsBand(t *testing.T) {
	o, rows := DefaultOptions(), 0
	for _, k := range retrofit.Kinds() {
		for _, band := range k.AllBands() {
			assert.Contains(t, o.Bands, band)
			rows++
		}
	}
	assert.Len(t, o.Bands, rows)
}

// A table without a row of a measure in use is refused; a row of an unused measure may be
// missing.
func TestBandsCoverTheMeasuresInUse(t *testing.T) {
	for _, k := range retrofit.Kinds() {
		for _, band := range k.AllBands() {
			o := DefaultOptions()
			delete(o.Bands, band)
			_, err := New(o, k.Slug)
			assert.ErrorContains(t, err, "bands.csv: no row "+band+";")
			if k.Slug != "none" {
				_, err = New(o)
				assert.NoError(t, err, band)
			}
		}
	}
	_, err := New(DefaultOptions(), "prayer")
	assert.ErrorContains(t, err, `no measure "prayer"`)
}

func TestSpoiltTablesSayWhere(t *testing.T) {
	for name, c := range map[string]struct{ file, old, new, want string }{
		"a word for a number": {"constants.csv", "fit_out_days,30", "fit_out_days,soon",
			`constants.csv:3: column value: "soon": want a number from 0 to 10000`},
		"a number too large": {"states.csv", "beyond-life-safety,dead,1e-3", "beyond-life-safety,dead,1.5",
			`states.csv:11: column value: "1.5": want a number from 0 to 1`},
		"not a number": {"components.csv", "0.003,0.5,0.10", "0.003,NaN,0.10",
			`column dispersion: "NaN"`},
		"no source": {"constants.csv",
			"0.15,1,measured: choice of damping model in the time histories; a floor for any single drift",
			"0.15,1, ", `column source`},
		"unknown state": {"states.csv", "collapse,days", "ruin,days",
			`"ruin": want one of beyond-immediate-occupancy`},
		"unknown quantity": {"states.csv", "collapse,days", "collapse,weeks",
			`"weeks": want one of loss_ratio`},
		"unknown constant": {"constants.csv", "fit_out_days", "fit_out_weeks",
			`"fit_out_weeks": want one of class_dispersion`},
		"twice": {"bands.csv", "strengthen,", "none,", `bands.csv:3: "none": given twice`},
		"a row missing": {"states.csv",
			"collapse,loss_ratio,1.00,by definition: a collapsed building is replaced\n", "",
			"18 of 19 rows"},
		"dead of a collapse": {"states.csv", "collapse,serious,0.5", "collapse,dead,0.5", "go with the system"},
		"street": {"constants.csv", "street_fall_life_safety,0.05",
			"street_fall_life_safety,0.6", "fewer walls"},
		"shares do not sum":   {"splits.csv", "house,0.25", "house,0.35", "must sum to 1"},
		"no other use":        {"values.csv", "other,1,1", "others,1,1", "no row other"},
		"use for nothing":     {"values.csv", "office,1,1", "office,0,1", "value_ratio"},
		"hours do not sum":    {"hours.csv", "day,0.30", "day,0.40", "hours_share sums to 1.1"},
		"states out of order": {"states.csv", "collapse,days,1400", "collapse,days,100", "less grave"},
		"component over 1":    {"components.csv", "0.020,0.5,0.55", "0.020,0.5,0.95", "sum to 1 at most"},
		"wrong unit": {"components.csv", "accel-fit-out,g,0.60", "accel-fit-out,m/s2,0.60",
			`"m/s2": want one of g`},
		"fit-out days": {"constants.csv", "fit_out_days,30", "fit_out_days,31", "above the 30 days"},
		"wrong header": {"bands.csv", "measure,drift", "method,drift",
			"want the header measure,drift"},
		"unknown measure": {"bands.csv", "lead-rubber-strengthen,", "lead-ruber-strengthen,",
			`bands.csv:10: column measure: "lead-ruber-strengthen": want one of none, lead-rubber,`},
		"short row": {"bands.csv", "none,", "", "wrong number of fields"},
	} {
		t.Run(name, func(t *testing.T) {
			f := files(t)
			text := string(f[c.file].Data)
			require.Contains(t, text, c.old)
			f[c.file].Data = []byte(strings.Replace(text, c.old, c.new, 1))
			_, err := ReadOptions(f)
			assert.ErrorContains(t, err, c.want)
			assert.ErrorContains(t, err, c.file)
		})
	}
	f := files(t)
	delete(f, "bands.csv")
	_, err := ReadOptions(f)
	assert.ErrorIs(t, err, fs.ErrNotExist)
}

func TestOptionsMadeByHand(t *testing.T) {
	for want, spoil := range map[string]func(*Options){
		"onset return period":  func(o *Options) { o.OnsetReturnPeriod = 0 },
		"known_dispersion 0.6": func(o *Options) { o.KnownDispersion = 0.6 },
		"contact factor":       func(o *Options) { o.ContactFactor = 0.5 },
		"1 to 6 steps":         func(o *Options) { o.DriftFitOut = nil },
	} {
		o := DefaultOptions()
		spoil(&o)
		_, err := New(o)
		assert.ErrorContains(t, err, want)
	}
}

func TestExposureCheck(t *testing.T) {
	m := defaultModel(t)
	require.NoError(t, clinic(m).Check())
	for want, spoil := range map[string]func(*Exposure){
		"replacement value":     func(e *Exposure) { e.Value = -1 },
		"value split":           func(e *Exposure) { e.Split.Structure = 0.9 },
		"contents share":        func(e *Exposure) { e.Split.Contents = -1 },
		"occupants":             func(e *Exposure) { e.OccupantsNight = -1 },
		"downtime":              func(e *Exposure) { e.DowntimeValue = -1 },
		"drift ratio at coll":   func(e *Exposure) { e.Collapse = 0.001 },
		"irreparable drift":     func(e *Exposure) { e.Irreparable = 0 },
		"fatality 2":            func(e *Exposure) { e.Fatality = 2 },
		"frontage -1 m":         func(e *Exposure) { e.Frontage = -1 },
		"limit drift":           func(e *Exposure) { e.Limits[1] = 0.001 },
		"isolator displacement": func(e *Exposure) { e.Displacement = -1 },
		"dispersions":           func(e *Exposure) { e.Spread.Accel = -1 },
	} {
		e := clinic(m)
		spoil(e)
		assert.ErrorContains(t, e.Check(), want)
	}
}

// FuzzReadOptions looks for tables that pass the reader and then break the
// bounds of a loss, or that make the reader panic.
func FuzzReadOptions(f *testing.F) {
	for name, file := range files(f) {
		f.Add(name, string(file.Data))
	}
	f.Add("components.csv",
		"component,demand,median,dispersion,loss_ratio,source\ndrift-fit-out,drift ratio,1,0,1,x\n")
	f.Fuzz(func(t *testing.T, name, data string) {
		tables := files(t)
		if _, known := tables[name]; !known {
			return
		}
		tables[name] = &fstest.MapFile{Data: []byte(data)}
		o, err := ReadOptions(tables)
		if err != nil {
			var at *TableError
			if errors.As(err, &at) && (at.File != name || at.Line < 1) {
				t.Fatalf("error without a place: %v", err)
			}
			return
		}
		m, err := New(o)
		if err != nil {
			t.Fatalf("read but refused: %v", err)
		}
		e := clinic(m)
		if e.Check() != nil {
			return
		}
		var l Loss
		m.At(e, &Level{0.03, Even(0.02), Even(1), Even(1), 0.4, false}, &l)
		if !(l.Total >= 0) || l.Structure > e.Value*(e.Split.Structure+o.DemolitionShare)*(1+1e-9) {
			t.Fatalf("loss out of bounds: %+v", l)
		}
	})
}

// One table of a folder replaces its own and leaves the others.
func TestOverlayOptions(t *testing.T) {
	hours := "period,hours_share,of_day,of_night,source\nday,0.5,1,0,ours\nnight,0.5,0,1,ours\n" +
		"transit,0,0,0,ours\n"
	o, found, err := OverlayOptions(fstest.MapFS{"hours.csv": {Data: []byte(hours)}})
	require.NoError(t, err)
	assert.Equal(t, []string{"hours.csv"}, found)
	assert.Equal(t, 0.5, o.Hours[Day].Share)
	assert.Equal(t, DefaultOptions().States, o.States)
	_, _, err = OverlayOptions(fstest.MapFS{"hour.csv": {Data: []byte(hours)}})
	assert.ErrorContains(t, err, "consequence table hour.csv is not one of")
}
