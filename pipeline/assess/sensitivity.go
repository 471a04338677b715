package assess

import (
	"math"

	"plinth/pipeline/confidence"
	"plinth/pipeline/inventory"
	"plinth/retrofit"
)

// shortlisted is the number of measures of a building that are drawn: the best by score. In
// 97 to 100 % of cases the best by time histories is among the first three of the spectral
// method (shear-stick models under artificial records). Evaluating all takes most of the time.
const shortlisted = 3

// A Sensitivity finds how the annual values of a building depend on its unknown properties.
// It is the scratch space of one goroutine.
type Sensitivity struct {
	a        *Assessment // of the building moved away from its description
	only     []bool
	options  []int    // shortlisted, in order of score
	Measures []string // their slugs
	Response confidence.Response
	altered  inventory.Building
}

func (study *Study) NewSensitivity() *Sensitivity {
	return &Sensitivity{a: study.NewAssessment(), only: make([]bool, len(study.measures))}
}

// Learn fills the response of the building of base. It assesses the building again with each
// input moved to both nodes, one at a time, and with each possible value of each unknown field.
// Measures are sized for the perturbed building, since a design would follow an investigation.
func (p *Sensitivity) Learn(base *Digest, s *confidence.Settings) error {
	p.shortlist(base)
	b := &base.Building
	r := &p.Response
	if err := p.assess(b, asDrawn, &r.Centre); err != nil {
		return err
	}
	r.CostSD = append(r.CostSD[:0], 0)
	for _, i := range p.options {
		r.CostSD = append(r.CostSD, costSD(base.Offer(i).Cost))
	}
	if err := p.fields(base); err != nil {
		return err
	}
	r.SD = [confidence.NumInputs]float64{
		confidence.Hazard: s.HazardSD(), confidence.Period: base.PeriodBeta,
		confidence.Strength: p.strengthSD(base), confidence.Capacity: p.a.Archetype.LimitsBeta,
	}
	for i := range confidence.Input(confidence.NumInputs) {
		for _, side := range []struct {
			z  float64
			to *[]confidence.State
		}{{-confidence.Node, &r.Low[i]}, {confidence.Node, &r.High[i]}} {
			if err := p.assess(b, moved(i, math.Exp(side.z*r.SD[i])), side.to); err != nil {
				return err
			}
		}
	}
	return nil
}

// shortlist chooses the measures to follow.
func (p *Sensitivity) shortlist(base *Digest) {
	clear(p.only)
	p.options, p.Measures = p.options[:0], p.Measures[:0]
	for _, i := range base.Order {
		if i >= 0 && len(p.options) < shortlisted {
			p.only[i] = true
			p.options = append(p.options, i)
			p.Measures = append(p.Measures, p.a.study.measures[i].Slug())
		}
	}
}

// fields fills the response to each possible value of each unknown field. It returns only
// failures of the program.
func (p *Sensitivity) fields(base *Digest) error {
	r := &p.Response
	r.Fields = r.Fields[:0]
	for _, u := range p.a.study.UnknownFields(base) {
		var f confidence.Field
		for _, v := range u.Values {
			value := confidence.Value{Probability: v.Probability}
			if v.Set != nil {
				p.altered = base.Building
				v.Set(&p.altered)
				if err := p.assess(&p.altered, asDrawn, &value.States); FailureOf(err) != nil {
					return err
				} else if err != nil {
					value.States = nil // outside the method or the hazard: not followed
				}
			}
			f.Values = append(f.Values, value)
		}
		r.Fields = append(r.Fields, f)
	}
	return nil
}

// strengthSD returns the dispersion of strength for the draws. It is that of a building of
// known year, since an unknown year is drawn as a field of its own.
func (p *Sensitivity) strengthSD(base *Digest) float64 {
	if base.Building.Year == 0 {
		b := base.Building
		b.Year = 1972
		d, err := p.a.describe(&b)
		if err == nil && p.a.study.tables.Assign(&d, &p.a.Archetype) == nil {
			return p.a.Archetype.StrengthBeta
		}
	}
	return base.StrengthBeta
}

// assess sets states to those of b under a perturbation.
func (p *Sensitivity) assess(b *inventory.Building, t perturbation, states *[]confidence.State) error {
	a := p.a
	a.perturbation, a.only = t, p.only
	if err := a.assess(b); err != nil {
		return err
	}
	out := append((*states)[:0], confidence.StateOf(&a.Before, 0))
	for _, i := range p.options {
		o := &a.Options[i]
		if !a.Choosable(o) {
			out = append(out, confidence.State{Barred: true})
			continue
		}
		out = append(out, confidence.StateOf(&o.After, o.Cost.Likely))
	}
	*states = out
	return nil
}

// asDrawn is a draw at the medians.
var asDrawn = perturbation{hazard: 1, period: 1, strength: 1, capacity: 1, drawn: true}

// moved returns asDrawn with a factor on one input.
func moved(i confidence.Input, by float64) perturbation {
	t := asDrawn
	switch i {
	case confidence.Hazard:
		t.hazard = by
	case confidence.Period:
		t.period = by
	case confidence.Strength:
		t.strength = by
	case confidence.Capacity:
		t.capacity = by
	}
	return t
}

// costSD returns the standard deviation of ln cost. The low and high estimates are read as
// the 10 % and 90 % points (judgement); 1.2816 is the 90 % point of the normal distribution.
func costSD(c retrofit.Cost) float64 {
	if !(c.Low > 0 && c.High >= c.Low) {
		return 0
	}
	return math.Log(c.High/c.Low) / (2 * 1.2816)
}

// DrawSettings returns the settings of the draws in the plan.
func (study *Study) DrawSettings() confidence.Settings {
	u := &study.plan.Uncertainty
	return confidence.Settings{
		Draws: u.Draws, Seed: uint64(u.Seed), HazardCommon: u.HazardCommon, HazardLocal: u.HazardLocal,
		StrengthCommon: u.StrengthCommon, CostCommon: u.CostCommon,
	}
}
