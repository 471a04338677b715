package confirm

import (
	"fmt"
	"math"
	"strings"

	"plinth/hazard"
	"plinth/hazard/motion"
	"plinth/pipeline/assess"
	"plinth/pipeline/output"
	"plinth/pipeline/ranking"
	"plinth/retrofit"
	"plinth/retrofit/consequence"
	"plinth/retrofit/demand"
	"plinth/retrofit/history"
)

// A historyRunner takes one building after the other through time histories. It belongs
// to one goroutine.
type historyRunner struct {
	study  *assess.Study
	a      *assess.Assessment
	suites suiteMaker
	method history.Confirmer
	scaled []demand.Response
}

// A result is one building: its rows, the building as it stands first, and the
// score of its best option by time histories.
type result struct {
	rows []output.Confirmed
	best float64
}

// enter assesses a building and returns the records of its place.
func (w *historyRunner) enter(b *ranked) (*motion.Suite, error) {
	a := w.a
	if err := a.Assess(&b.building); err != nil {
		return nil, fmt.Errorf("building %q, line %d: %w", b.building.ID, b.building.Line, err)
	}
	suite, err := w.suites(&a.Site.Spectra[w.study.Design()], a.Archetype.Period)
	if err != nil {
		return nil, fmt.Errorf("building %q: records: %w", b.building.ID, err)
	}
	return suite, nil
}

// build returns the structure of an option. It evaluates the option again, since the scratch
// space holds only the structure of the last evaluation.
func (w *historyRunner) build(o *assess.Option) *retrofit.Built {
	again := assess.Option{}
	o.Measure.Evaluate(&w.a.Work, &w.a.Case, &again.Outcome)
	return &w.a.Work.Built
}

// run returns the result of one building of the shortlist. A building on which the program
// fails has one row that says so, and is ranked last.
func (w *historyRunner) run(b *ranked) (result, error) {
	out, err := w.histories(b)
	if f := assess.FailureOf(err); f != nil {
		*w = historyRunner{study: w.study, a: w.study.NewAssessment(), suites: w.suites}
		row := blankRow(b)
		row.Place, row.PlaceHistory, row.Status = 1, 1, f.Error()
		return result{rows: []output.Confirmed{row}, best: math.NaN()}, nil
	}
	return out, err
}

// histories takes one building of the shortlist through time histories.
func (w *historyRunner) histories(b *ranked) (_ result, err error) {
	defer assess.CatchPanic(&b.building, &err)
	a := w.a
	suite, err := w.enter(b)
	if err != nil {
		return result{}, err
	}
	quality := suite.Assess()
	stand := w.method.Confirm(&a.Stick, suite, []history.Device{nil}, w.options(), nil)[0]
	before := w.annual(a.AsIs, &stand, &a.Exposure)
	out := result{best: w.study.Objective().None}
	out.rows = append(out.rows, w.row(b, nil, &stand, &quality))
	out.rows[0].Score, out.rows[0].ScoreHistory = w.study.Objective().None, w.study.Objective().None
	for place, i := range a.Choice.Order[:a.Choice.Chosen] {
		o := a.OptionAt(i)
		if o == nil { // doing nothing
			out.rows[0].Place = int64(place + 1)
			continue
		}
		if len(out.rows) > w.study.Plan().Confirm.Measures {
			continue
		}
		row := w.option(b, o, suite, &quality, &before)
		row.Place = int64(place + 1)
		out.rows = append(out.rows, row)
		out.best = max(out.best, row.ScoreHistory)
	}
	placeByHistory(out.rows)
	return out, nil
}

func (w *historyRunner) options() history.Options {
	return history.Options{PDelta: w.study.Plan().Confirm.PDelta}
}

// option runs one measure and scores it by its time histories.
func (w *historyRunner) option(b *ranked, o *assess.Option, suite *motion.Suite, quality *motion.Assessment,
	before *consequence.Annual) output.Confirmed {
	built := w.build(o)
	check := w.method.Confirm(built.Stick, suite, []history.Device{built.Device}, w.options(), nil)[0]
	row := w.row(b, o, &check, quality)
	after := w.annual(o.Levels, &check, &o.Exposure)
	c := &w.study.Plan().Consequence
	parts := ranking.PartsOf(before, &after, o.Cost.Likely, c.LifeYears, c.DiscountRate)
	row.Score, row.ScoreHistory = o.Score, w.study.Objective().Score(&parts)
	return row
}

// annual returns the annual loss with the drifts, accelerations and displacements of
// every level multiplied by the ratio of time history to spectral value at the
// design level.
func (w *historyRunner) annual(levels []demand.Response, check *history.Check,
	e *consequence.Exposure) consequence.Annual {
	drift, accel, move := ratio(check, history.StoreyDrift), ratio(check, history.FloorAccel),
		ratio(check, history.Displacement)
	for cap(w.scaled) < len(levels) {
		w.scaled = append(w.scaled[:cap(w.scaled)], demand.Response{})
	}
	w.scaled = w.scaled[:len(levels)]
	for i := range levels {
		w.scaled[i].Times(&levels[i], drift, accel, move)
	}
	return w.a.AnnualOf(w.scaled, e)
}

// collapseRatio is the ratio of a building that collapses under most records (judgement: any
// drift beyond the collapse limits costs the same).
const collapseRatio = 10

// ratio returns the median of the time histories over the spectral value; 1 if either is
// missing.
func ratio(check *history.Check, q history.Quantity) float64 {
	c := &check.Compared[q]
	switch {
	case check.Err != nil || !(c.Spectral > 0) || math.IsNaN(c.Median) || c.Median <= 0:
		return 1
	case math.IsInf(c.Median, 1):
		return collapseRatio
	}
	return min(collapseRatio, c.Median/c.Spectral)
}

// blankRow returns the row of a building as it stands, with nothing found yet.
func blankRow(b *ranked) (row output.Confirmed) {
	output.Confirmeds.Blank(&row)
	row.Rank, row.BuildingID, row.BuildingName, row.Measure = int64(b.place), b.building.ID, b.building.Name,
		ranking.NoMeasure
	return row
}

// row returns the row with the values of both methods; o is nil for the building as it stands.
func (w *historyRunner) row(b *ranked, o *assess.Option, check *history.Check,
	quality *motion.Assessment) output.Confirmed {
	row := blankRow(b)
	if o != nil {
		row.Measure = o.Measure.Slug()
	}
	h := &check.History
	row.Records, row.Collapsed, row.Flawed = int64(h.Runs), int64(h.Collapsed), int64(h.Flawed)
	c := &check.Compared
	row.DriftSpectral, row.DriftHistory = 100*c[history.StoreyDrift].Spectral,
		100*c[history.StoreyDrift].Median
	row.DriftDispersion, row.DriftError, row.DriftOutside = h.WorstDrift.Dispersion, h.WorstDrift.Error,
		c[history.StoreyDrift].Outside
	row.DriftBand, row.AccelBand, row.ShearBand = c[history.StoreyDrift].Stated(),
		c[history.FloorAccel].Stated(), c[history.BaseShear].Stated()
	row.AccelSpectral, row.AccelHistory = c[history.FloorAccel].Spectral/hazard.Gravity,
		c[history.FloorAccel].Median/hazard.Gravity
	row.AccelDispersion, row.AccelError, row.AccelOutside = h.WorstAccel.Dispersion, h.WorstAccel.Error,
		c[history.FloorAccel].Outside
	weight := w.a.Archetype.Weight
	row.ShearSpectral, row.ShearHistory, row.ShearOutside = c[history.BaseShear].Spectral/weight,
		c[history.BaseShear].Median/weight, c[history.BaseShear].Outside
	if d := c[history.Displacement]; d.Spectral > 0 {
		row.MoveSpectral, row.MoveHistory, row.MoveBand, row.MoveOutside = d.Spectral, d.Median, d.Stated(),
			d.Outside
	}
	row.Residual = 100 * h.Residual.Median
	s := &h.Share
	row.EnergyFrame, row.EnergyDevices, row.EnergyIsolators = 100*s.Frame, 100*(s.Devices+s.Dampers),
		100*s.Isolators
	row.EnergyOther, row.EnergyError = 100*(s.Inherent+s.Kinetic), 100*s.Error
	row.B20, row.Duration = quality.B20, quality.D595
	row.Status = strings.Join(h.Status.Words(), "; ")
	if check.Err != nil {
		row.Status = check.Err.Error()
	}
	return row
}
