// Package confidence says how sure a rank is. It draws what is uncertain of every
// building many times, ranks the stock in each draw, and reads from the ranks an
// interval, how often a building is among the first, how often its best measure
// stays best, and which buildings cannot be told apart.
//
// A building enters as a Response: the logarithms of its annual values at nodes of
// each uncertain input, from which values at any draw are interpolated. Errors that
// all buildings share (the hazard, the strength of a region's buildings, prices)
// are drawn once a draw for the whole stock, so that intervals are not falsely
// narrow where they cancel nor falsely wide where they move all alike. Every other
// number is drawn from the seed and the building's id alone: neither the order of
// the buildings nor the number of workers changes a digit.
package confidence
