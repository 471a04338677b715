package report

import (
	"math"
	"slices"

	"plinth/pipeline/output"
	"plinth/pipeline/ranking"
)

// The numbers of rows that a page holds. A page of MaxBuildings is about 7 MB and stays quick.
// Reasons rule by rule are many, and readers ask for them at the top of the list only.
const (
	MaxBuildings = 5000 // foremost by rank
	MaxReasons   = 500  // buildings with every rule that is not clear, and all designs
	MaxRejects   = 200
)

// A Stock collects the rows of a run for a page. It keeps the foremost buildings in full and sums
// all of them. Buildings come in order of rank. The first MaxBuildings of them must come before any
// other row. The kinds of rows may come from different goroutines.
type Stock struct {
	buildings  []output.Building
	candidates []output.Candidate
	verdicts   []output.Verdict
	rejects    []output.Reject

	place map[string]int // index of each kept building, by id

	deadlier map[int]bool // places of buildings whose best measure is expected to cost lives

	n        int64
	grades   [4]int64 // of all buildings, A to D
	measures []share  // of all buildings, by best measure
	worst    []output.Building

	now    int64             // of all buildings, those an engineer should look at now
	urgent []output.Building // the most dangerous of them
}

// A share sums the buildings with one best measure.
type share struct {
	measure string
	n       int64
	cost    float64 // sum of the likely costs
	benefit float64 // sum of the net benefits
}

// worstBuildings is the number of buildings worst off that are kept for the first screen.
const worstBuildings = 3

// Building takes the next building in order of rank.
func (s *Stock) Building(b *output.Building) {
	if s.place == nil {
		s.place, s.deadlier = map[string]int{}, map[int]bool{}
	}
	s.n++
	if g := b.DataGrade; len(g) == 1 && g >= "A" && g <= "D" {
		s.grades[g[0]-'A']++
	}
	if len(s.buildings) < MaxBuildings {
		s.place[b.ID] = len(s.buildings)
		s.buildings = append(s.buildings, *b)
		if last := len(s.buildings) - 1; last >= MaxReasons {
			s.buildings[last].WhyNot = ""
		}
	}
	i := slices.IndexFunc(s.measures, func(m share) bool { return m.measure == b.Best })
	if i < 0 {
		i = len(s.measures)
		s.measures = append(s.measures, share{measure: b.Best})
	}
	m := &s.measures[i]
	m.n++
	m.cost += known(b.BestCostLikely)
	m.benefit += known(b.BestNetBenefit)
	s.keepWorst(b)
	s.keepUrgent(b)
}

// urgentBuildings is the number of buildings to be looked at now that the first screen names.
const urgentBuildings = 8

// keepUrgent counts b if an engineer should look at it now, and keeps it if it is among the most
// dangerous of these. Of equals the one of lower rank stays behind.
func (s *Stock) keepUrgent(b *output.Building) {
	if b.LookNow == "" {
		return
	}
	s.now++
	i, _ := slices.BinarySearchFunc(s.urgent, b.IndividualRisk, func(o output.Building, risk float64) int {
		if o.IndividualRisk >= risk {
			return -1
		}
		return 1
	})
	if i < urgentBuildings {
		s.urgent = slices.Insert(s.urgent, i, *b)
		s.urgent = s.urgent[:min(len(s.urgent), urgentBuildings)]
	}
}

// keepWorst keeps b if it is among the buildings worst off as they stand.
func (s *Stock) keepWorst(b *output.Building) {
	if b.RankAsIs == output.NoInt {
		return
	}
	i, _ := slices.BinarySearchFunc(s.worst, b.RankAsIs,
		func(o output.Building, rank int64) int { return int(o.RankAsIs - rank) })
	if i < worstBuildings {
		s.worst = slices.Insert(s.worst, i, *b)
		s.worst = s.worst[:min(len(s.worst), worstBuildings)]
	}
}

// Candidate takes the next measure of a building, the best first.
func (s *Stock) Candidate(c *output.Candidate) {
	i, ok := s.place[c.BuildingID]
	if !ok {
		return
	}
	s.candidates = append(s.candidates, *c)
	best := s.buildings[i].Best == c.Measure
	if best && c.DeathsAvoided < 0 {
		s.deadlier[i] = true
	}
	if kept := &s.candidates[len(s.candidates)-1]; i >= MaxReasons {
		kept.VerdictReason = ""
		if !best {
			kept.Design = ""
		}
	}
}

// Verdict takes the next rule that is not clear.
func (s *Stock) Verdict(v *output.Verdict) {
	if i, ok := s.place[v.BuildingID]; ok && i < MaxReasons {
		s.verdicts = append(s.verdicts, *v)
	}
}

// Reject takes the next row of the register that could not be used.
func (s *Stock) Reject(r *output.Reject) {
	if len(s.rejects) < MaxRejects {
		s.rejects = append(s.rejects, *r)
	}
}

// treated returns the number of buildings for which a measure comes before doing nothing, and the
// number for which none could be judged.
func (s *Stock) treated() (n, unjudged int64) {
	for _, m := range s.measures {
		switch m.measure {
		case "":
			unjudged += m.n
		case ranking.NoMeasure:
		default:
			n += m.n
		}
	}
	return n, unjudged
}

// hasMeasure reports whether a measure comes before doing nothing.
func hasMeasure(b *output.Building) bool { return b.Best != "" && b.Best != ranking.NoMeasure }

// known returns v, or 0 if v is not a finite number.
func known(v float64) float64 {
	if math.IsNaN(v - v) {
		return 0
	}
	return v
}
