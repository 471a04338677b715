package seen

import "math/bits"

// A Ledger finds values by keys of 64 bits that are not 0: an open-addressed table,
// made for millions of entries that are never removed. A key may be entered more than
// once. An entry takes 8 bytes and its value, over a load of 0.68 to 0.85.
type Ledger[V any] struct {
	keys   []uint64 // 0 for an empty slot
	values []V
	n      int
}

// A ledger grows by a quarter once 85 in 100 slots are full: little more than it
// needs, at the cost of moving an entry about five times.
const (
	ledgerFull  = 0.85
	ledgerGrown = 1.25
	ledgerLeast = 64
)

// seek returns the first slot that may hold a key; next the one behind a slot. A
// search ends at an empty one.
func (l *Ledger[V]) seek(key uint64) int {
	if len(l.keys) == 0 {
		l.resize(ledgerLeast)
	}
	// The finalizer of MurmurHash3 spreads keys that differ in few bits.
	key ^= key >> 33
	key *= 0xff51afd7ed558ccd
	key ^= key >> 33
	key *= 0xc4ceb9fe1a85ec53
	key ^= key >> 33
	i, _ := bits.Mul64(key, uint64(len(l.keys)))
	return int(i)
}

func (l *Ledger[V]) next(i int) int {
	if i++; i < len(l.keys) {
		return i
	}
	return 0
}

// Find returns the first entry of a key, nil if there is none.
func (l *Ledger[V]) Find(key uint64) *V {
	for i := l.seek(key); l.keys[i] != 0; i = l.next(i) {
		if l.keys[i] == key {
			return &l.values[i]
		}
	}
	return nil
}

// Enter adds an entry.
func (l *Ledger[V]) Enter(key uint64, v V) {
	if float64(l.n) >= ledgerFull*float64(len(l.keys)) {
		l.resize(max(ledgerLeast, int(ledgerGrown*float64(len(l.keys)))))
	}
	i := l.seek(key)
	for l.keys[i] != 0 {
		i = l.next(i)
	}
	l.keys[i], l.values[i] = key, v
	l.n++
}

func (l *Ledger[V]) resize(slots int) {
	old := *l
	*l = Ledger[V]{keys: make([]uint64, slots), values: make([]V, slots)}
	for i, key := range old.keys {
		if key != 0 {
			l.Enter(key, old.values[i])
		}
	}
}
