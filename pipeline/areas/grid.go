package areas

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// A Grid divides the earth into cells that are near square. Cell is their side in m, more than 0.
//
// Rows are s = Cell / (R pi/180) degrees of latitude high, R = orb.EarthRadius = 6378137 m. In a row
// whose middle lies at latitude phi a cell is s / cos(phi_b) degrees of longitude wide, where phi_b is
// the middle of the whole degree that phi lies in, so that cells of a town stand over each other. A
// cell is then wider or narrower than its side by less than
//
//	tan(phi) * 0.5 * pi/180
//
// of it: 0.8 % at 42 degrees, 1.5 % at 60 degrees. Within half a degree of a pole there is one cell a
// row or few, and no towns.
type Grid struct{ Cell float64 }

// Bound returns the cell of a place in degrees.
func (g Grid) Bound(lon, lat float64) orb.Bound {
	high := g.Cell / orb.EarthRadius * 180 / math.Pi
	south := math.Floor(lat/high) * high
	band := max(-89.5, min(math.Floor(south+high/2)+0.5, 89.5))
	wide := high / math.Cos(band*math.Pi/180)
	west := math.Floor(lon/wide) * wide
	return orb.Bound{Min: orb.Point{west, south}, Max: orb.Point{west + wide, south + high}}
}

// Name returns the name of the cell of a place: its middle as latitude and longitude to four decimals,
// 11 m. It returns "" for a place that is not known.
func (g Grid) Name(lon, lat float64) string {
	if math.IsNaN(lon) || math.IsNaN(lat) {
		return ""
	}
	middle := g.Bound(lon, lat).Center()
	return fmt.Sprintf("%.4f %.4f", middle.Lat(), middle.Lon())
}
