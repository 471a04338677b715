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
	seen     bool // on a visit already
}

// A walk is a visit that is being planned: the stops on it, the leader first.
type walk struct {
	stops []int32
	worth float64
}

// visits groups the buildings to be seen. The building of most worth leads a visit and takes
// along its neighbours within a walk, the most worth first; then the next building leads. Visits
// are numbered by their worth, and s gets those that its text shows.
func (f *findings) visits(s *Search) {
	slices.SortFunc(f.stops, func(x, y stop) int {
		return cmp.Or(cmp.Compare(y.worth, x.worth), cmp.Compare(x.id, y.id))
	})
	cells := map[[2]int][]int32{}
	for i := range f.stops {
		c := f.stops[i].cell()
		cells[c] = append(cells[c], int32(i))
	}
	var walks []walk
	for i := range f.stops {
		if !f.stops[i].seen {
			walks = append(walks, lead(f.stops, cells, i))
		}
	}
	slices.SortStableFunc(walks, func(x, y walk) int { return cmp.Compare(y.worth, x.worth) })
	f.at = make(map[string]int32, len(f.stops))
	for i := range walks {
		for _, k := range walks[i].stops {
			f.at[f.stops[k].id] = int32(i + 1)
		}
		if i < visitsShown {
			s.Visits = append(s.Visits, visitOf(f.stops, &walks[i]))
		}
	}
	f.stops = nil
}

// visitOf returns a walk as people read it.
func visitOf(stops []stop, w *walk) Visit {
	leader := &stops[w.stops[0]]
	v := Visit{Lon: leader.lon, Lat: leader.lat, Worth: w.worth}
	for _, k := range w.stops {
		v.Buildings = append(v.Buildings, stops[k].id)
		for _, f := range stops[k].fields {
			if !slices.Contains(v.Fields, f) {
				v.Fields = append(v.Fields, f)
			}
		}
	}
	return v
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

// lead makes the visit led by stop i.
func lead(stops []stop, cells map[[2]int][]int32, i int) walk {
	leader := &stops[i]
	c := leader.cell()
	var near []int32
	for dx := -1; dx <= 1; dx++ {
		for dy := -1; dy <= 1; dy++ {
			for _, k := range cells[[2]int{c[0] + dx, c[1] + dy}] {
				if !stops[k].seen && leader.near(&stops[k]) {
					near = append(near, k)
				}
			}
		}
	}
	slices.Sort(near) // in order of worth, the leader first
	w := walk{stops: slices.Clone(near[:min(walkBuildings, len(near))])}
	for _, k := range w.stops {
		stops[k].seen = true
		w.worth += stops[k].worth
	}
	return w
}
