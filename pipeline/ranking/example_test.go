package ranking_test

import (
	"fmt"

	"plinth/pipeline/extsort"
	"plinth/pipeline/ranking"
)

// Three buildings, ranked by score and then by id as they come out of a sort that
// would spill to disk if there were millions.
func ExampleRanker() {
	s := extsort.NewSorter(extsort.Options{})
	defer s.Close()
	for id, score := range map[string]float64{"town hall": 80, "school": 100, "museum": 95} {
		key := extsort.AppendString(extsort.AppendDescending(nil, score), id)
		if err := s.Add(key, fmt.Appendf(nil, "%s %g", id, score)); err != nil {
			fmt.Println(err)
			return
		}
	}
	m, err := s.Sorted()
	if err != nil {
		fmt.Println(err)
		return
	}
	var r ranking.Ranker
	for m.Next() {
		var id string
		var score float64
		id, score = split(string(m.Payload()))
		rank := r.Next(score, score)
		fmt.Println(rank.Place, rank.Group, id)
	}
	if err := m.Err(); err != nil {
		fmt.Println(err)
	}
	// Output:
	// 1 1 school
	// 2 1 museum
	// 3 2 town hall
}

// split reads the payload of the example.
func split(payload string) (id string, score float64) {
	for i := len(payload) - 1; i >= 0; i-- {
		if payload[i] == ' ' {
			fmt.Sscan(payload[i+1:], &score)
			return payload[:i], score
		}
	}
	return payload, 0
}

// What two buildings can be given for a million.
func ExampleFund() {
	buildings := []ranking.Prospect{
		{ID: "school", Offers: []ranking.Offer{{Measure: "viscous", Cost: 400e3, Gain: 900e3}, {Measure: "lead-rubber", Cost: 900e3, Gain: 1300e3}}},
		{ID: "museum", Offers: []ranking.Offer{{Measure: "slider", Cost: 600e3, Gain: 800e3}}},
	}
	p, err := ranking.Fund(buildings, 1e6)
	if err != nil {
		fmt.Println(err)
		return
	}
	for i, j := range p.Chosen {
		if j >= 0 {
			fmt.Println(buildings[i].ID, buildings[i].Offers[j].Measure)
		}
	}
	fmt.Printf("spent %.0f, gain %.0f, exact %v\n", p.Spent, p.Gain, p.Exact)
	// Output:
	// school viscous
	// museum slider
	// spent 1000000, gain 1700000, exact true
}
