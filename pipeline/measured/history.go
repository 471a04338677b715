package measured

import (
	"plinth/hazard"
	"plinth/hazard/motion"
	"plinth/pipeline"
	timehistory "plinth/retrofit/history"
)

// timed is what time histories say of a structure under its own foot motion.
type timed struct {
	factor float64   // on the record, to the spectrum it was made into; near 1
	accel  []float64 // g, of each floor
	drift  float64   // largest of the storeys, %
	roof   float64   // m
}

// history takes a building through time histories under its own record as plinth confirm
// does with records of the owner: scaled to the spectrum of the site over 0.2 to 2 periods.
func history(rec *motion.Record, run *pipeline.Run, a *pipeline.Assessment) (*timed, error) {
	t := a.Archetype.Period
	suite, err := motion.Fit([]motion.Record{*rec}, &a.Site.Spectra[run.Design()], motion.Scaled, 0.2*t, 2*t, 0)
	if err != nil {
		return nil, err
	}
	var c timehistory.Confirmer
	options := timehistory.Options{PDelta: run.Plan().Confirm.PDelta}
	check := c.Confirm(&a.Stick, suite, []timehistory.Device{nil}, options, nil)[0]
	if check.Err != nil {
		return nil, check.Err
	}
	h := &check.History
	out := &timed{factor: suite.Records[0].Scale / rec.Scale}
	out.drift, out.roof = 100*h.WorstDrift.Median, h.Roof.Median
	for i := range h.Accel {
		out.accel = append(out.accel, h.Accel[i].Median/hazard.Gravity)
	}
	return out, nil
}
