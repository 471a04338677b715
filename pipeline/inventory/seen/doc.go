// Package seen remembers the ids and the places of millions of buildings, so that a second
// one of either is noticed. Each takes 20 bytes over the load of its table.
package seen
