package confidence

import (
	"cmp"
	"slices"
	"sync"
)

// A Stock gathers the samples of buildings and ranks them in every draw. It takes four bytes for
// each building and draw.
type Stock struct {
	draws int

	mu   sync.Mutex
	rows []row
	at   map[string]int // index in rows, once ranked
}

type row struct {
	id   string
	rank []uint32  // place in each draw, once ranked
	by   []float32 // what it is ranked by, until ranked
}

// NewStock returns an empty stock for the given number of draws.
func NewStock(draws int) *Stock { return &Stock{draws: draws} }

// Add adds a building with the numbers by which it is ranked in each draw, the larger first.
// Several goroutines may use one stock.
func (s *Stock) Add(id string, by []float32) {
	r := row{id: id, by: slices.Clone(by)}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.rows = append(s.rows, r)
}

// Rank ranks all buildings in every draw, the largest first, equal ones by id.
func (s *Stock) Rank() {
	slices.SortFunc(s.rows, func(a, b row) int { return cmp.Compare(a.id, b.id) })
	s.at = make(map[string]int, len(s.rows))
	ranks := make([]uint32, len(s.rows)*s.draws)
	order := make([]int, len(s.rows))
	for i := range s.rows {
		s.at[s.rows[i].id] = i
		s.rows[i].rank = ranks[i*s.draws : (i+1)*s.draws]
	}
	for d := range s.draws {
		for i := range order {
			order[i] = i
		}
		slices.SortFunc(order, func(i, j int) int {
			return cmp.Or(cmp.Compare(s.rows[j].by[d], s.rows[i].by[d]), cmp.Compare(i, j))
		})
		for place, i := range order {
			s.rows[i].rank[d] = uint32(place + 1)
		}
	}
	for i := range s.rows {
		s.rows[i].by = nil
	}
}

// An Interval is the range of the rank of a building over the draws.
type Interval struct {
	Low, Median, High int64   // ranks that 5, 50 and 95 % of draws do not exceed
	Top               float64 // share of draws in which it is among the first k
}

// Level is the probability that an Interval leaves out on each side.
const Level = 0.05

// Interval returns the interval of a building, and false if the building was not sampled. k is the
// number of places that Top counts.
//
// With n draws, Low and High are the order statistics j and n+1-j, with j = Level (n + 1) rounded
// down. A truth that comes from the same distribution as the draws lies between them with
// probability 1 - 2j/(n + 1), whatever the distribution; that is 90 % for n = 199 (exchangeability;
// Wilks 1941, Annals of Mathematical Statistics 12).
func (s *Stock) Interval(id string, k int) (Interval, bool) {
	i, ok := s.at[id]
	if !ok || s.draws == 0 {
		return Interval{}, false
	}
	r := &s.rows[i]
	sorted := slices.Clone(r.rank)
	slices.Sort(sorted)
	j := max(1, int(Level*float64(s.draws+1)))
	out := Interval{
		Low: int64(sorted[j-1]), Median: int64(sorted[(s.draws-1)/2]), High: int64(sorted[s.draws-j]),
	}
	in, _ := slices.BinarySearch(sorted, uint32(k)+1)
	out.Top = float64(in) / float64(s.draws)
	return out, true
}

// Ranks returns the rank of a building in each draw, or nil if the building was not sampled.
func (s *Stock) Ranks(id string) []uint32 {
	i, ok := s.at[id]
	if !ok {
		return nil
	}
	return s.rows[i].rank
}

// Separation is the share of draws in which one building must come before another for the two to be
// told apart.
const Separation = 0.90

// Groups puts buildings that cannot be told apart into groups. Next takes them in the order of
// rank.
//
// A group is led by its first building. It takes every following building that the leader does not
// come before in Separation of the draws. Groups do not chain, since a chain could join a whole
// stock: a member and the leader are not told apart, and neighbours across a border may not be
// either.
type Groups struct {
	stock  *Stock
	leader *row
	group  int64
}

// Groups returns groups that begin at the first rank.
func (s *Stock) Groups() *Groups { return &Groups{stock: s} }

// Next returns the group of the next building, and false if the building was not sampled.
func (g *Groups) Next(id string) (int64, bool) {
	i, ok := g.stock.at[id]
	if !ok {
		return 0, false
	}
	r := &g.stock.rows[i]
	if g.leader == nil || g.leader.before(r) >= Separation {
		g.leader = r
		g.group++
	}
	return g.group, true
}

// before returns the share of draws in which r comes before other.
func (r *row) before(other *row) float64 {
	n := 0
	for d := range r.rank {
		if r.rank[d] < other.rank[d] {
			n++
		}
	}
	return float64(n) / float64(len(r.rank))
}
