// Package extsort sorts records outside memory: a record is a key and a payload, both
// bytes, and what comes back depends on the set of records alone, not on the order or
// the goroutines they were added by. Sorted runs can be saved and taken up by another
// process. The Append functions build keys whose order as bytes is the order of the
// numbers and texts they are made of.
//
// The package knows nothing of buildings or ranks. It is no internal package since
// cmd/plinth-beam, a module of its own, sorts with it too.
package extsort
