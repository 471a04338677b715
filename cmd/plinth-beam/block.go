package main

import (
	"encoding/binary"
	"errors"

	"github.com/klauspost/compress/s2"

	"plinth/pipeline/extsort"
)

// Records travel in blocks, since a runner takes some time for each element that it moves, however
// small. A block is compressed. It holds records one after the other: the length and bytes of a
// key, then the length and bytes of a row.

// fullBlock is the size in bytes, before compression, at which a block is sent.
const fullBlock = 1 << 20

// A gatherer fills a block for each part. It emits a block that is full, and all blocks when they
// hold more bytes together than it has room for.
type gatherer struct {
	blocks [][]byte // by part
	held   int64    // bytes in all of them
	room   int64    // bytes that may be held
	emit   func(part int, block []byte)
}

func newGatherer(parts int, room int64, emit func(part int, block []byte)) *gatherer {
	return &gatherer{blocks: make([][]byte, parts), room: room, emit: emit}
}

// add adds a record to the block of a part.
func (g *gatherer) add(part int, key, row []byte) {
	b := g.blocks[part]
	size := len(b)
	b = append(binary.AppendUvarint(b, uint64(len(key))), key...)
	b = append(binary.AppendUvarint(b, uint64(len(row))), row...)
	g.blocks[part] = b
	if g.held += int64(len(b) - size); len(b) >= fullBlock {
		g.flush(part)
	}
	if g.held >= g.room {
		g.flushAll()
	}
}

// flush emits the block of a part.
func (g *gatherer) flush(part int) {
	b := g.blocks[part]
	if len(b) == 0 {
		return
	}
	g.held -= int64(len(b))
	g.blocks[part] = nil
	g.emit(part, s2.Encode(nil, b))
}

func (g *gatherer) flushAll() {
	for part := range g.blocks {
		g.flush(part)
	}
}

var errDamagedBlock = errors.New("plinth-beam: a block of rows is damaged or cut short; run again")

// cut splits b, which begins with a length, into as many bytes and the rest.
func cut(b []byte) (front, rest []byte, err error) {
	n, k := binary.Uvarint(b)
	if k <= 0 || n > uint64(len(b)-k) {
		return nil, nil, errDamagedBlock
	}
	return b[k : k+int(n)], b[k+int(n):], nil
}

// eachRecord calls see with every record of a block, in the order of the block.
func eachRecord(b []byte, see func(key, row []byte) error) error {
	for len(b) > 0 {
		key, rest, err := cut(b)
		if err != nil {
			return err
		}
		row, rest, err := cut(rest)
		if err != nil {
			return err
		}
		if err := see(key, row); err != nil {
			return err
		}
		b = rest
	}
	return nil
}

// sorted calls see with the records of all blocks in the order of their keys. Records of equal keys
// come in the order of their rows. What does not fit into memory is sorted on disk.
func sorted(memory int64, blocks func(*[]byte) bool, see func(key, row []byte) error) error {
	sorter := extsort.NewSorter(extsort.Options{Memory: memory})
	defer sorter.Close()
	var block, plain []byte
	for blocks(&block) {
		var err error
		if plain, err = s2.Decode(plain[:cap(plain)], block); err != nil {
			return errDamagedBlock
		}
		if err := eachRecord(plain, sorter.Add); err != nil {
			return err
		}
	}
	all, err := sorter.Sorted()
	if err != nil {
		return err
	}
	for all.Next() {
		if err := see(all.Key(), all.Payload()); err != nil {
			return err
		}
	}
	return all.Err()
}
