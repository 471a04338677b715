package budget

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"plinth/pipeline/assess"
	"plinth/pipeline/output"
	"plinth/pipeline/ranking"
)

// works fills the rows of the works and of the buildings next in line, from the digests of the
// buildings. There are as many works as the money pays for; of those that wait it keeps the ones
// that are shown.
func (s *stock) works(ctx context.Context, out *Spending, list []ranking.Prospect) error {
	err := s.Each(ctx, func(d *assess.Digest) error {
		i, _ := slices.BinarySearchFunc(list, d.Building.ID,
			func(p ranking.Prospect, id string) int { return strings.Compare(p.ID, id) }) // every one is there
		offers := list[i].Offers
		if j := out.Schedule.Chosen[i]; j >= 0 {
			w := s.work(d, &offers[j], &list[i])
			w.Year = s.year(out.Schedule.Year[i])
			out.Works = append(out.Works, w)
		} else if k := bestWorth(offers); k >= 0 {
			out.wait(s.work(d, &offers[k], &list[i]))
		}
		return nil
	})
	slices.SortFunc(out.Works, byWorth)
	var spent float64
	for i := range out.Works {
		spent += out.Works[i].CostLikely
		out.Works[i].Order, out.Works[i].Cumulative = int64(i+1), spent
	}
	return err
}

// wait puts a building that waits in its place in line, if that is one of those shown.
func (s *Spending) wait(w output.Work) {
	i, _ := slices.BinarySearchFunc(s.Waiting, w, byWorth)
	if i == waitingShown {
		return
	}
	s.Waiting = slices.Insert(s.Waiting, i, w)
	s.Waiting = s.Waiting[:min(waitingShown, len(s.Waiting))]
}

// work returns the row of an offer of the building of d.
func (s *stock) work(d *assess.Digest, o *ranking.Offer, p *ranking.Prospect) output.Work {
	var w output.Work
	output.Programme.Blank(&w)
	b := &d.Building
	c := d.Offer(s.measure(o.Measure))
	w.ID, w.Name, w.Measure, w.Lon, w.Lat = b.ID, b.Name, o.Measure, b.Lon, b.Lat
	w.CostLow, w.CostLikely, w.CostHigh, w.Currency = c.Cost.Low, c.Cost.Likely, c.Cost.High,
		s.study.Plan().Measures.Currency
	w.Gain, w.NetBenefit = o.Gain, c.Net
	w.DeathsAvoided, w.ContentsAvoided, w.DaysSaved = c.Parts.DeathsAvoided, c.Parts.ContentsAvoided,
		c.Parts.DaysAvoided
	w.Weeks, w.Displaced, w.Must, w.Group, w.Verdict = c.Weeks, o.Load, p.Must, p.Group, c.Verdict.String()
	if p.Latest > 0 {
		w.Latest = s.year(p.Latest)
	}
	return w
}

// year returns the calendar year of a year of the programme, 1 for the first.
func (s *stock) year(n int) int64 { return int64(s.study.Plan().Budget.FirstYear + n - 1) }

// measure returns the index of the measure with a slug.
func (s *stock) measure(slug string) int { return slices.Index(s.study.Plan().Measures.Use, slug) }

// byWorth orders works by year, then by gain for cost, the largest first.
func byWorth(x, y output.Work) int {
	return cmp.Or(cmp.Compare(x.Year, y.Year), cmp.Compare(y.Gain/y.CostLikely, x.Gain/x.CostLikely),
		cmp.Compare(x.ID, y.ID))
}

// bestWorth returns the offer that gains most for its cost, -1 where none gains.
func bestWorth(offers []ranking.Offer) int {
	best, most := -1, 0.0
	for i, o := range offers {
		if v := o.Gain / o.Cost; v > most {
			best, most = i, v
		}
	}
	return best
}
