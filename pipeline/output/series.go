package output

import (
	"encoding/binary"
	"math/bits"
)

// A series is the values of one leaf on their way into pages. Row groups are begun
// with a dictionary: a page then holds places in it. One that grows too long is given
// up, and the pages that follow hold the values themselves. What decides is the rows
// alone, so that equal rows give equal bytes.
type series[R any] interface {
	add(row *R) (full bool)                     // the page should be ended
	page(b []byte) (body, pageHead)             // ends the page
	end(b []byte) (_ body, words int, of stats) // ends the row group
}

// A body is the bytes of a page before compression.
type body []byte

// A pageHead is what a page's header says of its body.
type pageHead struct{ rows, nulls, encoding int }

// The encodings of a page's values.
const (
	plain = iota
	places
)

// Limits of a series. The first decides how well and how fast a page is compressed and
// read; the others end a dictionary that saves little (judgement).
const (
	pageBytes     = 128 << 10
	pageRows      = 16 << 10
	alwaysWords   = 1 << 10 // words of a dictionary that any leaf may have
	mostWords     = 8 << 10
	valuesPerWord = 8 // beyond alwaysWords a word must have stood so often
)

type typedSeries[R any, T comparable] struct {
	optional bool
	get      func(*R) (T, bool)
	put      func([]byte, T) []byte // plainly; nil for the bits of a bool
	count    func(*stats, T)

	seen   stats // of the row group
	values int   // of the row group

	words   []T // the dictionary
	placeOf map[T]int32
	given   bool // up, in this row group
	last    T
	place   int32 // of last, below 0 for none

	rows, nulls int    // of the page
	levels      []byte // of the page, 1 for a value and 0 for a null
	places      []int32
	plain       []byte
	code        []byte // scratch
}

// newSeries returns how a series begins whose values are those of get.
func newSeries[R any, T comparable](optional bool, get func(*R) (T, bool), put func([]byte, T) []byte,
	count func(*stats, T)) func() series[R] {
	return func() series[R] {
		s := &typedSeries[R, T]{optional: optional, get: get, put: put, count: count, placeOf: make(map[T]int32)}
		s.end(nil)
		return s
	}
}

func (s *typedSeries[R, T]) add(row *R) bool {
	v, ok := s.get(row)
	s.rows++
	if s.optional {
		s.levels = append(s.levels, boolByte(ok))
	}
	if !ok {
		s.nulls++
		return s.rows >= pageRows
	}
	s.values++
	if !s.given {
		if s.place < 0 || v != s.last {
			s.look(v)
		}
		if !s.given {
			s.places = append(s.places, s.place)
			return s.rows >= pageRows
		}
	}
	s.count(&s.seen, v)
	s.putPlain(v)
	return s.rows >= pageRows || len(s.plain) >= pageBytes
}

// look finds the place of v in the dictionary, gives it one, or gives the dictionary up.
func (s *typedSeries[R, T]) look(v T) {
	i, ok := s.placeOf[v]
	if !ok {
		if n := len(s.words); n >= alwaysWords && (n >= mostWords || n > s.values/valuesPerWord) {
			s.giveUp()
			return
		}
		i = int32(len(s.words))
		s.words, s.placeOf[v] = append(s.words, v), i
		s.count(&s.seen, v)
	}
	s.last, s.place = v, i
}

// giveUp puts the values of the page in place of their places.
func (s *typedSeries[R, T]) giveUp() {
	s.given = true
	for _, i := range s.places {
		s.putPlain(s.words[i])
	}
	s.places = s.places[:0]
}

func (s *typedSeries[R, T]) putPlain(v T) {
	if s.put != nil {
		s.plain = s.put(s.plain, v)
	} else {
		s.plain = append(s.plain, boolByte(any(v).(bool)))
	}
}

// page appends the body of the page to b: with levels, their length and run lengths;
// then the values, or the bits of a place and the run lengths of the places (Parquet
// format, Encodings: RLE, PLAIN, RLE_DICTIONARY).
func (s *typedSeries[R, T]) page(b []byte) (body, pageHead) {
	if s.optional {
		s.code = appendRuns(s.code[:0], s.levels, 1)
		b = append(binary.LittleEndian.AppendUint32(b, uint32(len(s.code))), s.code...)
	}
	p := pageHead{s.rows, s.nulls, plain}
	s.given = s.given || len(s.words) == 0 // nulls alone
	switch {
	case !s.given:
		width := bits.Len(uint(max(len(s.words)-1, 1)))
		b, p.encoding = appendRuns(append(b, byte(width)), s.places, width), places
	case s.put != nil:
		b = append(b, s.plain...)
	default:
		b = appendBits(b, s.plain)
	}
	s.rows, s.nulls, s.levels, s.places, s.plain = 0, 0, s.levels[:0], s.places[:0], s.plain[:0]
	return b, p
}

// appendBits appends zeros and ones, eight to a byte, the first lowest.
func appendBits(b, bits []byte) []byte {
	for i, v := range bits {
		if i%8 == 0 {
			b = append(b, 0)
		}
		b[len(b)-1] |= v << (i % 8)
	}
	return b
}

// end ends a row group after its last page: it appends the words of the dictionary to b,
// returns how many there are and what was counted, and is as new. Bools have no
// dictionary.
func (s *typedSeries[R, T]) end(b []byte) (body, int, stats) {
	for _, v := range s.words {
		b = s.put(b, v)
	}
	words, seen := len(s.words), s.seen
	clear(s.placeOf)
	s.words, s.place, s.seen, s.values, s.given = s.words[:0], -1, stats{}, 0, s.put == nil
	return b, words, seen
}
