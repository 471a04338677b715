package extsort

import (
	"bytes"
	"cmp"
	"encoding/binary"
	"slices"
)

// records holds records in memory.
type records struct {
	blocks  [][]byte // bytes of the records, key then payload; no record is ever moved
	block   int      // index of the block being filled
	entries []entry
	held    int64 // bytes of blocks and entries
	limit   int64 // of held, about
}

// An entry says where one record is in the blocks. It also holds the first bytes of the key, which
// decide most comparisons without a look at the record.
type entry struct {
	prefix          uint64
	block, offset   uint32
	keyLen, dataLen uint32
}

const entrySize = 24 // bytes of an entry

// full reports whether a record of size bytes would exceed the limit. Empty records are never full.
func (r *records) full(size int) bool {
	more := r.grows(size)
	return more > 0 && r.held+more > r.limit && len(r.entries) > 0
}

// grows returns the number of bytes by which a record of size bytes would grow r.
func (r *records) grows(size int) int64 {
	var more int64
	if len(r.entries) == cap(r.entries) {
		more = int64(cap(r.entries)+1) * entrySize // append keeps old and new for a moment
	}
	for _, b := range r.blocks[min(r.block, len(r.blocks)):] {
		if cap(b)-len(b) >= size {
			return more
		}
	}
	return more + int64(max(size, r.blockSize()))
}

// add copies a record into r.
func (r *records) add(key, payload []byte) {
	b := r.room(len(key) + len(payload))
	e := entry{prefix(key), uint32(r.block), uint32(len(*b)), uint32(len(key)), uint32(len(payload))}
	*b = append(append(*b, key...), payload...)
	if len(r.entries) == cap(r.entries) {
		r.held -= int64(cap(r.entries)) * entrySize
		r.entries = slices.Grow(r.entries, 1)
		r.held += int64(cap(r.entries)) * entrySize
	}
	r.entries = append(r.entries, e)
}

// blockSize returns the size of a new block in bytes. A larger record gets a block of its own size.
func (r *records) blockSize() int { return int(min(1<<20, max(r.limit/8, 512))) }

// room returns a block with room for size bytes, a new one if none has it.
func (r *records) room(size int) *[]byte {
	for ; r.block < len(r.blocks); r.block++ {
		b := &r.blocks[r.block]
		if cap(*b)-len(*b) >= size {
			return b
		}
	}
	r.blocks = append(r.blocks, make([]byte, 0, max(size, r.blockSize())))
	r.held += int64(cap(r.blocks[r.block]))
	return &r.blocks[r.block]
}

// at returns the record of entry i.
func (r *records) at(i int) (key, payload []byte) { return r.of(&r.entries[i]) }

// of returns the record of an entry.
func (r *records) of(e *entry) (key, payload []byte) {
	b := r.blocks[e.block][e.offset:]
	return b[:e.keyLen], b[e.keyLen : e.keyLen+e.dataLen]
}

// sort puts the entries in the order of their records.
func (r *records) sort() {
	slices.SortFunc(r.entries, func(a, b entry) int {
		if a.prefix != b.prefix {
			return cmp.Compare(a.prefix, b.prefix)
		}
		ka, pa := r.of(&a)
		kb, pb := r.of(&b)
		return compareRecords(ka, pa, kb, pb)
	})
}

// clear removes all records. It keeps the storage for the next ones, except for that of large records.
func (r *records) clear() {
	r.entries, r.block = r.entries[:0], 0
	r.blocks = slices.DeleteFunc(r.blocks, func(b []byte) bool { return cap(b) > r.blockSize() })
	r.held = int64(cap(r.entries)) * entrySize
	for i := range r.blocks {
		r.blocks[i] = r.blocks[i][:0]
		r.held += int64(cap(r.blocks[i]))
	}
}

// prefix returns the first eight bytes of a key as a number. The numbers are in the order of the
// keys. Short keys are filled with zeros.
func prefix(key []byte) uint64 {
	if len(key) >= 8 {
		return binary.BigEndian.Uint64(key)
	}
	var b [8]byte
	copy(b[:], key)
	return binary.BigEndian.Uint64(b[:])
}

// compareRecords orders records by key, then by payload.
func compareRecords(keyA, payloadA, keyB, payloadB []byte) int {
	if c := bytes.Compare(keyA, keyB); c != 0 {
		return c
	}
	return bytes.Compare(payloadA, payloadB)
}
