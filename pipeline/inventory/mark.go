package inventory

import "plinth/pipeline/inventory/source"

// A Mark is a place between two rows of a register, from which another reader can
// go on.
type Mark source.Place

// Mark returns the place of the rows that Next reads next. ok is false in formats
// that are read from the start only: those other than CSV, and CSV from an input
// that cannot seek.
func (r *Reader) Mark() (m Mark, ok bool) {
	p, ok := source.PlaceOf(r.source)
	return Mark(p), ok
}

// GoTo makes Next go on from a place that Mark returned for the same file. It
// panics in a format without marks.
func (r *Reader) GoTo(m Mark) error {
	r.end = nil
	return source.GoTo(r.source, source.Place(m))
}
