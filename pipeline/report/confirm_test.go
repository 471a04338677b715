package report

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/plot/plotter"

	"plinth/archetypes"
	"plinth/hazard"
	"plinth/hazard/motion"
	"plinth/pipeline/output"
	"plinth/pipeline/report/reporttest"
	"plinth/retrofit"
	"plinth/retrofit/demand"
	"plinth/retrofit/history"
)

// frame3 returns a frame of three storeys, invented.
func frame3(t testing.TB) *archetypes.Stick {
	st := &archetypes.Stick{
		Mass: []float64{2e5, 2e5, 2e5}, Stiffness: []float64{24e7, 20e7, 14e7}, Strength: []float64{18e5, 15e5, 9.8e5},
		Height: []float64{4, 3, 3}, PostYield: 0.03, Degrading: 1,
	}
	var err error
	st.Modes, err = archetypes.ChainModes(st.Mass, st.Stiffness)
	require.NoError(t, err)
	return st
}

// records3 makes three records that match a spectrum of EN 1998-1.
var records3 = sync.OnceValues(func() (*motion.Suite, error) {
	var site hazard.Spectrum
	if err := hazard.Eurocode8Type1.Elastic(&site, 'B', 0.3); err != nil {
		return nil, err
	}
	set := motion.DefaultSettings()
	set.Records = 3
	library, err := motion.NewLibrary(set, 1)
	if err != nil {
		return nil, err
	}
	return library.Suite(&site)
})

// subjectOf takes frame3 through records that match a spectrum, times scale, as it stands
// and with devices. Its names are hostile.
func subjectOf(t testing.TB, i int, scale float64, devices map[string]history.Device) *Subject {
	t.Helper()
	st := frame3(t)
	made, err := records3()
	require.NoError(t, err)
	suite := &motion.Suite{Target: made.Target, Mean: made.Mean}
	for _, r := range made.Records {
		r.Name = hostile[(i+1)%len(hostile)]
		suite.Records = append(suite.Records, r.Times(scale))
	}
	s := &Subject{
		Rank: int64(i + 1), ID: hostile[(i+2)%len(hostile)], Name: hostile[i%len(hostile)], Height: st.Height, Weight: 6e5 * hazard.Gravity,
		Record: suite.Records[0].Name, Object: retrofit.DefaultFreeStanding(),
	}
	for _, measure := range []string{"none", "lead-rubber", "viscous", "tuned-mass", "strengthen"} {
		d, ok := devices[measure]
		if measure != "none" && !ok {
			continue
		}
		var c history.Confirmer
		check := c.Confirm(st, suite, []history.Device{d}, history.Options{}, nil)[0]
		require.NoError(t, check.Err)
		m, err := history.New(st, d, history.Options{})
		require.NoError(t, err)
		stand := Stand{Measure: measure, Check: &check, Series: &history.Series{}, Peaks: &history.Result{}}
		w := history.Work{Series: stand.Series}
		w.Run(m, &suite.Records[0], stand.Peaks)
		s.Stands = append(s.Stands, stand)
	}
	return s
}

// devices3 returns two devices for frame3.
func devices3() map[string]history.Device {
	all := 8e5
	return map[string]history.Device{
		"lead-rubber": demand.Isolation{Kind: demand.LeadRubber, Qd: 0.06 * all * hazard.Gravity, K2: all * 5, K1: all * 50, BaseMass: 2e5, Reduction: hazard.ReductionIsolation},
		"viscous":     demand.Viscous{Alpha: 1, Damping: 0.15},
	}
}

func drawn(t testing.TB, subjects ...*Subject) []*Portrait {
	var out []*Portrait
	for _, s := range subjects {
		p, err := Portray(s, len(subjects))
		require.NoError(t, err)
		out = append(out, p)
	}
	return out
}

// confirmation returns the page of hostile rows and of portraits.
func confirmation(t testing.TB, portraits []*Portrait) string {
	rows := make([]output.Confirmed, 2*len(hostile))
	for i := range rows {
		r := &rows[i]
		output.Confirmeds.Blank(r)
		r.Rank, r.RankHistory, r.Records, r.Collapsed = int64(i/2+1), int64(1+i%5), 3, int64(i%3)
		r.BuildingID, r.BuildingName = hostile[(i/2+2)%len(hostile)], hostile[i/2%len(hostile)]
		r.Measure, r.Moved, r.Status = []string{"none", hostile[i/2]}[i%2], "building from 1 to 2", "changes with the time step"
		r.DriftSpectral, r.DriftHistory, r.DriftBand, r.DriftOutside = 0.5, math.Inf(1), 0.14, i%2 == 0
		r.Duration, r.B20 = 2.4, 1.5
	}
	var b bytes.Buffer
	require.NoError(t, WriteConfirm(&b, ConfirmInput{
		Title: hostile[1], About: output.About{Version: "0.1.0"}, Design: 475, PlanSHA256: strings.Repeat("ab", 32), Notes: []string{hostile[2]}, Rows: rows, Portraits: portraits,
	}))
	return b.String()
}

// TestHostileConfirmation holds the page of a confirmation to be harmless whatever an
// owner wrote, in names, ids and names of records.
func TestHostileConfirmation(t *testing.T) {
	var all []*Portrait
	for i := range hostile {
		all = append(all, drawn(t, subjectOf(t, i, 1, nil))...)
	}
	p := confirmation(t, all)
	harmless(t, p)
	assert.Contains(t, p, "collapse", "a median of collapse is said in words")
	assert.Contains(t, p, "Not a prediction.")
	require.True(t, p == confirmation(t, all), "equal inputs give equal bytes")

	empty := confirmation(t, nil)
	assert.NotContains(t, empty, `id="film"`, "without pictures there is no film")
	assert.NotContains(t, empty, `id="pictures"`)
}

// TestFilm: the film holds the run: its largest drift and acceleration are those of the run
// (within 3 %: a run looks between samples), positions stay within half a step, the object
// does what its rule says, and the still is the moment of the largest drift.
func TestFilm(t *testing.T) {
	s := subjectOf(t, 0, 2, devices3())
	f := s.film(filmRate, math.Inf(1))
	assert.InDelta(t, 50, f.Rate, 1e-9)
	require.Len(t, f.Stands, 3)
	assert.True(t, f.Stands[1].Isolated)
	for i, st := range f.Stands {
		series, peaks := s.Stands[i].Series, s.Stands[i].Peaks
		largest := func(v []int) float64 {
			most := 0
			for _, x := range v {
				most = max(most, x, -x)
			}
			return float64(most)
		}
		assert.InEpsilon(t, peaks.DriftRatio, largest(st.Drift)/1e5, 0.03)
		assert.InEpsilon(t, peaks.PeakAccel/hazard.Gravity, largest(st.Accel)/1e3, 0.03)
		roof := series.Floors()[2].Move
		for k, x := range st.Move[len(st.Move)-1] {
			require.InDelta(t, roof[4*k], float64(x)*f.Unit, 0.51*f.Unit)
		}
		rocks := false
		for j, a := range s.Stands[i].floorAccel(f.Object.Floor) {
			rocks = rocks || math.Abs(a) > hazard.Gravity/3 && j < 4*f.Frames
		}
		assert.Equal(t, rocks, largest(st.Tilt) > 0, st.Name)
		assert.Zero(t, largest(st.Slide), "a cabinet of 1 in 3 on a floor of 0.4 rocks first")
	}
	assert.Equal(t, "rocks", f.Object.First)
	for _, x := range f.Stands[0].Drift {
		assert.LessOrEqual(t, x, f.Stands[0].Drift[f.Still])
	}
	b, err := s.reel(1 << 20)
	require.NoError(t, err)
	half, err := s.reel(len(b) - 1)
	require.NoError(t, err)
	var slower film
	require.NoError(t, json.Unmarshal(half, &slower))
	assert.InDelta(t, 25, slower.Rate, 1e-9, "a page without room has fewer positions a second")
	none, err := s.reel(100)
	require.NoError(t, err)
	assert.Nil(t, none)
}

// TestPartOfAFilm: where the page has no room for the whole record the film is of the part
// around the largest drift as the building stands, and says what was largest before it;
// one that came down before it is there as it ended.
func TestPartOfAFilm(t *testing.T) {
	s := subjectOf(t, 0, 2, devices3())
	whole := s.film(filmSlow, math.Inf(1))
	b, err := json.Marshal(whole)
	require.NoError(t, err)
	cut, err := s.reel(len(b) * 9 / 10)
	require.NoError(t, err)
	assert.LessOrEqual(t, len(cut), len(b)*9/10)
	var part film
	require.NoError(t, json.Unmarshal(cut, &part))
	assert.InDelta(t, filmSlow, part.Rate, 1e-9)
	assert.Less(t, part.Frames, whole.Frames)
	assert.GreaterOrEqual(t, float64(part.Frames)/part.Rate, filmLeast-0.1)
	assert.Equal(t, whole.Length, part.Length)

	late := s.film(filmRate, 0.5)
	all := s.film(filmRate, math.Inf(1))
	assert.Positive(t, late.Start)
	assert.InDelta(t, float64(all.Still)/all.Rate, late.Start+float64(late.Still)/late.Rate, 1.0/filmRate+1e-9, "the same moment")
	first := int(math.Round(late.Start * all.Rate))
	for i, st := range late.Stands {
		before := slices.Max(all.Stands[i].Drift[:first+1])
		assert.InDelta(t, before, st.Drift[0], 0.05*float64(before)+1, "frames fall elsewhere by a sample or so")
		assert.Less(t, len(st.Drift), 30)
	}
	s.Stands[1].Series.Time = s.Stands[1].Series.Time[:4*first/2]
	s.Stands[1].Peaks.Status |= history.Collapsed
	ended := s.film(filmRate, 0.5).Stands[1]
	assert.True(t, ended.Collapsed)
	assert.Len(t, ended.Drift, 1)
}

// TestNoFilm: a building without a film has its pictures, and the page says why there is
// none and what to do, whether others have one or not.
func TestNoFilm(t *testing.T) {
	s := subjectOf(t, 0, 1, nil)
	p, err := Portray(s, filmBytes/100)
	require.NoError(t, err)
	assert.Nil(t, p.film)
	assert.Contains(t, p.NoFilm, "confirm.pictures")
	alone := confirmation(t, []*Portrait{p})
	assert.NotContains(t, alone, `id="film"`)
	assert.Contains(t, alone, "There is no moving picture: even 5 s of it would take more than the 0 kB")
	among := confirmation(t, append(drawn(t, subjectOf(t, 1, 1, nil)), p))
	assert.Contains(t, among, `No moving picture of <a href="#portrait-1">`)
	assert.Contains(t, among, "There is no moving picture: even 5 s")
}

// TestFilmOfACollapse ends where the building comes down; the others go on.
func TestFilmOfACollapse(t *testing.T) {
	s := subjectOf(t, 0, 25, devices3())
	require.True(t, s.Stands[0].Collapsed())
	f := s.film(filmRate, math.Inf(1))
	assert.True(t, f.Stands[0].Collapsed)
	assert.LessOrEqual(t, len(f.Stands[0].Drift), f.Frames)
	p := confirmation(t, drawn(t, s))
	assert.NotRegexp(t, `<(path|text)[^>]*(NaN|Inf)`, p, "nothing is drawn at no place")
}

// TestFactor: movements are drawn so that the largest is at most a quarter of the height.
func TestFactor(t *testing.T) {
	for most, want := range map[float64]float64{0.3: 5, 0.24: 10, 0.02: 100, 0.013: 100, 1.2: 2, 5: 1} {
		assert.Equal(t, want, factor(10, most), "%g m", most)
	}
}

// TestThin: what is left of a line keeps its ends and extremes and passes within the
// tolerance of every point left out.
func TestThin(t *testing.T) {
	var line plotter.XYs
	for i := range 4000 {
		x := float64(i) / 400
		line = append(line, plotter.XY{X: math.Sin(1.3*x) * math.Exp(-x/4), Y: 1e6 * math.Cos(7*x) * math.Exp(-x/3)})
	}
	got := thin(line)
	assert.Less(t, len(got), len(line)/3)
	x0, x1, y0, y1 := plotter.XYRange(line)
	a0, a1, b0, b1 := plotter.XYRange(got)
	assert.Equal(t, [4]float64{x0, x1, y0, y1}, [4]float64{a0, a1, b0, b1})
	assert.Equal(t, line[0], got[0])
	assert.Equal(t, line[len(line)-1], got[len(got)-1])
	for _, p := range line {
		least := math.Inf(1)
		for i := 1; i < len(got); i++ {
			least = min(least, away(p, got[i-1], got[i], x1-x0, y1-y0))
		}
		require.Less(t, least, 1.01*lineTolerance)
	}
	assert.Equal(t, line[:2], thin(line[:2]))
}

// away returns the distance of p from the line from a to b, in ranges.
func away(p, a, b plotter.XY, inX, inY float64) float64 {
	dx, dy, ex, ey := (b.X-a.X)/inX, (b.Y-a.Y)/inY, (p.X-a.X)/inX, (p.Y-a.Y)/inY
	along := 0.0
	if l := dx*dx + dy*dy; l > 0 {
		along = min(1, max(0, (ex*dx+ey*dy)/l))
	}
	return math.Hypot(ex-along*dx, ey-along*dy)
}

// TestPanels: every stand has a picture of each quantity, or says why not.
func TestPanels(t *testing.T) {
	d := devices3()
	d["tuned-mass"], d["strengthen"] = demand.TunedMass{Mass: 2e4}, demand.Strengthening{Stiffness: []float64{36e7, 30e7, 21e7}, Strength: []float64{27e5, 22e5, 15e5}}
	delete(d, "viscous")
	p := drawn(t, subjectOf(t, 0, 1, d))[0]
	require.Len(t, p.Rows, 6)
	for _, row := range p.Rows {
		require.Len(t, row.Panels, 4)
		for i, q := range row.Panels {
			if row.Title == "Isolators and devices" && (i == 0 || i == 3) {
				assert.Equal(t, "There are none.", q.Note)
				continue
			}
			assert.NotEmpty(t, q.Alt)
			assert.Regexp(t, regexp.MustCompile(`^<svg `), string(q.SVG))
		}
	}
}

// TestConfirmInBrowser plays the films in Chromium: a whole one, one of a collapse, one of
// a part of its record; the last building has none.
func TestConfirmInBrowser(t *testing.T) {
	path := filepath.Join(t.TempDir(), ConfirmName)
	all := drawn(t, subjectOf(t, 0, 2, devices3()), subjectOf(t, 1, 25, devices3()), subjectOf(t, 6, 0.5, nil))
	var err error
	all[2].film, err = json.Marshal(subjectOf(t, 6, 0.5, nil).film(filmSlow, 2))
	require.NoError(t, err)
	none, err := Portray(subjectOf(t, 2, 1, nil), filmBytes/1000)
	require.NoError(t, err)
	require.Nil(t, none.film)
	require.NoError(t, os.WriteFile(path, []byte(confirmation(t, append(all, none))), 0o666))
	reporttest.InBrowser(t, "confirm.mjs", path)
}
