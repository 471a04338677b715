// Package confidence computes how sure a rank is. It draws everything uncertain of every building
// many times and ranks the stock in each draw. The ranks give an interval, the frequency with which
// a building is among the first, the frequency with which its best measure stays the best, and the
// buildings that cannot be told apart.
//
// A building enters as a Response: the logarithms of its annual values at nodes of each uncertain
// input. Values at any draw are interpolated from them. Errors that all buildings share (the
// hazard, the strength of a region's buildings, prices) are drawn once a draw for the whole stock.
// Intervals are then neither too narrow where such errors cancel, nor too wide where they move all
// buildings alike. Every other number is drawn from the seed and the building's id alone. Neither
// the order of the buildings nor the number of workers changes a digit.
package confidence
