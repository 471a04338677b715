package screen

import (
	"fmt"

	"plinth/pipeline/assess"
	"plinth/pipeline/output"
	"plinth/retrofit/rating"
)

// Manifest returns the manifest of a screening of the given registers.
func Manifest(study *assess.Study, about output.About, counts output.Counts,
	registers []output.Input) (*output.Manifest, error) {
	hash, err := output.HashPlan(study.Plan().Effective())
	if err != nil {
		return nil, err
	}
	m := &output.Manifest{About: about, Counts: counts, Notes: notes(study, counts.Out), Inputs: registers,
		PlanSHA256: hash, Plan: study.Plan().Effective()}
	if u := &study.Plan().Uncertainty; u.Draws > 0 {
		m.Seeds = append(m.Seeds, output.Seed{Name: "uncertainty", Value: uint64(u.Seed)})
	}
	others, err := assess.HashInputs(study.Files()...)
	m.Inputs = append(m.Inputs, others...)
	return m, err
}

// notes returns the notes of a manifest on methods and assumptions.
func notes(study *assess.Study, buildings int64) []string {
	h := &study.Plan().Hazard
	notes := []string{
		fmt.Sprintf("Demand columns hold for a return period of %g years.", h.Design),
		"Spectra are interpolated in ln(Sa) over ln(T), ln(annual frequency) and place; what had to be " +
			"extrapolated is said in hazard_status.",
		study.ShakingNote(),
		"Period and strength come from tables by system, height, era and region " +
			"(docs/methods/archetypes.md); given values override them.",
		"Demand is spectral (docs/methods/demand.md): medians over records of a shear-stick model. " +
			"Solver statuses stand in solver_status.",
		"Costs, loss tables and feasibility limits without a source are labelled judgement where they " +
			"are defined.",
	}
	rungs := study.Model().Rungs(h.ReturnPeriods)
	notes = append(notes, fmt.Sprintf("Annual values are integrals over annual frequency, from once in %g "+
		"years, where damage begins (constants.csv), to once in %g, beyond which loss is held; they do not "+
		"depend on return_periods_yr. frequent_share and rare_share are the parts outside these.",
		rungs[0], rungs[len(rungs)-1]))
	c := &study.Plan().Consequence
	notes = append(notes, fmt.Sprintf("annual_loss_low and annual_loss_high are %g and %g times "+
		"annual_loss: the plan's band of values and loss tables, of every building alike.",
		c.ValueLow, c.ValueHigh))
	notes = append(notes, ratingNotes(study)...)
	return append(notes, drawNotes(study, buildings)...)
}

// ratingNotes returns the notes on the rules that the ratings follow.
func ratingNotes(study *assess.Study) []string {
	var notes []string
	for _, s := range study.Scales() {
		notes = append(notes, fmt.Sprintf("Rating %s: %s. It is a %s (docs/methods/rating.md).", s,
			s.Version(), rating.Caution))
	}
	return notes
}

// drawNotes returns the notes on the draws.
func drawNotes(study *assess.Study, buildings int64) []string {
	u := &study.Plan().Uncertainty
	if u.Draws == 0 {
		return []string{"No draws: ranks are those of medians, and nothing is said of how sure they are " +
			"(uncertainty.draws)."}
	}
	whole := "every building was sampled"
	if buildings > int64(u.Shortlist) {
		whole = fmt.Sprintf("the first %d of %d buildings were sampled and ranked among themselves; the "+
			"others have no interval", u.Shortlist, buildings)
	}
	return []string{fmt.Sprintf("Rank intervals come from %d draws of hazard, period, strength, "+
		"capacity, cost and unknown fields; %s.", u.Draws, whole)}
}
