package sample

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"strings"
)

// The centre of the town, in the open ocean.
const (
	centreLon, centreLat = -141.20, 41.60
	metresPerDegreeLat   = 111_200.0 // of a spherical Earth, enough for a demo
)

// seed determines the demo: the same seed gives the same town.
const seed = 20260

// header is the first line of the register. It has names that an owner might give, not those of the
// program.
const header = "ASSET_ID,NAME,LONGITUDE,LATITUDE,CONSTRUCTION,BUILT,STRENGTHENED,FLOORS,BASEMENTS,HEIGHT_FT,FLOOR_AREA_M2,LENGTH_M,WIDTH_M,USED_FOR,GROUND,GAP_M,LISTED,PEOPLE_DAY,PEOPLE_NIGHT"

// writeRegister writes a register of n buildings: the landmarks, then streets of houses and shops,
// with the dirt of a real register on fixed lines.
func writeRegister(ctx context.Context, w io.Writer, n int) error {
	b := bufio.NewWriterSize(w, 1<<16)
	fmt.Fprintln(b, header)
	var line []byte
	for i := range n {
		if i%4096 == 0 && ctx.Err() != nil {
			return context.Cause(ctx)
		}
		r := building(i)
		soil(i, &r)
		line = r.append(line[:0])
		if _, err := b.Write(line); err != nil {
			return err
		}
	}
	return b.Flush()
}

// A row is one line of the register as text, so that dirt can be written on it.
type row struct {
	id, name, lon, lat, construction, built, strengthened, floors, basements, height,
	area, length, width, use, ground, gap, listed, day, night string
}

func (r *row) append(b []byte) []byte {
	return fmt.Appendf(b, "%s,\"%s\",%s,%s,%s,%s,%s,%s,%s,%s,%s,%s,%s,%s,%s,%s,%s,%s,%s\n",
		r.id, strings.ReplaceAll(r.name, `"`, `""`), r.lon, r.lat, r.construction, r.built, r.strengthened,
		r.floors, r.basements, r.height,
		r.area, r.length, r.width, r.use, r.ground, r.gap, r.listed, r.day, r.night)
}

// building returns row i of the register without dirt.
func building(i int) row {
	rng := rand.New(rand.NewPCG(seed, uint64(i)))
	if i < len(landmarks) {
		l := &landmarks[i]
		storey := 11.5 + 2*rng.Float64() // ft
		r := row{
			name: l.name, construction: l.construction, built: l.built, strengthened: l.strengthened,
			basements: l.basements, use: l.use, ground: l.ground, gap: l.gap, listed: l.listed,
			floors: fmt.Sprint(l.floors), height: fmt.Sprintf("%.1f", storey*float64(l.floors)),
			area: fmt.Sprint(l.area), length: fmt.Sprint(l.length), width: fmt.Sprint(l.width),
			day: fmt.Sprint(l.day), night: fmt.Sprint(l.night),
		}
		r.place(i, l.east, l.north)
		return r
	}
	return street(i, rng)
}

func (r *row) place(i int, east, north float64) {
	r.id = fmt.Sprintf("CS-%05d", i+1)
	lat := centreLat + north/metresPerDegreeLat
	lon := centreLon + east/(metresPerDegreeLat*math.Cos(centreLat*math.Pi/180))
	r.lon, r.lat = fmt.Sprintf("%.6f", lon), fmt.Sprintf("%.6f", lat)
}

// A kind is a kind of street building: how common it is and what it is like.
type kind struct {
	share                float64
	construction, use    string
	firstYear, lastYear  int
	minFloors, maxFloors int
	length, width        float64 // m, typical
	listed               float64 // share protected
}

// kinds of street building. All invented.
var kinds = []kind{
	{0.30, "Timber", "house", 1900, 2015, 1, 2, 14, 9, 0.03},
	{0.14, "Stone/brick", "house", 1860, 1948, 2, 3, 12, 9, 0.15},
	{0.12, "Stone/brick", "shop", 1870, 1940, 2, 4, 18, 12, 0.20},
	{0.12, "RC frame with infill", "apartment", 1946, 1985, 3, 7, 24, 15, 0},
	{0.09, "RC frame", "shop", 1955, 2010, 2, 5, 28, 18, 0},
	{0.07, "RC frame", "office", 1958, 2012, 3, 10, 30, 20, 0},
	{0.05, "RC walls", "apartment", 1962, 2018, 4, 12, 30, 18, 0},
	{0.04, "Block (reinforced)", "shop", 1970, 2015, 1, 2, 26, 16, 0},
	{0.03, "Steel frame (moment)", "office", 1968, 2015, 3, 9, 32, 22, 0},
	{0.02, "Steel frame (braced)", "warehouse", 1975, 2015, 1, 2, 48, 28, 0},
	{0.02, "Tilt-up panels", "warehouse", 1970, 2010, 1, 1, 60, 36, 0},
}

// street returns a house or a shop. Streets form a lattice around the centre. Beyond the 240
// buildings of the town, they fill the country around it evenly.
func street(i int, rng *rand.Rand) row {
	k := pick(rng.Float64())
	year := k.firstYear + rng.IntN(k.lastYear-k.firstYear+1)
	floors := k.minFloors + rng.IntN(k.maxFloors-k.minFloors+1)
	length, width := k.length*(0.8+0.5*rng.Float64()), k.width*(0.8+0.5*rng.Float64())
	area := length * width * float64(floors)
	storey := 9.5 + 2.5*rng.Float64() // ft
	day, night := people(k.use, area)
	listed, basements := "no", "0"
	if rng.Float64() < k.listed {
		listed = "yes"
	}
	if rng.Float64() < 0.25 {
		basements = "1"
	}
	r := row{
		construction: k.construction, built: fmt.Sprint(year), floors: fmt.Sprint(floors), basements: basements,
		height: fmt.Sprintf("%.1f", storey*float64(floors)), area: fmt.Sprintf("%.0f", area),
		length: fmt.Sprintf("%.1f", length), width: fmt.Sprintf("%.1f", width), use: k.use,
		gap: fmt.Sprintf("%.1f", 12*rng.Float64()*rng.Float64()), listed: listed,
		day: fmt.Sprint(day), night: fmt.Sprint(night),
	}
	s := i - len(landmarks)
	names := [...]string{"Tarrow", "Net", "Capstan", "Lantern", "Chandler", "Mole", "Anchor", "Tidewait",
		"Gannet", "Ropewalk", "Salter", "Bellmouth"}
	number := s/len(names) + 1
	r.name = fmt.Sprintf("%d %s Street", number, names[s%len(names)])
	east := -700 + 130*float64(s%len(names)) + 14*rng.Float64()
	north := -420 + 62*float64(number) + 10*rng.Float64()
	if s >= 205 { // the country around: a low-discrepancy spread (golden and plastic ratios)
		east = -6500 + 13000*math.Mod(float64(s)*0.7548776662, 1)
		north = -9000 + 18000*math.Mod(float64(s)*0.5698402910, 1)
	}
	r.place(i, east, north)
	r.ground = groundAt(north)
	return r
}

// groundAt returns the site class of the demo's geology: soft by the water, stiff up the hill.
func groundAt(north float64) string {
	switch {
	case north < -250:
		return "E"
	case north < 150:
		return "D"
	case north < 550:
		return "C"
	}
	return "B"
}

func pick(u float64) *kind {
	for i := range kinds {
		if u -= kinds[i].share; u < 0 {
			return &kinds[i]
		}
	}
	return &kinds[0]
}

// people returns the occupants of a street building by day and by night.
func people(use string, area float64) (day, night int) {
	switch use {
	case "house":
		return 1, 3
	case "apartment":
		return int(area / 90), int(area / 35)
	case "shop":
		return int(area / 25), int(area / 400)
	case "office":
		return int(area / 18), int(area / 2000)
	}
	return int(area / 150), 0
}
