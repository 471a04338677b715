// Package confirm takes the first buildings of a stock through nonlinear time histories, as
// they stand and with their best measures, and ranks them again by the scores that follow.
//
// Results are kept building by building in a resume file, so that a confirmation that ends
// early goes on where it was.
package confirm
