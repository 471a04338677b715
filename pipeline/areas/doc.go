// Package areas adds up the buildings of a run by the owner's groups or by the cells of a grid, and
// joins areas of few buildings so that none of them can be read off. Memory grows with the number
// of areas, not with that of buildings.
package areas
