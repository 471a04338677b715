package output

import (
	"encoding/binary"
	"math"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/maptile"
)

// A tileEntry says where a tile lies in a PMTiles file, or with run 0 where a directory does
// (specification version 3, clause 4). Offsets count from the begin of the tiles, or of the leaf
// directories.
type tileEntry struct{ id, offset, length, run uint64 }

// The parts of a PMTiles file. The header is as long as clause 3 says. The root directory must end
// within the first 16,384 bytes (clause 3.1).
const (
	archiveHeader = 127
	archiveFirst  = 16384
	leafEntries   = 4096 // of a leaf directory, to begin with (judgement)
)

// tileID returns the id of a tile: the number of tiles of all zooms before its own, plus its place on
// the Hilbert curve of its zoom (specification, clause 4.1):
//
//	id = (4^z - 1) / 3 + d(x, y)
//
// The loop is that of D. Hilbert's curve from the largest square to the least: in each, the quarter
// is counted and the rest of the way is turned into the frame of the first quarter.
func tileID(t maptile.Tile) uint64 {
	id := (uint64(1)<<(2*t.Z) - 1) / 3
	x, y := uint64(t.X), uint64(t.Y)
	for s := uint64(1) << t.Z >> 1; s > 0; s >>= 1 {
		right, low := x/s&1, y/s&1
		id += s * s * (3*right ^ low)
		if low == 0 {
			if right == 1 {
				x, y = s-1-x&(s-1), s-1-y&(s-1)
			}
			x, y = y, x
		}
	}
	return id
}

// directories returns the root directory and the leaf directories one after the other, compressed.
// Entries that do not fit in the root go into leaves, which are made longer until the root has room
// for them.
func directories(entries []tileEntry) (root, leaves []byte, err error) {
	if root, err = directory(entries); err != nil || len(root) <= archiveFirst-archiveHeader {
		return root, nil, err
	}
	for size := leafEntries; ; size *= 2 {
		var top []tileEntry
		leaves = leaves[:0]
		for from := 0; from < len(entries); from += size {
			leaf, err := directory(entries[from:min(from+size, len(entries))])
			if err != nil {
				return nil, nil, err
			}
			top = append(top, tileEntry{id: entries[from].id, offset: uint64(len(leaves)), length: uint64(len(leaf))})
			leaves = append(leaves, leaf...)
		}
		if root, err = directory(top); err != nil || len(root) <= archiveFirst-archiveHeader {
			return root, leaves, err
		}
	}
}

// directory returns entries as a compressed directory (clause 4.2): their number, then all ids as
// differences, all runs, all lengths, and all offsets, 0 for one that follows on the entry before it
// and else one more than the offset.
func directory(entries []tileEntry) ([]byte, error) {
	b := binary.AppendUvarint(nil, uint64(len(entries)))
	var last uint64
	for _, e := range entries {
		b, last = binary.AppendUvarint(b, e.id-last), e.id
	}
	for _, e := range entries {
		b = binary.AppendUvarint(b, e.run)
	}
	for _, e := range entries {
		b = binary.AppendUvarint(b, e.length)
	}
	for i, e := range entries {
		if i > 0 && e.offset == entries[i-1].offset+entries[i-1].length {
			b = append(b, 0)
			continue
		}
		b = binary.AppendUvarint(b, e.offset+1)
	}
	return gzipped(b)
}

// header returns the header of the file (clause 3): root directory, metadata, leaf directories and
// tiles follow it in this order.
func (w *Archive[R]) header(entries []tileEntry, root, said, leaves int) []byte {
	const compressed, vector = 2, 1 // gzip; Mapbox vector tiles
	b := append(make([]byte, 0, archiveHeader), "PMTiles\x03"...)
	at := uint64(archiveHeader)
	tiles, n := uint64(0), uint64(len(entries))
	if n > 0 {
		tiles = entries[n-1].offset + entries[n-1].length
	}
	for _, length := range []uint64{uint64(root), uint64(said), uint64(leaves), tiles} {
		b = binary.LittleEndian.AppendUint64(b, at)
		b = binary.LittleEndian.AppendUint64(b, length)
		at += length
	}
	for range 3 { // tiles, entries and contents: none stands twice
		b = binary.LittleEndian.AppendUint64(b, n)
	}
	b = append(b, 1, compressed, compressed, vector, 0, tileLast) // 1: in the order of ids
	west, east := orb.Point{}, orb.Point{}
	middle := orb.Point{}
	if box := &w.tiles.geo.box; box.x.seen {
		west, east, middle = orb.Point{box.x.min, box.y.min}, orb.Point{box.x.max, box.y.max}, box.center()
	}
	b = appendPlace(appendPlace(b, west), east)
	return appendPlace(append(b, centerZoom), middle)
}

// appendPlace appends longitude and latitude in units of 1e-7 degrees.
func appendPlace(b []byte, p orb.Point) []byte {
	for _, v := range p {
		b = binary.LittleEndian.AppendUint32(b, uint32(int32(math.Round(v*1e7))))
	}
	return b
}
