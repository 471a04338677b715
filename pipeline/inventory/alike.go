package inventory

import "plinth/pipeline/inventory/seen"

// Alike reports whether two ids differ in case and punctuation only.
func Alike(a, b string) bool { return seen.Alike(a, b) }
