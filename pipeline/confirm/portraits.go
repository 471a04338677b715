package confirm

import (
	"context"
	"errors"
	"slices"

	"plinth/archetypes"
	"plinth/hazard/motion"
	"plinth/pipeline/assess"
	"plinth/pipeline/output"
	"plinth/pipeline/ranking"
	"plinth/pipeline/report"
	"plinth/retrofit/history"
)

// portraitMeasures is the number of measures in a portrait, besides the building as it stands.
const portraitMeasures = 2

// portraits draws the first buildings of the list, as many as the plan asks for. Their time
// histories are computed again, since motion is kept only for the records that are drawn.
func portraits(ctx context.Context, study *assess.Study, s assess.Settings, list []ranked,
	suites suiteMaker) ([]*report.Portrait, error) {
	list = list[:min(len(list), study.Plan().Confirm.Pictures)]
	out := make([]*report.Portrait, len(list))
	err := sideBySide(ctx, study, s, suites, len(list), func(w *historyRunner, i int) error {
		portrait, err := w.portray(&list[i], len(list))
		if assess.FailureOf(err) != nil { // its row says so
			*w = historyRunner{study: study, a: study.NewAssessment(), suites: suites}
			return nil
		}
		out[i] = portrait
		return err
	})
	return slices.DeleteFunc(out, func(p *report.Portrait) bool { return p == nil }), err
}

// portray draws one building; of is the number of buildings drawn.
func (w *historyRunner) portray(b *ranked, of int) (_ *report.Portrait, err error) {
	defer assess.CatchPanic(&b.building, &err)
	subject, err := w.subject(b)
	if err != nil {
		return nil, err
	}
	return report.Portray(subject, of)
}

// subject takes a building, as it stands and with its best measures, through all records and
// through the typical one.
func (w *historyRunner) subject(b *ranked) (*report.Subject, error) {
	suite, err := w.enter(b)
	if err != nil {
		return nil, err
	}
	a := w.a
	s := &report.Subject{
		Rank: int64(b.place), ID: b.building.ID, Name: b.building.Name,
		Height: append([]float64(nil), a.Stick.Height...),
		Weight: a.Archetype.Weight, Object: w.study.Plan().Consequence.FreeStanding,
	}
	now, err := w.stand(ranking.NoMeasure, &a.Stick, nil, suite, -1)
	if err != nil {
		return nil, err
	}
	record := now.Check.History.Typical
	s.Record, s.Stands = suite.Records[record].Name, append(s.Stands, now)
	for _, i := range a.Choice.Order[:a.Choice.Chosen] {
		o := a.OptionAt(i)
		if o == nil || len(s.Stands) > portraitMeasures {
			continue
		}
		built := w.build(o)
		st, err := w.stand(o.Measure.Slug(), built.Stick, built.Device, suite, record)
		if errors.Is(err, history.ErrDevice) || err == nil && moveAlike(&st, &s.Stands[len(s.Stands)-1]) {
			continue
		}
		if err != nil {
			return nil, err
		}
		s.Stands = append(s.Stands, st)
	}
	return s, nil
}

// stand takes one structure through the suite and through one of its records, the
// typical one where record is negative.
func (w *historyRunner) stand(measure string, st *archetypes.Stick, d history.Device, suite *motion.Suite,
	record int) (report.Stand, error) {
	check := w.method.Confirm(st, suite, []history.Device{d}, w.options(), nil)[0]
	if check.Err != nil {
		return report.Stand{}, check.Err
	}
	m, err := history.New(st, d, w.options())
	if err != nil {
		return report.Stand{}, err
	}
	if record < 0 {
		record = check.History.Typical
	}
	out := report.Stand{Measure: measure, Check: &check, Series: new(history.Series),
		Peaks: new(history.Result)}
	work := history.Work{Series: out.Series}
	work.Run(m, &suite.Records[record], out.Peaks)
	return out, nil
}

// moveAlike reports whether two structures move in the same way, such as isolation and
// isolation with a strengthening that is not needed.
func moveAlike(a, b *report.Stand) bool {
	return a.Peaks.Roof == b.Peaks.Roof && a.Peaks.PeakAccel == b.Peaks.PeakAccel &&
		a.Peaks.Displacement == b.Peaks.Displacement
}

// writePage writes the page of a confirmation.
func writePage(study *assess.Study, set *output.Set, in report.ConfirmInput) error {
	f, err := set.Create(report.ConfirmName)
	if err != nil {
		return err
	}
	return errors.Join(report.WriteConfirm(f, in), f.Close())
}
