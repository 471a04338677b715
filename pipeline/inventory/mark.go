package inventory

import "plinth/pipeline/inventory/source"

// A Mark is a place between two rows of a register, from which another reader can
// go on.
type Mark source.Place

// Mark returns the place of the rows that Next reads next. ok is false if the register can be read from
// its start only: in formats other than CSV, and in CSV from an input that cannot seek.
func (r *Reader) Mark() (m Mark, ok bool) {
	p, ok := source.PlaceOf(r.source)
	return Mark(p), ok
}

// GoTo lets Next continue at a place that Mark returned for the same file. It panics in a format without
// marks.
func (r *Reader) GoTo(m Mark) error {
	r.end = nil
	return source.GoTo(r.source, source.Place(m))
}
