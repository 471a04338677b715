package inspect

import (
	"cmp"
	"math"
	"slices"
)

// A Visit is a walk to neighbouring buildings.
type Visit struct {
	Lon, Lat  float64
	Buildings []string // the most worth first
	Fields    []string
	Worth     float64
}

// A walk covers the distance and the number of buildings that one person sees in a day
// (judgement).
const (
	walkMetres    = 300
	walkBuildings = 8
)

// A stop is one building to be seen.
type stop struct {
	id       string
	lon, lat float64
	worth    float64
	fields   []string
	visit    int
}

// visits groups the buildings to be seen. The building of most worth leads a visit and takes
// along its neighbours within a walk, the most worth first; then the next building leads.
func (s *Search) visits() {
	var stops []stop
	at := map[string]int{}
	for i := range s.Rows {
		r := &s.Rows[i]
		k, ok := at[r.ID]
		if !ok {
			k = len(stops)
			at[r.ID] = k
			stops = append(stops, stop{id: r.ID, lon: r.Lon, lat: r.Lat})
		}
		stops[k].worth += r.Worth
		stops[k].fields = append(stops[k].fields, r.Field)
	}
	slices.SortFunc(stops, func(x, y stop) int {
		return cmp.Or(cmp.Compare(y.worth, x.worth), cmp.Compare(x.id, y.id))
	})
	cells := map[[2]int][]int{}
	for i := range stops {
		c := stops[i].cell()
		cells[c] = append(cells[c], i)
	}
	for i := range stops {
		if stops[i].visit == 0 {
			s.Visits = append(s.Visits, lead(stops, cells, i, len(s.Visits)+1))
		}
	}
	number := map[int]int{} // of visits in order of worth
	order := make([]int, len(s.Visits))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int {
		return cmp.Compare(s.Visits[j].Worth, s.Visits[i].Worth)
	})
	sorted := make([]Visit, len(order))
	for place, i := range order {
		number[i+1], sorted[place] = place+1, s.Visits[i]
	}
	s.Visits = sorted
	for i := range stops {
		at[stops[i].id] = number[stops[i].visit]
	}
	for i := range s.Rows {
		s.Rows[i].Visit = int64(at[s.Rows[i].ID])
	}
}

// metresPerDegree of latitude, on a sphere of 6371 km.
const metresPerDegree = 6371e3 * math.Pi / 180

// cell returns the grid cell of a stop; cells have the size of a walk.
func (s *stop) cell() [2]int {
	const size = walkMetres / metresPerDegree
	return [2]int{int(math.Floor(s.lon * math.Cos(math.Round(s.lat)*math.Pi/180) / size)),
		int(math.Floor(s.lat / size))}
}

func (s *stop) near(o *stop) bool {
	x := (s.lon - o.lon) * math.Cos(s.lat*math.Pi/180)
	return math.Hypot(x, s.lat-o.lat)*metresPerDegree <= walkMetres
}

// lead makes the visit led by stop i, numbered n.
func lead(stops []stop, cells map[[2]int][]int, i, n int) Visit {
	leader := &stops[i]
	c := leader.cell()
	var near []int
	for dx := -1; dx <= 1; dx++ {
		for dy := -1; dy <= 1; dy++ {
			for _, k := range cells[[2]int{c[0] + dx, c[1] + dy}] {
				if stops[k].visit == 0 && leader.near(&stops[k]) {
					near = append(near, k)
				}
			}
		}
	}
	slices.Sort(near) // in order of worth, the leader first
	v := Visit{Lon: leader.lon, Lat: leader.lat}
	for _, k := range near[:min(walkBuildings, len(near))] {
		stops[k].visit = n
		v.Buildings = append(v.Buildings, stops[k].id)
		v.Worth += stops[k].worth
		for _, f := range stops[k].fields {
			if !slices.Contains(v.Fields, f) {
				v.Fields = append(v.Fields, f)
			}
		}
	}
	return v
}
