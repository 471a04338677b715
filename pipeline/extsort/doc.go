// Package extsort sorts records that do not fit into memory, in files on disk. A record is a key and
// a payload, both bytes. Records come back in an order that depends on their set alone: not on the
// order in which they were added, nor on the goroutines that added them. Sorted runs can be saved,
// and another process can restore them.
//
// The Append functions build keys. The order of such keys as bytes is the order of the numbers and
// texts that they were made of.
//
// The package knows nothing of buildings or ranks. It is not internal, because cmd/plinth-beam, a
// module of its own, sorts with it too.
package extsort
