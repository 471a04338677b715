package output

import (
	"encoding/binary"
	"math/bits"
)

// A series turns the values of one leaf into pages. A row group begins with a dictionary, and its
// pages then hold places in the dictionary. A dictionary that grows too long is abandoned, and the
// pages that follow hold the values themselves. The decision depends only on the rows, so that
// equal rows give equal bytes.
type series[R any] interface {
	add(row *R) (full bool)                     // the page should be ended
	page(b []byte) (body, pageHead)             // ends the page
	end(b []byte) (_ body, words int, of stats) // ends the row group
}

// A body holds the bytes of a page before compression.
type body []byte

// A pageHead holds what the header of a page says of its body.
type pageHead struct{ rows, nulls, encoding int }

// The encodings of a page's values.
const (
	plain = iota
	places
)

// Limits of a series. The first decides how well and how fast a page is compressed and read. The
// others abandon a dictionary that saves little (judgement).
const (
	pageBytes     = 128 << 10
	pageRows      = 16 << 10
	alwaysWords   = 1 << 10 // words of a dictionary that any leaf may have
	mostWords     = 8 << 10
	valuesPerWord = 8 // beyond alwaysWords, uses that a word must have on average
)

type typedSeries[R any, T comparable] struct {
	optional bool
	get      func(*R) (T, bool)
	put      func([]byte, T) []byte // appends a value; nil for the bits of a bool
	count    func(*stats, T)

	seen   stats // of the row group
	values int   // of the row group

	words   []T // the dictionary
	placeOf map[T]int32
	given   bool // the dictionary is abandoned for this row group
	last    T
	place   int32 // place of last in the dictionary, below 0 for none

	rows, nulls int    // of the page
	levels      []byte // of the page, 1 for a value and 0 for a null
	places      []int32
	plain       []byte
	code        []byte // scratch
}

// newSeries returns a function that starts a series of the values that get returns.
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

// look returns the place of v in the dictionary. It adds v to the dictionary, or abandons the
// dictionary, if v is new.
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

// giveUp replaces the places that the page holds by the values themselves.
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

// page appends the body of the page to b. If there are levels, their length and run lengths come
// first. The values follow, or the bits of a place and the run lengths of the places (Parquet
// format, Encodings: RLE, PLAIN, RLE_DICTIONARY).
func (s *typedSeries[R, T]) page(b []byte) (body, pageHead) {
	if s.optional {
		s.code = appendRuns(s.code[:0], s.levels, 1)
		b = append(binary.LittleEndian.AppendUint32(b, uint32(len(s.code))), s.code...)
	}
	p := pageHead{s.rows, s.nulls, plain}
	s.given = s.given || len(s.words) == 0 // a page of nulls alone has no dictionary
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

// end ends a row group after its last page. It appends the words of the dictionary to b, returns
// their number and the statistics, and resets the series. Bools have no dictionary.
func (s *typedSeries[R, T]) end(b []byte) (body, int, stats) {
	for _, v := range s.words {
		b = s.put(b, v)
	}
	words, seen := len(s.words), s.seen
	clear(s.placeOf)
	s.words, s.place, s.seen, s.values, s.given = s.words[:0], -1, stats{}, 0, s.put == nil
	return b, words, seen
}
