package main

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"hash/fnv"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"

	"plinth/pipeline/extsort"
	"plinth/pipeline/inventory"
)

func init() {
	beam.RegisterDoFn(&scoutFn{})
	beam.RegisterDoFn(&twinsFn{})
}

// scoutFn reads a stretch before it is assessed. It finds what must be known of the whole stock
// first: where every id stands, and a sample of the keys that there will be.
type scoutFn struct{ Job job }

// scouted is the number of buildings of a batch that are assessed for the sample of keys, and of
// rejects that are looked at: one in 128 of the usual stretch of 8192 rows (judgement).
const scouted = 64

// ProcessElement emits the ids of a stretch in blocks. Ids of one hash go under one number. It also
// emits the keys of some rows for each lane.
func (f *scoutFn) ProcessElement(ctx context.Context, s stretch, ids func(int, []byte), keys func(int, draw)) error {
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
			twin := r.Duplicate(&b.Buildings[i], b.Buildings[i].Line, "") // any building may turn out to be one
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

// add adds an id to the block of its hash. Sorted by their keys, records come id by id, and the
// seats of one id in the order of the registers.
func (f *scoutFn) add(to *gatherer, id string, at *seat) {
	h := fnv.New32a()
	h.Write([]byte(id))
	to.add(int(h.Sum32()%uint32(f.Job.Ranges)), at.append(extsort.AppendString(nil, id)), nil)
}

// A seat is the place of a building in the registers.
type seat struct {
	Register int
	Offset   int64 // of the stretch
	Nth      int   // building of the stretch
	Line     int
}

// seatSize is the number of bytes of a seat in a key.
const seatSize = 4 * 8

func (s *seat) append(key []byte) []byte {
	for _, v := range [...]int64{int64(s.Register), s.Offset, int64(s.Nth), int64(s.Line)} {
		key = binary.BigEndian.AppendUint64(key, uint64(v)) // none is negative
	}
	return key
}

// seatIn returns the id in a key, as it is encoded there, and the seat.
func seatIn(key []byte) (id []byte, s seat) {
	id, key = key[:len(key)-seatSize], key[len(key)-seatSize:]
	at := func(i int) int64 { return int64(binary.BigEndian.Uint64(key[8*i:])) }
	return id, seat{int(at(0)), at(1), int(at(2)), int(at(3))}
}

// A twin is a building whose id was used before, with the place of the first use.
type twin struct {
	Nth      int // building of its stretch
	Register int // of the first
	Line     int // of the first
}

// twinsFn finds every building but the first of each id.
type twinsFn struct{ Job job }

// ProcessElement sorts the ids of one number. It emits each twin under its stretch.
func (f *twinsFn) ProcessElement(_ int, blocks func(*[]byte) bool, emit func(string, twin)) error {
	var last []byte // id
	var first seat
	return sorted(f.Job.Memory, blocks, func(key, _ []byte) error {
		id, s := seatIn(key)
		if !bytes.Equal(id, last) {
			last, first = append(last[:0], id...), s
			return nil
		}
		emit(stretchName(s.Register, s.Offset), twin{s.Nth, first.Register, first.Line})
		return nil
	})
}
