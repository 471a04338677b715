package assess

import (
	"fmt"
	"strconv"

	"plinth/hazard"
	"plinth/pipeline/output"
	"plinth/retrofit/consequence"
)

// Where an engineer should look now, whatever the rank.
const (
	// Annual probability of death of a person who is always inside. 1 in 10,000 is the most that is
	// tolerable for members of the public (Health and Safety Executive, Reducing risks, protecting
	// people, 2001, paragraph 132; from memory). It does not depend on the size of the stock.
	tolerableRisk = 1e-4
	// Annual frequency of collapse, for buildings that stand empty beside others: five times the aim
	// of present codes, 1 % in 50 years (ASCE 7-16 21.2.1). Judgement.
	tolerableCollapse = 1e-3
)

// LookNow returns the sentence for a building beyond what is tolerable as it stands, "" for others.
// Where annual values are not known it goes by the drift at the design return period.
func (a *Assessment) LookNow() string {
	before := &a.Before
	once := func(frequency float64) string {
		return strconv.FormatFloat(output.Round(1/frequency, 2), 'f', -1, 64)
	}
	far := ""
	if a.Site.Status&hazard.FarBeyond != 0 {
		far = ", by shaking far outside the return periods of the hazard"
	}
	switch {
	case !a.SlopeKnown():
		if a.AsIs[a.study.design].DriftRatio <= a.Exposure.Limits[consequence.CollapsePrevention] {
			return ""
		}
		return fmt.Sprintf("have an engineer look now: beyond collapse prevention in the shaking of %g years; "+
			"how often is not known from one return period", a.study.plan.Hazard.Design)
	case before.DeathRisk > tolerableRisk:
		return "have an engineer look now: whoever is always inside dies here about once in " +
			once(before.DeathRisk) + " years, oftener than once in 10,000 (the tolerable limit of HSE 2001)" + far
	case before.Collapse > tolerableCollapse:
		return "have an engineer look now: it collapses about once in " + once(before.Collapse) +
			" years, oftener than once in 1,000 (judgement)" + far
	}
	return ""
}
