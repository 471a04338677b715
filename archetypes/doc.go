// Package archetypes converts the register's facts of a building (structural system, storeys,
// year, region) to the values of a calculation: period, strength, drift limits and weight, each
// with its dispersion and source, and a stick model with its modes. Its tables are embedded CSV
// files in which every row names its source.
//
// The steps for a building are: Tables.Assign fills an Archetype from a Description, and
// Archetype.Build fills a Stick. Neither allocates once its storage has grown.
//
// An archetype is a typical building of its kind, not the building itself: it serves to screen
// a stock and says nothing about the safety of one building.
//
// SI units: kg, m, s, N. Weights in the tables are in kPa, per floor area.
package archetypes
