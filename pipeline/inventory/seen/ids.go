package seen

import (
	"hash/maphash"
	"unicode"
)

// A seenID is an id that was admitted: 64 bits of its whole text and its line. It
// stands in a ledger under 64 bits of its letters and digits.
type seenID struct {
	high, low uint32
	line      int32
}

// An IDs remembers ids as 128 bits: two different ids are taken for one if both
// their hashes are equal. Among 10 million ids that is to be expected once in 10^24
// registers; among a million pairs that differ in case and punctuation only, once in
// 10^13. The second hash is seeded anew in every process, so that no register can be
// made to do it.
type IDs struct {
	seed maphash.Seed
	seen Ledger[seenID]
}

// Init makes the set ready for a register.
func (s *IDs) Init() { s.seed = maphash.MakeSeed() }

// Add enters an id seen on a line. If it was there before, same is the line it was
// first seen on and it is not entered again; otherwise alike is that of the first id
// that differs from it in case and punctuation only. 0 is none.
func (s *IDs) Add(id string, line int) (same, alike int) {
	whole := maphash.String(s.seed, id)
	letters, ok := lettersAndDigits(id)
	if !ok {
		letters = max(1, whole) // signs only are alike to nothing
	}
	e := seenID{uint32(whole >> 32), uint32(whole), int32(line)}
	for i := s.seen.seek(letters); s.seen.keys[i] != 0; i = s.seen.next(i) {
		if s.seen.keys[i] != letters {
			continue
		}
		v := &s.seen.values[i]
		if v.high == e.high && v.low == e.low {
			return int(v.line), 0
		}
		if alike == 0 || int(v.line) < alike {
			alike = int(v.line)
		}
	}
	s.seen.Enter(letters, e)
	return 0, alike
}

// lettersAndDigits returns a hash, not 0, of the letters and digits of an id in lower
// case; ok is false if it has none.
func lettersAndDigits(id string) (hash uint64, ok bool) {
	const start, prime = 14695981039346656037, 1099511628211 // FNV-1a
	hash = start
	for _, r := range id {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			hash = (hash ^ uint64(unicode.ToLower(r))) * prime
			ok = true
		}
	}
	return max(1, hash), ok
}

// Alike reports whether two ids differ in case and punctuation only.
func Alike(a, b string) bool {
	x, some := lettersAndDigits(a)
	y, _ := lettersAndDigits(b)
	return some && x == y
}
