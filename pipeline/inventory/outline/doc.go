// Package outline measures the outlines of buildings on the ground: the sides of the
// rectangle around one, and the clear distance from each to its nearest neighbour.
//
// It knows longitude and latitude in degrees and the rows that outlines belong to, and
// nothing of registers.
package outline
