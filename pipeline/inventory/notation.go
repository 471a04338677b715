package inventory

import (
	"fmt"

	"plinth/pipeline/inventory/cell"
)

// readStoreys reads a number of storeys in a notation such as 4+1. If a cell holds a number that cannot
// be read, the row is rejected in the end: no other field may stand in for it.
func (w *row) readStoreys(c *column, s, raw string) {
	got, ok := cell.ParseStoreys(s)
	f := c.field
	switch {
	case f == StoreysBelow && (!ok || got.Above > 0 || !f.Spec().holds(float64(got.Below))):
		w.note(NotANumber, c.header, raw, "")
		return
	case f == StoreysBelow:
		w.num[f] = float64(got.Below)
		w.set(f, Given, byNotation)
	case !ok || !f.Spec().holds(float64(got.Above)) || float64(got.Below) > StoreysBelow.Spec().Max:
		if cell.SaysNumber(s) {
			w.unread = f
		} else {
			w.note(NotANumber, c.header, raw, "")
		}
		return
	default:
		w.notation(f, got)
	}
	w.note(StoreysNotation, c.header, raw, got.String())
	if got.Span {
		w.note(Approximate, c.header, raw, fmt.Sprint(got.Above))
		w.set(f, Assumed, byDoubtful)
	}
}

// notation sets the storeys above ground, or those in all, and the storeys below if the cell has them.
func (w *row) notation(f Field, got cell.Storeys) {
	w.num[f] = float64(got.Above)
	if f == StoreysTotal {
		w.num[f] += float64(max(got.Below, 0))
	}
	w.set(f, Given, byNotation)
	if got.Below < 0 || w.known(StoreysBelow) {
		return
	}
	w.num[StoreysBelow] = float64(got.Below)
	w.set(StoreysBelow, Given, byNotation)
	if w.m.of[StoreysBelow] < 0 {
		w.b.given[StoreysBelow]++
	}
}
