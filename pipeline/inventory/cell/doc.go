// Package cell reads the cells of registers: numbers, units, years and counts of storeys
// as people write them, and words in any case.
//
// A cell comes as text and goes as a value with its Notes, or as not read. Nothing is
// guessed: what may mean two things is not read. The package knows nothing of the column
// that a cell stands in, nor of what becomes of the value.
package cell
