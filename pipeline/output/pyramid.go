package output

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/mvt"
	"github.com/paulmach/orb/geojson"
	"github.com/paulmach/orb/maptile"
)

// A spot is one point of a map. Its coordinates count units of the last zoom from the north-west
// corner.
type spot struct {
	seq        int64 // place in order of rank
	x, y       int64
	properties map[string]any
}

// A pyramid makes the tiles of all zooms. Its spots come in the order of their quadkeys, in which
// every tile of every zoom is a range.
type pyramid struct {
	layer   string
	write   func(maptile.Tile, []byte) error
	open    [tileLast + 1]openTile
	dropped int64 // spots that the last zoom has no room for
}

// An openTile is the tile of one zoom that spots are being added to.
type openTile struct {
	started bool
	key     uint64
	spots   []spot
	cells   map[[2]int64]int // index in spots of the spot that each cell shows
}

func newPyramid(layer string, write func(maptile.Tile, []byte) error) *pyramid {
	p := &pyramid{layer: layer, write: write}
	for z := range p.open {
		p.open[z].cells = map[[2]int64]int{}
	}
	return p
}

// add takes the next spot, whose tile at the last zoom has the given quadkey.
func (p *pyramid) add(quadkey uint64, s spot) error {
	for z := range p.open {
		o, key := &p.open[z], quadkey>>(2*(tileLast-z))
		if o.started && key != o.key {
			if err := p.close(z); err != nil {
				return err
			}
		}
		o.started, o.key = true, key
		if z == tileLast {
			o.spots = append(o.spots, s)
			if len(o.spots) >= 2*tileMost {
				p.cut(o)
			}
			continue
		}
		cell := [2]int64{s.x >> (tileLast - z) / tileCell, s.y >> (tileLast - z) / tileCell}
		if i, taken := o.cells[cell]; !taken {
			o.cells[cell] = len(o.spots)
			o.spots = append(o.spots, s)
		} else if s.seq < o.spots[i].seq {
			o.spots[i] = s
		}
	}
	return nil
}

// cut keeps the highest ranked spots of a tile that has too many.
func (p *pyramid) cut(o *openTile) {
	slices.SortFunc(o.spots, func(a, b spot) int { return cmp.Compare(a.seq, b.seq) })
	if extra := len(o.spots) - tileMost; extra > 0 {
		p.dropped += int64(extra)
		clear(o.spots[tileMost:])
		o.spots = o.spots[:tileMost]
	}
}

// close writes the open tile of a zoom. The highest ranked spot comes last, so that it is drawn
// over the others.
func (p *pyramid) close(z int) error {
	o := &p.open[z]
	if len(o.spots) == 0 {
		return nil
	}
	p.cut(o)
	slices.Reverse(o.spots)
	tile := maptile.FromQuadkey(o.key, maptile.Zoom(z))
	layer := &mvt.Layer{Name: p.layer, Version: 2, Extent: tileUnit}
	for i := range o.spots {
		s := &o.spots[i]
		f := geojson.NewFeature(orb.Point{float64(s.x >> (tileLast - z) % tileUnit),
			float64(s.y >> (tileLast - z) % tileUnit)})
		f.ID, f.Properties = s.seq, s.properties
		layer.Features = append(layer.Features, f)
	}
	clear(o.spots)
	o.spots = o.spots[:0]
	clear(o.cells)
	data, err := mvt.MarshalGzipped(mvt.Layers{layer})
	if err != nil {
		return err
	}
	return p.write(tile, data)
}

// end writes the tiles that are still open.
func (p *pyramid) end() error {
	for z := range p.open {
		if err := p.close(z); err != nil {
			return err
		}
	}
	return nil
}
