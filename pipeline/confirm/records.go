package confirm

import (
	"plinth/hazard"
	"plinth/hazard/motion"
	"plinth/pipeline/assess"
	"plinth/pipeline/plan"
)

// A suiteMaker returns the records that match the spectrum of a site. Goroutines may share it.
type suiteMaker func(target *hazard.Spectrum, period float64) (*motion.Suite, error)

// libraryShapes is the number of spectral shapes that a library keeps records for.
const libraryShapes = 64

// openSuites returns the suiteMaker of the plan.
func openSuites(study *assess.Study) (suiteMaker, error) {
	c := &study.Plan().Confirm
	if len(c.RecordFiles) > 0 {
		own, err := ownRecords(c)
		return own, study.InPlan("confirm.record_files", err)
	}
	s := motion.DefaultSettings()
	s.Records, s.Seed, s.Envelope = c.Records, uint64(c.Seed), motion.Envelope{} // of the hazard
	if c.Duration > 0 {
		s.Envelope = motion.EnvelopeFor(c.Duration)
	}
	library, err := motion.NewLibrary(s, libraryShapes)
	if err != nil {
		return nil, study.InPlan("confirm", err)
	}
	return func(target *hazard.Spectrum, _ float64) (*motion.Suite, error) {
		return library.Suite(target)
	}, nil
}

// ownRecords reads records of the user, scaled or matched over 0.2 to 2 periods
// (ASCE 7-16 16.2.3.1).
func ownRecords(c *plan.Confirm) (suiteMaker, error) {
	var records []motion.Record
	for _, path := range c.RecordFiles {
		f, err := assess.OpenNamed(path)
		if err != nil {
			return nil, err
		}
		rec, err := motion.ReadRecord(f, path)
		f.Close()
		if err != nil {
			return nil, err
		}
		records = append(records, *rec)
	}
	how, iterations := motion.Scaled, 0
	if c.Fitting == "matched" {
		how, iterations = motion.Matched, motion.DefaultSettings().Iterations
	}
	return func(target *hazard.Spectrum, period float64) (*motion.Suite, error) {
		return motion.Fit(records, target, how, 0.2*period, 2*period, iterations)
	}, nil
}
