// Package inspect finds which unknown fields of which buildings are worth finding out
// before anything is chosen, and groups those buildings into visits.
package inspect
