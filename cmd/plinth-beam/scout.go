package main

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"hash/fnv"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"

	"plinth/pipeline/inventory"
	"plinth/pipeline/ranking"
)

func init() {
	beam.RegisterDoFn(&scoutFn{})
	beam.RegisterDoFn(&twinsFn{})
}

// scoutFn reads a shard before it is assessed, for facts about the whole stock: the place of
// every id, and a sample of the keys.
type scoutFn struct{ Job job }

// scouted is the number of buildings in a batch that are assessed for their keys, and of
// rejects that are sampled (judgement): one in 128 of the usual shard of 8192 rows.
const scouted = 64

// ProcessElement emits the ids of a shard in blocks, ids with one hash under one number, and
// for each lane the keys of some rows.
func (f *scoutFn) ProcessElement(ctx context.Context, s shard, ids func(int, []byte),
	keys func(int, draw)) error {
	run, err := openRun(f.Job.Plan)
	if err != nil {
		return err
	}
	blocks := newGatherer(f.Job.Ranges, f.Job.Memory, ids)
	drawn := make([]draw, laneCount(run))
	screener := newScreener(run, &f.Job, s.Register, func(lane int, key, _ []byte) {
		drawn[lane].Keys = append(drawn[lane].Keys, append([]byte(nil), key...))
	})
	at := seat{Register: s.Register, Offset: s.Mark.Offset}
	err = s.each(ctx, run, &f.Job, func(r *inventory.Reader, b *inventory.Batch) error {
		for i := range b.Buildings {
			at.Line = b.Buildings[i].Line
			f.add(blocks, b.Buildings[i].ID, &at)
			at.Nth++
		}
		for i := 0; i < len(b.Buildings); i += 1 + (len(b.Buildings)-1)/scouted {
			twin := r.Duplicate(&b.Buildings[i], b.Buildings[i].Line, "") // any of them may be a duplicate
			if err := errors.Join(screener.Building(&b.Buildings[i]), screener.Reject(&twin)); err != nil {
				return err
			}
		}
		for i := 0; i < len(b.Rejects); i += 1 + (len(b.Rejects)-1)/scouted {
			if err := screener.Reject(&b.Rejects[i]); err != nil {
				return err
			}
		}
		return nil
	})
	blocks.flushAll()
	for lane, d := range drawn {
		keys(lane, d)
	}
	return err
}

// add adds an id to the block of its hash. Its key orders by id, then by seat from the first
// on.
func (f *scoutFn) add(to *gatherer, id string, at *seat) {
	h := fnv.New32a()
	h.Write([]byte(id))
	to.add(int(h.Sum32()%uint32(f.Job.Ranges)), at.append(ranking.AppendString(nil, id)), nil)
}

// seat is the position of a building in the registers.
type seat struct {
	Register int
	Offset   int64 // of the shard
	Nth      int   // index of the building in the shard
	Line     int
}

// seatSize is the size in bytes of a seat in a key.
const seatSize = 4 * 8

func (s *seat) append(key []byte) []byte {
	for _, v := range [...]int64{int64(s.Register), s.Offset, int64(s.Nth), int64(s.Line)} {
		key = binary.BigEndian.AppendUint64(key, uint64(v)) // none is negative
	}
	return key
}

// seatIn returns the id of a key, as a slice of it, and the seat.
func seatIn(key []byte) (id []byte, s seat) {
	id, key = key[:len(key)-seatSize], key[len(key)-seatSize:]
	at := func(i int) int64 { return int64(binary.BigEndian.Uint64(key[8*i:])) }
	return id, seat{int(at(0)), at(1), int(at(2)), int(at(3))}
}

// twin is a building whose id was used before, with the place of the first.
type twin struct {
	Nth      int // index of the building in its shard
	Register int // of the first
	Line     int // of the first
}

// twinsFn finds all buildings of one id except the first.
type twinsFn struct{ Job job }

// ProcessElement sorts the ids of one number and emits twins under their shard.
func (f *twinsFn) ProcessElement(_ int, blocks func(*[]byte) bool, emit func(string, twin)) error {
	var last []byte // previous id
	var first seat
	return sorted(f.Job.Memory, blocks, func(key, _ []byte) error {
		id, s := seatIn(key)
		if !bytes.Equal(id, last) {
			last, first = append(last[:0], id...), s
			return nil
		}
		emit(shardName(s.Register, s.Offset), twin{s.Nth, first.Register, first.Line})
		return nil
	})
}
