// Package archetypes turns what a register says of a building (structural
// system, storeys, year, region) into what a calculation needs: a period, a
// strength, limits of drift, a weight, each with its dispersion and source, and
// a stick model with its modes. Its tables are embedded CSV files in which every
// row names its source.
//
// A building goes one way: a Description is assigned an Archetype from Tables
// (Assign), and the Archetype builds a Stick (Build). Neither allocates once its
// storage has grown.
//
// An archetype is a typical building of its kind, not the building: it serves to
// screen a stock and says nothing of whether one building is safe.
//
// SI units: kg, m, s, N. Weights are per floor area in kPa in the tables.
package archetypes
